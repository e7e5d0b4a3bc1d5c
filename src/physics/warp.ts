import {
  requireAbove,
  requireFinite,
  requireLength,
  requirePositive,
  requireRange,
  requireTemperature,
} from './domain.ts';

/**
 * Strain the plastic would like to take after it has gone stiff (0.001 is 1 mm in a metre): expansion x (solid - air).
 * @param expansion1e6PerK linear expansion, 1e-6 per K; 0 to 1000
 * @param solidC glass transition, or onset of crystallisation for PP and nylon, degC; -60 to 600
 * @param airC air round the part, degC; -60 to 600
 * Valid: below solidC; 0 when the air is as hot, since strain then relaxes. Source: derived. Agreement: +/- 30 %; agrees
 * with published mould shrinkage of ABS and PC.
 */
export function shrinkStrain(expansion1e6PerK: number, solidC: number, airC: number): number {
  requireRange('expansion1e6PerK', expansion1e6PerK, '1e-6/K', 0, 1000);
  requireTemperature('solidC', solidC);
  requireTemperature('airC', airC);
  return expansion1e6PerK * 1e-6 * Math.max(0, solidC - airC);
}

/**
 * Energy that lifting the edge of a part would set free, J/m2: E strain^2 H / 2. Rank only: never show as a number.
 * @param modulusGPa Young's modulus at room temperature, GPa; above 0
 * @param strain shrink strain, share; 0 to 1
 * @param heightMm height of solid material above the plate, mm; above 0. For sparse infill, shells and infill share.
 * Valid: parts longer than about 4 heights; plastics creep and the bond energy is not known. Source: edge of a stressed
 * film, Hutchinson, Suo 1992 (from memory). Agreement: gets the trade order of plastics right.
 */
export function liftEnergyJPerM2(modulusGPa: number, strain: number, heightMm: number): number {
  requirePositive('modulusGPa', modulusGPa, 'GPa');
  requireRange('strain', strain, '', 0, 1);
  requireLength('heightMm', heightMm);
  return (modulusGPa * 1e9 * strain ** 2 * heightMm * 1e-3) / 2;
}

/**
 * Energy set free when a film under known stress lifts, J/m2: stress^2 H (1 - nu^2) / (2 E). Rank only: never show as
 * a number.
 * @param stressMPa tension in the film, MPa; 0 to 10 000
 * @param heightMm film thickness, mm; above 0
 * @param modulusGPa Young's modulus, GPa; above 0
 * @param poisson Poisson's ratio; 0 to 0.5
 * Valid: wide films (plane strain). Source: Hutchinson, Suo 1992 (from memory). Agreement: exact for an elastic film;
 * for prints as `liftEnergyJPerM2`.
 */
export function filmLiftEnergyJPerM2(
  stressMPa: number,
  heightMm: number,
  modulusGPa: number,
  poisson: number,
): number {
  requireRange('stressMPa', stressMPa, 'MPa', 0, 10_000);
  requireLength('heightMm', heightMm);
  requirePositive('modulusGPa', modulusGPa, 'GPa');
  requireRange('poisson', poisson, '', 0, 0.5);
  const energy = ((stressMPa * 1e6) ** 2 * heightMm * 1e-3 * (1 - poisson ** 2)) / (2 * modulusGPa * 1e9);
  return requireFinite('filmLiftEnergyJPerM2', energy, 'J/m2');
}

/** Layers laid on a part, free of the bed. */
export interface LaidLayers {
  /** Number of layers laid; 2 to 1 000 000. Under about 5 the strains are too large for the model. */
  readonly layers: number;
  /** Layer height, mm; above 0. */
  readonly layerHeightMm: number;
  /** Strain by which the last layer shrinks on the cold ones, from `shrinkStrain`; above 0, at most 1. */
  readonly strain: number;
}

/**
 * Radius to which the last layer bends the rest, m: n^3 dh / (6 strain (n - 1)). Rank only: never show as a number.
 * Valid: elastic, free of the bed, one layer hot at a time. Source: Wang, Xi, Jin 2007 (formula from memory, confirmed by
 * derivation from Timoshenko's strip). Agreement: ranks by length, expansion and temperature drop, not by height:
 * tests found the most distortion at middle heights (published: Armillotta, Bellotti, Cavallaro 2018).
 */
export function layerBendRadiusM(laid: LaidLayers): number {
  requireRange('layers', laid.layers, '', 2, 1e6);
  requireLength('layerHeightMm', laid.layerHeightMm);
  requireAbove('strain', laid.strain, '', 0, 1);
  const radiusM = (laid.layers ** 3 * laid.layerHeightMm * 1e-3) / (6 * laid.strain * (laid.layers - 1));
  return requireFinite('layerBendRadiusM', radiusM, 'm');
}

/**
 * Rise of the ends of an arc above its middle, mm: R (1 - cos(L / 2R)), about L^2 / 8R.
 * @param lengthMm length along the arc, mm; above 0, at most pi R (then the ends point straight up)
 * @param radiusM radius of the arc, m; above 0
 * Valid: within that length. Source: derived. Agreement: exact.
 */
export function arcRiseMm(lengthMm: number, radiusM: number): number {
  requirePositive('radiusM', radiusM, 'm');
  requireAbove('lengthMm', lengthMm, 'mm', 0, Math.PI * radiusM * 1000);
  // 2 sin^2(x/2) instead of 1 - cos(x): shallow arcs are the usual case, and the difference would lose its digits.
  return 2000 * radiusM * Math.sin((lengthMm * 1e-3) / (4 * radiusM)) ** 2;
}

/**
 * Rise of the ends of a part when each new layer shrinks on the cold ones, mm. Rank only: never show as a number.
 * @param laid layers, layer height mm and shrink strain; see `LaidLayers`. A strain of 0 is allowed and lifts nothing.
 * @param lengthMm length of the section, mm; above 0, at most pi times the bend radius
 * Valid, source and agreement: as `layerBendRadiusM`.
 */
export function layerDeflectionMm(laid: LaidLayers, lengthMm: number): number {
  requireLength('lengthMm', lengthMm);
  if (laid.strain === 0) {
    layerBendRadiusM({ ...laid, strain: 1 });
    return 0;
  }
  return arcRiseMm(lengthMm, layerBendRadiusM(laid));
}

/** Two bonded strips that want to take different lengths. */
export interface Bimetal {
  /** Thickness of the first strip, mm; above 0. */
  readonly thickness1Mm: number;
  /** Thickness of the second strip, mm; above 0. */
  readonly thickness2Mm: number;
  /** Young's modulus of the first strip, GPa; above 0. */
  readonly modulus1GPa: number;
  /** Young's modulus of the second strip, GPa; above 0. */
  readonly modulus2GPa: number;
  /** Difference of their free strains; -1 to 1. */
  readonly strainDifference: number;
}

/**
 * Curvature of two bonded strips, 1/m; its sign is that of the strain difference. Rank only: never show as a number.
 * Valid: long, thin, elastic strips. Source: Timoshenko 1925 (formula from memory, checked against its special case).
 * Agreement: exact algebra; as a picture of warp it only ranks.
 */
export function bimetalCurvaturePerM(strip: Bimetal): number {
  requireLength('thickness1Mm', strip.thickness1Mm);
  requireLength('thickness2Mm', strip.thickness2Mm);
  requirePositive('modulus1GPa', strip.modulus1GPa, 'GPa');
  requirePositive('modulus2GPa', strip.modulus2GPa, 'GPa');
  requireRange('strainDifference', strip.strainDifference, '', -1, 1);
  const m = strip.thickness1Mm / strip.thickness2Mm;
  const n = strip.modulus1GPa / strip.modulus2GPa;
  const heightM = (strip.thickness1Mm + strip.thickness2Mm) * 1e-3;
  const stiffness = 3 * (1 + m) ** 2 + (1 + m * n) * (m ** 2 + 1 / (m * n));
  const curvature = (6 * strip.strainDifference * (1 + m) ** 2) / (heightM * stiffness);
  return requireFinite('bimetalCurvaturePerM', curvature, '1/m');
}

/**
 * Moment that holds a plate with a cooler top flat, N (N m per metre of edge): E expansion (low - air) H^2 / 12. Rank
 * only: never show as a number.
 * @param modulusGPa Young's modulus, GPa; above 0
 * @param expansion1e6PerK linear expansion, 1e-6 per K; 0 to 1000
 * @param lowC bed temperature, or the glass transition if lower, degC; -60 to 600
 * @param airC air round the part, degC; -60 to 600
 * @param heightMm height of the part, mm; above 0
 * Valid: elastic plate; 0 when the air is as warm as the bottom. Source: derived, plate with a straight temperature
 * slope. Agreement: ranks.
 */
export function edgeMomentN(
  modulusGPa: number,
  expansion1e6PerK: number,
  lowC: number,
  airC: number,
  heightMm: number,
): number {
  requirePositive('modulusGPa', modulusGPa, 'GPa');
  requireLength('heightMm', heightMm);
  return (modulusGPa * 1e9 * shrinkStrain(expansion1e6PerK, lowC, airC) * (heightMm * 1e-3) ** 2) / 12;
}

/**
 * Brim width that would carry an edge moment as a lever, mm: sqrt(2 M / bond). Rank only: never show as a number.
 * @param momentN edge moment, N; 0 to 1e12
 * @param bondMPa pull the bond to the bed can carry, MPa; above 0. 0.1 to 1 is an assumption.
 * Valid: stiff brims; a one-layer brim is limp, see `brimReachMm`. Source: derived. Agreement: ranks; trade habit is 3
 * to 10 mm (common practice).
 */
export function brimWidthForMomentMm(momentN: number, bondMPa: number): number {
  requireRange('momentN', momentN, 'N', 0, 1e12);
  requirePositive('bondMPa', bondMPa, 'MPa');
  return requireFinite('brimWidthForMomentMm', Math.sqrt((2 * momentN) / (bondMPa * 1e6)) * 1000, 'mm');
}

/**
 * Reach of a brim's bending, mm: (4 E t^3 / (12 k))^(1/4). Rank only: never show as a number.
 * @param modulusGPa Young's modulus, GPa; above 0
 * @param thicknessMm brim thickness, mm; above 0
 * @param bondStiffnessMPaPerMm pull of the bond for each mm it gives, MPa/mm; above 0. 25 is an assumption.
 * Valid: brims wider than this; what is wider holds in reserve against peeling. Source: derived, beam on an elastic
 * foundation. Agreement: ranks.
 */
export function brimReachMm(modulusGPa: number, thicknessMm: number, bondStiffnessMPaPerMm: number): number {
  requirePositive('modulusGPa', modulusGPa, 'GPa');
  requireLength('thicknessMm', thicknessMm);
  requirePositive('bondStiffnessMPaPerMm', bondStiffnessMPaPerMm, 'MPa/mm');
  const fourth = (4 * modulusGPa * 1e3 * thicknessMm ** 3) / (12 * bondStiffnessMPaPerMm);
  return requireFinite('brimReachMm', fourth ** 0.25, 'mm');
}
