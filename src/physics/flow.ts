import {
  LONGEST_MM,
  requireFinite,
  requireLength,
  requirePositive,
  requireRange,
  requireTemperature,
} from './domain.ts';

/**
 * Volume laid each second, mm3/s: line width x layer height x speed; about 10 % above the round-edged figure.
 * @param lineWidthMm line width, mm; above 0
 * @param layerHeightMm layer height, mm; above 0
 * @param speedMmS print speed, mm/s; above 0
 * Valid: any line. Source: derived. Agreement: exact for a square-edged line.
 */
export function flowMm3PerS(lineWidthMm: number, layerHeightMm: number, speedMmS: number): number {
  requireLength('lineWidthMm', lineWidthMm);
  requireLength('layerHeightMm', layerHeightMm);
  requirePositive('speedMmS', speedMmS, 'mm/s');
  return lineWidthMm * layerHeightMm * speedMmS;
}

/**
 * Volume laid each second by a line with round edges, mm3/s: ((w - h) h + pi h^2 / 4) v.
 * @param lineWidthMm line width, mm; at least the layer height
 * @param layerHeightMm layer height, mm; above 0
 * @param speedMmS print speed, mm/s; above 0
 * Valid: lines at least as wide as high. Source: derived. Agreement: exact for that section.
 */
export function roundEdgedFlowMm3PerS(lineWidthMm: number, layerHeightMm: number, speedMmS: number): number {
  requireLength('layerHeightMm', layerHeightMm);
  requireRange('lineWidthMm', lineWidthMm, 'mm', layerHeightMm, LONGEST_MM);
  requirePositive('speedMmS', speedMmS, 'mm/s');
  const area = (lineWidthMm - layerHeightMm) * layerHeightMm + (Math.PI * layerHeightMm ** 2) / 4;
  return area * speedMmS;
}

/**
 * Highest speed at which a line stays within a flow, mm/s: flow / (w h).
 * @param flow volume each second the hot end can melt, mm3/s; above 0
 * @param lineWidthMm line width, mm; above 0
 * @param layerHeightMm layer height, mm; above 0
 * Valid: any line; inverse of `flowMm3PerS`, so on the safe side by about 10 %. Source: derived. Agreement: exact.
 */
export function speedForFlowMmS(flow: number, lineWidthMm: number, layerHeightMm: number): number {
  requirePositive('flow', flow, 'mm3/s');
  requireLength('lineWidthMm', lineWidthMm);
  requireLength('layerHeightMm', layerHeightMm);
  return requireFinite('speedForFlowMmS', flow / (lineWidthMm * layerHeightMm), 'mm/s');
}

/**
 * Flow at which the core of the filament no longer warms through in the melt zone, mm3/s: pi diffusivity length / Fo.
 * The filament's diameter cancels.
 * @param meltZoneMm length of the melt zone, mm; above 0
 * @param diffusivityM2S thermal diffusivity of the plastic, m2/s; above 0. About 5.8e-8 for PLA.
 * @param fo Fourier number asked for; above 0. 0.334 (default): mean 90 % of the way to the wall's temperature; 0.480:
 *   the centre 90 %.
 * Valid: round filament, one channel. Source: derived; mechanism published, Go, Schiffres, Stevens, Hart 2017.
 * Agreement: +/- 50 %; hot ends in the trade: 5-8 short, 8-12 standard, 18-25 long zone (common practice).
 */
export function meltCapacityMm3PerS(meltZoneMm: number, diffusivityM2S: number, fo = 0.334): number {
  requireLength('meltZoneMm', meltZoneMm);
  requirePositive('diffusivityM2S', diffusivityM2S, 'm2/s');
  requirePositive('fo', fo, '');
  return requireFinite('meltCapacityMm3PerS', (Math.PI * diffusivityM2S * 1e6 * meltZoneMm) / fo, 'mm3/s');
}

/**
 * Heat that goes into the plastic, W: Q rho c (nozzle - air); the rest of the heater's power is loss.
 * @param flow volume melted each second, mm3/s; above 0
 * @param densityKgM3 density, kg/m3; above 0
 * @param specificHeat specific heat, J/(kg K); above 0
 * @param nozzleC nozzle temperature, degC; -60 to 600
 * @param airC temperature the filament comes in at, degC; -60 to nozzleC
 * Valid: amorphous plastics; melting crystals take more. Source: derived. Agreement: exact but for that.
 */
export function heaterPowerW(
  flow: number,
  densityKgM3: number,
  specificHeat: number,
  nozzleC: number,
  airC: number,
): number {
  requirePositive('flow', flow, 'mm3/s');
  requirePositive('densityKgM3', densityKgM3, 'kg/m3');
  requirePositive('specificHeat', specificHeat, 'J/(kg K)');
  requireTemperature('nozzleC', nozzleC);
  requireRange('airC', airC, 'degC', -60, nozzleC);
  return flow * 1e-9 * densityKgM3 * specificHeat * (nozzleC - airC);
}
