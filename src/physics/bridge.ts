import { requireFinite, requireLength, requirePositive, requireRange } from './domain.ts';
import { GRAVITY } from './units.ts';

/**
 * Weight of a round strand, N for each metre: rho g pi d^2 / 4.
 * @param densityKgM3 density, kg/m3; above 0
 * @param diameterMm strand diameter, mm; above 0
 * Valid: round strands. Source: derived. Agreement: exact (g 9.81 m/s2).
 */
export function strandWeightNPerM(densityKgM3: number, diameterMm: number): number {
  requirePositive('densityKgM3', densityKgM3, 'kg/m3');
  requireLength('diameterMm', diameterMm);
  return (densityKgM3 * GRAVITY * Math.PI * (diameterMm * 1e-3) ** 2) / 4;
}

/**
 * Sag of a bridge strand held taut, mm: weight L^2 / (8 tension). Rank only: never show as a number.
 * @param spanMm span, mm; above 0
 * @param weightNPerM weight of the strand, N/m; above 0
 * @param tensionN tension, N; above 0. The hot tension is not known.
 * Valid: sag small against the span. Source: shallow cable, derived. Agreement: exact for small sag; ranks, for want of
 * the tension.
 */
export function tautSagMm(spanMm: number, weightNPerM: number, tensionN: number): number {
  requireLength('spanMm', spanMm);
  requirePositive('weightNPerM', weightNPerM, 'N/m');
  requirePositive('tensionN', tensionN, 'N');
  return requireFinite('tautSagMm', ((weightNPerM * (spanMm * 1e-3) ** 2) / (8 * tensionN)) * 1000, 'mm');
}

/**
 * Sag of a bridge strand laid too long, mm: L sqrt(3 e / 8). Rank only: never show as a number.
 * @param spanMm span, mm; above 0
 * @param extraLengthShare length laid beyond the span, as a share of it; 0 to 0.1
 * Valid: small sag. Source: shallow arc, derived. Agreement: within 1 % of the true arc up to a share of 0.01; the share
 * itself is seldom known.
 */
export function slackSagMm(spanMm: number, extraLengthShare: number): number {
  requireLength('spanMm', spanMm);
  requireRange('extraLengthShare', extraLengthShare, '', 0, 0.1);
  return spanMm * Math.sqrt((3 * extraLengthShare) / 8);
}

function roundBeamSagMm(spanMm: number, weightNPerM: number, modulusGPa: number, diameterMm: number): number {
  requireLength('spanMm', spanMm);
  requirePositive('weightNPerM', weightNPerM, 'N/m');
  requirePositive('modulusGPa', modulusGPa, 'GPa');
  requireLength('diameterMm', diameterMm);
  const inertiaM4 = (Math.PI * (diameterMm * 1e-3) ** 4) / 64;
  const sagM = (weightNPerM * (spanMm * 1e-3) ** 4) / (384 * modulusGPa * 1e9 * inertiaM4);
  return requireFinite('coldSag', sagM * 1000, 'mm');
}

/**
 * Sag of a cold strand whose ends are held fast, mm: w L^4 / (384 E I). Rank only: never show as a number.
 * @param spanMm span, mm; above 0
 * @param weightNPerM weight of the strand, N/m; above 0
 * @param modulusGPa Young's modulus, GPa; above 0
 * @param diameterMm strand diameter, mm; above 0
 * Valid: a solid strand: it shows that a cold bridge does not sag. Source: beam theory, derived. Agreement: exact for
 * sag small against the span.
 */
export function coldClampedSagMm(
  spanMm: number,
  weightNPerM: number,
  modulusGPa: number,
  diameterMm: number,
): number {
  return roundBeamSagMm(spanMm, weightNPerM, modulusGPa, diameterMm);
}

/**
 * Sag of a cold strand that merely rests on its ends, mm: 5 w L^4 / (384 E I). Rank only: never show as a number.
 * @param spanMm span, mm; above 0
 * @param weightNPerM weight of the strand, N/m; above 0
 * @param modulusGPa Young's modulus, GPa; above 0
 * @param diameterMm strand diameter, mm; above 0
 * Valid, source and agreement: as `coldClampedSagMm`.
 */
export function coldSupportedSagMm(
  spanMm: number,
  weightNPerM: number,
  modulusGPa: number,
  diameterMm: number,
): number {
  return 5 * roundBeamSagMm(spanMm, weightNPerM, modulusGPa, diameterMm);
}
