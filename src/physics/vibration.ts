import { requireFinite, requireLength, requirePositive, requireRange } from './domain.ts';
import { GRAVITY } from './units.ts';

/**
 * Stiffness of foam or rubber pads, N/m: E A / t.
 * @param modulusMPa modulus of the pad, MPa; above 0. About 0.1 for soft foam (assumption).
 * @param areaMm2 area of all pads together, mm2; above 0
 * @param thicknessMm thickness, mm; above 0
 * Valid: light squeeze. Source: derived. Agreement: exact but for the modulus.
 */
export function padStiffnessNPerM(modulusMPa: number, areaMm2: number, thicknessMm: number): number {
  requirePositive('modulusMPa', modulusMPa, 'MPa');
  requirePositive('areaMm2', areaMm2, 'mm2');
  requireLength('thicknessMm', thicknessMm);
  return requireFinite('padStiffnessNPerM', (modulusMPa * areaMm2 * 1000) / thicknessMm, 'N/m');
}

/**
 * How far pads sink under a weight, mm: m g / k.
 * @param stiffnessNPerM stiffness, N/m; above 0
 * @param massKg printer and slab, kg; above 0
 * Valid: light squeeze. Source: derived. Agreement: exact.
 */
export function staticSagMm(stiffnessNPerM: number, massKg: number): number {
  requirePositive('stiffnessNPerM', stiffnessNPerM, 'N/m');
  requirePositive('massKg', massKg, 'kg');
  return requireFinite('staticSagMm', (massKg * GRAVITY * 1000) / stiffnessNPerM, 'mm');
}

/**
 * Natural frequency of a mass on pads, Hz: sqrt(k / m) / 2 pi.
 * @param stiffnessNPerM stiffness, N/m; above 0
 * @param massKg printer and slab, kg; above 0
 * Valid: one direction, light damping. Source: published textbook, Ogata, System Dynamics. Agreement: exact.
 */
export function naturalFrequencyHz(stiffnessNPerM: number, massKg: number): number {
  requirePositive('stiffnessNPerM', stiffnessNPerM, 'N/m');
  requirePositive('massKg', massKg, 'kg');
  return requireFinite('naturalFrequencyHz', Math.sqrt(stiffnessNPerM / massKg) / (2 * Math.PI), 'Hz');
}

/**
 * Natural frequency from how far the pads sink, Hz: 15.76 / sqrt(sag).
 * @param sagMm static sag under the weight, mm; above 0
 * Valid and source: as `naturalFrequencyHz`, and pads whose stiffness does not change with load. Agreement: exact.
 */
export function naturalFrequencyFromSagHz(sagMm: number): number {
  requireLength('sagMm', sagMm);
  return requireFinite(
    'naturalFrequencyFromSagHz',
    Math.sqrt((GRAVITY * 1000) / sagMm) / (2 * Math.PI),
    'Hz',
  );
}

/**
 * Share of a shake that passes through the pads; below 1 only above 1.414 times the natural frequency.
 * @param frequencyHz frequency of the shake, Hz; 0 to 1e6
 * @param naturalHz natural frequency, Hz; above 0
 * @param damping damping ratio; 0 to 10. Foam 0.1-0.2, rubber 0.05-0.1 (from memory). Not 0 at resonance.
 * Valid: one direction. Isolation quiets the table, not the ringing of the printer's own frame. Source: published
 * textbook, Ogata, System Dynamics. Agreement: exact; only ranks while the stiffness is a guess.
 */
export function transmissibility(frequencyHz: number, naturalHz: number, damping: number): number {
  requireRange('frequencyHz', frequencyHz, 'Hz', 0, 1e6);
  requirePositive('naturalHz', naturalHz, 'Hz');
  requireRange('damping', damping, '', 0, 10);
  const r = frequencyHz / naturalHz;
  const damped = 2 * damping * r;
  return requireFinite('transmissibility', Math.hypot(1, damped) / Math.hypot(1 - r * r, damped), '');
}

/**
 * Turns of direction of a moving bed, per second: speed / (2 x move length). Keep the natural frequency away from it.
 * @param speedMmS print speed, mm/s; above 0
 * @param moveMm length of the back-and-forth move, mm; above 0
 * Valid: steady filling moves. Source: derived. Agreement: exact.
 */
export function swingsPerS(speedMmS: number, moveMm: number): number {
  requirePositive('speedMmS', speedMmS, 'mm/s');
  requireLength('moveMm', moveMm);
  return requireFinite('swingsPerS', speedMmS / (2 * moveMm), '1/s');
}
