import { requireFinite, requireLength, requirePositive, requireRange } from './domain.ts';

/** What gives way between the drive gear and the nozzle. */
export interface FeedPath {
  /** Filament between drive gear and melt, mm; above 0. About 40 direct, 600 bowden. */
  readonly driveDistanceMm: number;
  /** Young's modulus of the filament, MPa; above 0. */
  readonly filamentModulusMPa: number;
  /** Melt in the hot end, mm3; above 0. Default 48, a 20 mm melt zone. */
  readonly meltVolumeMm3?: number;
  /** Filament diameter, mm; above 0. Default 1.75. */
  readonly filamentDiameterMm?: number;
}

/** Melt gives by about a thousandth of its volume for each MPa (from memory). */
const MELT_GIVE_PER_MPA = 1e-3;

function filamentAreaMm2(diameterMm = 1.75): number {
  requireLength('filamentDiameterMm', diameterMm);
  return (Math.PI * diameterMm ** 2) / 4;
}

// Tube clearance, bends and the flex of the drive come on top; they are not known, so a bowden is slower than this.
function complianceMm3PerMPa(path: FeedPath): number {
  const meltVolumeMm3 = path.meltVolumeMm3 ?? 48;
  requireLength('driveDistanceMm', path.driveDistanceMm);
  requirePositive('filamentModulusMPa', path.filamentModulusMPa, 'MPa');
  requirePositive('meltVolumeMm3', meltVolumeMm3, 'mm3');
  const spring = (filamentAreaMm2(path.filamentDiameterMm) * path.driveDistanceMm) / path.filamentModulusMPa;
  return spring + MELT_GIVE_PER_MPA * meltVolumeMm3;
}

/**
 * Time constant with which the flow follows the drive, s: nozzle resistance x (give of filament + give of melt).
 * @param path the feed path and `nozzleResistance`, MPa s/mm3; above 0, default 0.7. 0.5 to 1 fits a few MPa at 5 to 10
 *   mm3/s (from memory).
 * Valid: order of magnitude; ranks direct against bowden and hard against soft filament. Source: derived; that the lag
 * is of first order is published (Applied Sciences 2025, 15, 12924; Bellini, Guceri, Bertoldi 2004 from memory).
 * Agreement: trade values of the compensation constant are 0.02-0.06 s direct, 0.3-0.9 s bowden (common practice).
 */
export function pressureLagS(path: FeedPath & { readonly nozzleResistance?: number }): number {
  const nozzleResistance = path.nozzleResistance ?? 0.7;
  requirePositive('nozzleResistance', nozzleResistance, 'MPa s/mm3');
  return requireFinite('pressureLagS', nozzleResistance * complianceMm3PerMPa(path), 's');
}

/**
 * Plastic squeezed into the system under pressure, which drools out when the drive stops, mm3.
 * @param path the feed path and `pressureMPa`, melt pressure, MPa; 0 to 1000, default 5
 * Valid, source and agreement: as `pressureLagS`.
 */
export function storedVolumeMm3(path: FeedPath & { readonly pressureMPa?: number }): number {
  const pressureMPa = path.pressureMPa ?? 5;
  requireRange('pressureMPa', pressureMPa, 'MPa', 0, 1000);
  return requireFinite('storedVolumeMm3', pressureMPa * complianceMm3PerMPa(path), 'mm3');
}

/**
 * The stored plastic as a length of filament, mm: the least a retraction must pull back, before the slack of the tube.
 * @param path the feed path and `pressureMPa`, melt pressure, MPa; 0 to 1000, default 5
 * Valid, source and agreement: as `pressureLagS`; trade retractions are 0.4-2 mm direct, 3-7 mm bowden (common
 * practice), the rest being slack and melt pulled out of the tip.
 */
export function storedLengthMm(path: FeedPath & { readonly pressureMPa?: number }): number {
  return requireFinite(
    'storedLengthMm',
    storedVolumeMm3(path) / filamentAreaMm2(path.filamentDiameterMm),
    'mm',
  );
}

/**
 * Length over which the flow ramps after a start or stop, mm: speed x lag; 95 % is reached after three of it.
 * @param speedMmS print speed, mm/s; above 0
 * @param lagS lag from `pressureLagS`, s; 0 to 1e12
 * Valid: steady speed. Source: derived, first-order lag. Agreement: that of the lag.
 */
export function flowRampMm(speedMmS: number, lagS: number): number {
  requirePositive('speedMmS', speedMmS, 'mm/s');
  requireRange('lagS', lagS, 's', 0, 1e12);
  return speedMmS * lagS;
}

/**
 * Length over which the machine ramps its speed, mm: v^2 / (2 a).
 * @param speedMmS print speed, mm/s; above 0
 * @param accelerationMmS2 acceleration, mm/s2; above 0
 * Valid: from standstill, constant acceleration. Source: derived. Agreement: exact.
 */
export function speedRampMm(speedMmS: number, accelerationMmS2: number): number {
  requirePositive('speedMmS', speedMmS, 'mm/s');
  requirePositive('accelerationMmS2', accelerationMmS2, 'mm/s2');
  return requireFinite('speedRampMm', speedMmS ** 2 / (2 * accelerationMmS2), 'mm');
}

/**
 * Shortest straight run laid at the right flow, mm: 3 speed x lag x share left.
 * @param speedMmS print speed, mm/s; above 0
 * @param lagS lag from `pressureLagS`, s; 0 to 1e12
 * @param remainingShare share of the lag that pressure compensation leaves; 0 to 1. 1 without compensation, 0.1 to 0.2
 *   with (assumption).
 * Valid: order of magnitude; a closed detail under two line widths is lost whatever this says. Source: derived,
 * first-order lag. Agreement: that of the lag.
 */
export function smallestDetailMm(speedMmS: number, lagS: number, remainingShare: number): number {
  requireRange('remainingShare', remainingShare, '', 0, 1);
  return 3 * flowRampMm(speedMmS, lagS) * remainingShare;
}
