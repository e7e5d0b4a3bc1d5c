import {
  LONGEST_MM,
  requireAbove,
  requireFinite,
  requireLength,
  requirePositive,
  requireRange,
} from './domain.ts';
import { ATMOSPHERE_PA, GAS_CONSTANT, ZERO_C_IN_K } from './units.ts';

const WATER_KG_PER_MOL = 0.018015;

/**
 * Plastic that leaks out during a travel move, mm3: leak x travel / travel speed. Rank only: never show as a number.
 * @param leakMm3S leak of the nozzle with the drive at rest, mm3/s; 0 to 1e6
 * @param travelMm length of the travel, mm; 0 to 100 000
 * @param travelSpeedMmS travel speed, mm/s; above 0
 * Valid: a steady leak; the leak itself is seldom known. Source: derived. Agreement: ranks.
 */
export function oozeVolumeMm3(leakMm3S: number, travelMm: number, travelSpeedMmS: number): number {
  requireRange('leakMm3S', leakMm3S, 'mm3/s', 0, 1e6);
  requireRange('travelMm', travelMm, 'mm', 0, LONGEST_MM);
  requirePositive('travelSpeedMmS', travelSpeedMmS, 'mm/s');
  return requireFinite('oozeVolumeMm3', (leakMm3S * travelMm) / travelSpeedMmS, 'mm3');
}

/**
 * Plastic in a string, mm3: pi d^2 L / 4. Rank only: never show as a number; it shows how little ooze makes a hair.
 * @param diameterMm diameter of the string, mm; above 0
 * @param lengthMm length of the string, mm; above 0
 * Valid: round strings. Source: derived. Agreement: exact for a cylinder.
 */
export function stringVolumeMm3(diameterMm: number, lengthMm: number): number {
  requireLength('diameterMm', diameterMm);
  requireLength('lengthMm', lengthMm);
  return (Math.PI * diameterMm ** 2 * lengthMm) / 4;
}

/**
 * Steam that damp filament can give off in the nozzle, volumes for each volume of plastic: rho w R T / (M p).
 * @param waterPercent water in the filament, % by mass; 0 to 100
 * @param nozzleC nozzle temperature, degC; above 100, at most 600
 * @param plasticDensityKgM3 density of the plastic, kg/m3; above 0
 * Valid: an upper bound, since some steam stays dissolved; at the pressure of the open air. Source: derived, ideal gas.
 * Agreement: the gas law to about 1 %.
 */
export function steamRatio(waterPercent: number, nozzleC: number, plasticDensityKgM3: number): number {
  requireRange('waterPercent', waterPercent, '%', 0, 100);
  requireAbove('nozzleC', nozzleC, 'degC', 100, 600);
  requirePositive('plasticDensityKgM3', plasticDensityKgM3, 'kg/m3');
  const molPerM3 = (plasticDensityKgM3 * waterPercent) / 100 / WATER_KG_PER_MOL;
  return (molPerM3 * GAS_CONSTANT * (nozzleC + ZERO_C_IN_K)) / ATMOSPHERE_PA;
}
