import { requireAbove, requireFinite, requireLength, requirePositive, requireRange } from './domain.ts';

/** Plate coefficient of a long wall clamped at its foot and free at its top (from memory). */
const STANDING_WALL = 1.277;
const PLASTIC_POISSON = 0.36;

/**
 * Strain at which a strip under end load buckles: pi^2 t^2 / (12 (K L)^2). Rank only: never show as a number.
 * @param thicknessMm thickness, mm; above 0
 * @param lengthMm length along the load, mm; above 0
 * @param endFactor 1 for pinned ends (default), 0.5 for clamped ends; above 0, at most 2
 * Valid: slender elastic strips. Source: Euler, in Timoshenko, Gere 1961. Agreement: exact for a strip; walls only rank.
 */
export function stripBucklingStrain(thicknessMm: number, lengthMm: number, endFactor = 1): number {
  requireLength('thicknessMm', thicknessMm);
  requireLength('lengthMm', lengthMm);
  requireAbove('endFactor', endFactor, '', 0, 2);
  return requireFinite(
    'stripBucklingStrain',
    (Math.PI * thicknessMm) ** 2 / (12 * (endFactor * lengthMm) ** 2),
    '',
  );
}

/**
 * Plate coefficient k with all edges simply supported: (m b/a + a/(m b))^2, least 4. Rank only: never show as a number.
 * @param lengthMm length a along the load, mm; above 0
 * @param heightMm width b across the load, mm; above 0
 * @param halfWaves number m of half waves along the load; 1 (default) to 1000
 * Valid: flat elastic plates. Source: Timoshenko, Gere 1961; Gerard, Becker 1957 (published text). Agreement: exact.
 */
export function plateBucklingFactor(lengthMm: number, heightMm: number, halfWaves = 1): number {
  requireLength('lengthMm', lengthMm);
  requireLength('heightMm', heightMm);
  requireRange('halfWaves', halfWaves, '', 1, 1000);
  const ratio = (halfWaves * heightMm) / lengthMm;
  return requireFinite('plateBucklingFactor', (ratio + 1 / ratio) ** 2, '');
}

/**
 * Strain at which a wall buckles: k pi^2 / (12 (1 - nu^2)) (t / b)^2. Rank only: never show as a number.
 * @param thicknessMm wall thickness, mm; above 0
 * @param heightMm height of the wall, mm; above 0
 * @param k plate coefficient; above 0. 1.277 foot clamped, top free (default, from memory); 4.0 all edges simply
 *   supported; 6.97 both long edges clamped; 0.425 foot hinged, top free.
 * @param poisson Poisson's ratio; 0 to 0.5, default 0.36
 * Valid: long, flat, elastic walls. Source: Timoshenko, Gere 1961; Gerard, Becker 1957 (published text). Agreement:
 * exact for the plate; for prints it says thicker or shorter, and how the effect scales.
 */
export function plateBucklingStrain(
  thicknessMm: number,
  heightMm: number,
  k = STANDING_WALL,
  poisson = PLASTIC_POISSON,
): number {
  requireLength('thicknessMm', thicknessMm);
  requireLength('heightMm', heightMm);
  requirePositive('k', k, '');
  requireRange('poisson', poisson, '', 0, 0.5);
  const strain = ((k * Math.PI ** 2) / (12 * (1 - poisson ** 2))) * (thicknessMm / heightMm) ** 2;
  return requireFinite('plateBucklingStrain', strain, '');
}

/**
 * Waviness ratio of a standing wall: its shrink strain over the strain at which it buckles. Rank only: never show as a
 * number; above 1 is wavy, and the higher the worse.
 * @param thicknessMm wall thickness, mm; above 0
 * @param heightMm height of the wall, mm; above 0
 * @param shrinkStrain from `shrinkStrain`; 0 to 1
 * Valid: long walls, foot held, top free; only a part of the strain reaches the free top. Source: derived from
 * `plateBucklingStrain` with k 1.277 and nu 0.36. Agreement: ranks.
 */
export function wallWaviness(thicknessMm: number, heightMm: number, shrinkStrain: number): number {
  requireRange('shrinkStrain', shrinkStrain, '', 0, 1);
  return requireFinite('wallWaviness', shrinkStrain / plateBucklingStrain(thicknessMm, heightMm), '');
}

/**
 * Wall thickness that has a given waviness ratio, mm. Rank only: never show as a number; it says thicker, and in what
 * proportion.
 * @param waviness ratio wanted; above 0
 * @param heightMm height of the wall, mm; above 0
 * @param shrinkStrain from `shrinkStrain`; 0 to 1
 * Valid, source and agreement: as `wallWaviness`, of which it is the inverse.
 */
export function thicknessForWavinessMm(waviness: number, heightMm: number, shrinkStrain: number): number {
  requirePositive('waviness', waviness, '');
  requireRange('shrinkStrain', shrinkStrain, '', 0, 1);
  const atUnitThickness = plateBucklingStrain(1, heightMm);
  return requireFinite(
    'thicknessForWavinessMm',
    Math.sqrt(shrinkStrain / (waviness * atUnitThickness)),
    'mm',
  );
}

function cantileverBendMm(forceN: number, heightMm: number, modulusGPa: number, inertiaMm4: number): number {
  requireRange('forceN', forceN, 'N', 0, 1e6);
  requireLength('heightMm', heightMm);
  requirePositive('modulusGPa', modulusGPa, 'GPa');
  return requireFinite('bend', (forceN * heightMm ** 3) / (3 * modulusGPa * 1000 * inertiaMm4), 'mm');
}

/**
 * Sideways give of a square pin pushed at its top, mm: F H^3 / (3 E I), I = a^4 / 12.
 * @param forceN sideways drag of the nozzle, N; 0 to 1e6. 0.1 to 1 is an assumption: show a range.
 * @param heightMm height, mm; above 0
 * @param sideMm side of the square, mm; above 0
 * @param modulusGPa Young's modulus, GPa; above 0
 * Valid: stiff plastics, and gives well below the height; a larger answer means it cannot be printed so. At risk above
 * about a quarter of a line width (assumption). Source: cantilever beam, derived. Agreement: exact but for the force.
 */
export function squarePinBendMm(
  forceN: number,
  heightMm: number,
  sideMm: number,
  modulusGPa: number,
): number {
  requireLength('sideMm', sideMm);
  return cantileverBendMm(forceN, heightMm, modulusGPa, sideMm ** 4 / 12);
}

/**
 * Sideways give of a round pin pushed at its top, mm: F H^3 / (3 E I), I = pi d^4 / 64.
 * @param forceN sideways drag of the nozzle, N; 0 to 1e6. 0.1 to 1 is an assumption: show a range.
 * @param heightMm height, mm; above 0
 * @param diameterMm diameter, mm; above 0
 * @param modulusGPa Young's modulus, GPa; above 0
 * Valid, source and agreement: as `squarePinBendMm`.
 */
export function roundPinBendMm(
  forceN: number,
  heightMm: number,
  diameterMm: number,
  modulusGPa: number,
): number {
  requireLength('diameterMm', diameterMm);
  return cantileverBendMm(forceN, heightMm, modulusGPa, (Math.PI * diameterMm ** 4) / 64);
}

/**
 * Sideways give of a free-standing wall pushed across at its top, mm: F H^3 / (3 E I), I = L t^3 / 12.
 * @param forceN sideways drag of the nozzle, N; 0 to 1e6. 0.1 to 1 is an assumption: show a range.
 * @param heightMm height, mm; above 0
 * @param lengthMm length of the wall, mm; above 0
 * @param thicknessMm wall thickness, mm; above 0
 * @param modulusGPa Young's modulus, GPa; above 0
 * Valid, source and agreement: as `squarePinBendMm`; a wall longer than its height gives more near its ends than this.
 */
export function wallBendMm(
  forceN: number,
  heightMm: number,
  lengthMm: number,
  thicknessMm: number,
  modulusGPa: number,
): number {
  requireLength('lengthMm', lengthMm);
  requireLength('thicknessMm', thicknessMm);
  return cantileverBendMm(forceN, heightMm, modulusGPa, (lengthMm * thicknessMm ** 3) / 12);
}
