import { requireFinite, requireLength, requirePositive, requireRange, requireTemperature } from './domain.ts';

/** A hot line of plastic and the air around it. */
export interface Strand {
  /** Density, kg/m3; above 0. */
  readonly densityKgM3: number;
  /** Specific heat, J/(kg K); above 0. Take the melt's figure, the higher end. */
  readonly specificHeat: number;
  /** Cross-section, mm2; above 0. About line width times layer height. */
  readonly sectionMm2: number;
  /** Perimeter that meets the air, mm; above 0. All round for a strand in air, the width alone for a line in a field. */
  readonly cooledPerimeterMm: number;
  /** Film coefficient, W/(m2 K); above 0. See `filmCoefficient`. */
  readonly filmCoefficient: number;
}

/**
 * Time in which a free strand loses 63 % of its excess heat to the air, s: rho c A / (hc P).
 * Valid: strands in air (bridges, long strings, the first moments of an overhanging line) with a Biot number under 0.3;
 * a line on a part gives its heat to the layer below sooner.
 * Source: lumped cooling, Bellehumeur, Li, Sun, Gu 2004 and Incropera, DeWitt (both from memory). Agreement: factor 2.
 */
export function strandTimeConstantS(strand: Strand): number {
  requirePositive('densityKgM3', strand.densityKgM3, 'kg/m3');
  requirePositive('specificHeat', strand.specificHeat, 'J/(kg K)');
  requirePositive('sectionMm2', strand.sectionMm2, 'mm2');
  requireLength('cooledPerimeterMm', strand.cooledPerimeterMm);
  requirePositive('filmCoefficient', strand.filmCoefficient, 'W/(m2 K)');
  const heat = strand.densityKgM3 * strand.specificHeat * strand.sectionMm2 * 1e-6;
  return requireFinite(
    'strandTimeConstantS',
    heat / (strand.filmCoefficient * strand.cooledPerimeterMm * 1e-3),
    's',
  );
}

// Three temperatures that only make sense in order; a plastic that is firm only below the air never gets firm.
function requireOrder(nozzleC: number, solidC: number, airC: number): void {
  requireTemperature('nozzleC', nozzleC);
  requireRange('airC', airC, 'degC', -60, nozzleC);
  if (!(solidC > airC && solidC <= nozzleC))
    throw new RangeError(
      `solidC is ${solidC} degC; it must be above airC (${airC}) and at most nozzleC (${nozzleC}) degC`,
    );
}

/**
 * Time until a free strand has cooled to solid, s: tau ln((nozzle - air) / (solid - air)).
 * @param timeConstantS from `strandTimeConstantS`, s; above 0
 * @param nozzleC nozzle temperature, degC; up to 600
 * @param solidC glass transition, or onset of crystallisation, degC; above airC, at most nozzleC
 * @param airC air round the strand, degC; from -60
 * Valid and source: as `strandTimeConstantS`. Agreement: factor 2.
 */
export function strandSolidTimeS(
  timeConstantS: number,
  nozzleC: number,
  solidC: number,
  airC: number,
): number {
  requirePositive('timeConstantS', timeConstantS, 's');
  requireOrder(nozzleC, solidC, airC);
  return requireFinite('strandSolidTimeS', timeConstantS * Math.log((nozzleC - airC) / (solidC - airC)), 's');
}

/**
 * Biot number of a strand: film coefficient times section over perimeter, over conductivity.
 * @param filmCoefficient W/(m2 K); above 0
 * @param sectionMm2 cross-section, mm2; above 0
 * @param cooledPerimeterMm perimeter that meets the air, mm; above 0
 * @param conductivity W/(m K); above 0
 * Valid: says whether the lumped model holds: well under 0.1, tolerably to 0.3. Source: Incropera, DeWitt (from memory).
 * Agreement: exact by definition.
 */
export function biotNumber(
  filmCoefficient: number,
  sectionMm2: number,
  cooledPerimeterMm: number,
  conductivity: number,
): number {
  requirePositive('filmCoefficient', filmCoefficient, 'W/(m2 K)');
  requirePositive('sectionMm2', sectionMm2, 'mm2');
  requireLength('cooledPerimeterMm', cooledPerimeterMm);
  requirePositive('conductivity', conductivity, 'W/(m K)');
  return requireFinite(
    'biotNumber',
    (filmCoefficient * (sectionMm2 / cooledPerimeterMm) * 1e-3) / conductivity,
    '',
  );
}

/**
 * Thermal diffusivity, m2/s: k / (rho c).
 * @param conductivity W/(m K); above 0
 * @param densityKgM3 kg/m3; above 0
 * @param specificHeat J/(kg K); above 0
 * Valid: any solid or melt. Source: Incropera, DeWitt (from memory). Agreement: exact by definition.
 */
export function diffusivityM2S(conductivity: number, densityKgM3: number, specificHeat: number): number {
  requirePositive('conductivity', conductivity, 'W/(m K)');
  requirePositive('densityKgM3', densityKgM3, 'kg/m3');
  requirePositive('specificHeat', specificHeat, 'J/(kg K)');
  return requireFinite('diffusivityM2S', conductivity / (densityKgM3 * specificHeat), 'm2/s');
}

/**
 * Time scale in which a new line gives its first heat to the layer below, s: h^2 / diffusivity.
 * @param layerHeightMm layer height, mm; above 0
 * @param diffusivityM2S thermal diffusivity, m2/s; above 0
 * Valid: a line lying on plastic. Source: derived from the heat equation. Agreement: order of magnitude; a measured weld
 * stayed above the glass transition about 1 s (published: Seppala, Migler 2016), this gives 0.6 s.
 */
export function conductionTimeS(layerHeightMm: number, diffusivityM2S: number): number {
  requireLength('layerHeightMm', layerHeightMm);
  requirePositive('diffusivityM2S', diffusivityM2S, 'm2/s');
  return requireFinite('conductionTimeS', (layerHeightMm * 1e-3) ** 2 / diffusivityM2S, 's');
}

/** A layer of a small tower, and how it is cooled. */
export interface SmallLayer {
  /** Density, kg/m3; above 0. */
  readonly densityKgM3: number;
  /** Specific heat, J/(kg K); above 0. */
  readonly specificHeat: number;
  /** Nozzle temperature, degC; up to 600. */
  readonly nozzleC: number;
  /** Highest mean temperature at which the top is still firm, degC: 5 below the glass transition. Above airC. */
  readonly solidC: number;
  /** Air beside the part, degC; from -60. */
  readonly airC: number;
  /** Film coefficient, W/(m2 K); above 0. See `filmCoefficient`. */
  readonly filmCoefficient: number;
  /** Plastic in the layer seen from above, mm2; above 0. */
  readonly layerAreaMm2: number;
  /** Length of the outline, mm; above 0. */
  readonly layerPerimeterMm: number;
  /** Layer height, mm; above 0. */
  readonly layerHeightMm: number;
  /** Depth of the hot top, mm; above 0. 3 for PLA (published: Zhang, Van Hooreweder, Ferraris 2022); the default. */
  readonly hotDepthMm?: number;
}

/**
 * Shortest time a layer may take if the top of the part is to stay firm, s: heat laid over heat lost,
 * rho c V (nozzle - solid) / (hc (top + perimeter x hot depth) (solid - air)).
 * Valid: small islands, side under about 30 mm; large layers are always long enough. RangeError when the air is as hot
 * as solidC: the top then never gets firm.
 * Source: derived, steady heat balance of the top few millimetres. Agreement: factor 2; trade habit for small PLA
 * layers with the fan on is 5 to 15 s (common practice).
 */
export function shortestLayerTimeS(layer: SmallLayer): number {
  const hotDepthMm = layer.hotDepthMm ?? 3;
  requirePositive('densityKgM3', layer.densityKgM3, 'kg/m3');
  requirePositive('specificHeat', layer.specificHeat, 'J/(kg K)');
  requireOrder(layer.nozzleC, layer.solidC, layer.airC);
  requirePositive('filmCoefficient', layer.filmCoefficient, 'W/(m2 K)');
  requirePositive('layerAreaMm2', layer.layerAreaMm2, 'mm2');
  requireLength('layerPerimeterMm', layer.layerPerimeterMm);
  requireLength('layerHeightMm', layer.layerHeightMm);
  requireLength('hotDepthMm', hotDepthMm);
  const volumeM3 = layer.layerAreaMm2 * layer.layerHeightMm * 1e-9;
  const heatJ = layer.densityKgM3 * layer.specificHeat * volumeM3 * (layer.nozzleC - layer.solidC);
  const exposedM2 = (layer.layerAreaMm2 + layer.layerPerimeterMm * hotDepthMm) * 1e-6;
  const lossW = layer.filmCoefficient * exposedM2 * (layer.solidC - layer.airC);
  return requireFinite('shortestLayerTimeS', heatJ / lossW, 's');
}

/**
 * Time the printer takes to lay a solid layer, s: area / (line width x speed).
 * @param layerAreaMm2 plastic in the layer seen from above, mm2; above 0
 * @param lineWidthMm line width, mm; above 0
 * @param speedMmS mean print speed, mm/s; above 0
 * Valid: a lower bound: turns, travel and acceleration add to it. Source: derived. Agreement: exact but for those.
 */
export function layerTimeS(layerAreaMm2: number, lineWidthMm: number, speedMmS: number): number {
  requirePositive('layerAreaMm2', layerAreaMm2, 'mm2');
  requireLength('lineWidthMm', lineWidthMm);
  requirePositive('speedMmS', speedMmS, 'mm/s');
  return requireFinite('layerTimeS', layerAreaMm2 / (lineWidthMm * speedMmS), 's');
}

/**
 * Film coefficient on a part at a fan setting, W/(m2 K): a smooth curve through 20 with no fan, 50 at half and 100 at
 * full, the middles of the ranges 15-25, 40-60 and 80-120.
 * @param fanPercent part fan, %; 0 to 100
 * Valid: the usual fan and duct; ducts differ by a factor 2. Source: mixed: flat-plate correlations and a jet factor
 * of 2, from memory, and common practice. Agreement: the ranges given.
 */
export function filmCoefficient(fanPercent: number): number {
  requireRange('fanPercent', fanPercent, '%', 0, 100);
  return 20 + 0.4 * fanPercent + 0.004 * fanPercent ** 2;
}
