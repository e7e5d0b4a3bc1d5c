import { diffusivityM2S, filmCoefficient, layerTimeS, shortestLayerTimeS } from '../physics/cooling.ts';
import { boxRiseK } from '../physics/enclosure.ts';
import { hoursToShare, waterPercentAfter } from '../physics/filamentWater.ts';
import { flowMm3PerS, meltCapacityMm3PerS, speedForFlowMmS } from '../physics/flow.ts';
import { absoluteHumidityGPerM3, dewPointC, humidityAfterHeatingPercent } from '../physics/humidAir.ts';
import { steamRatio } from '../physics/ooze.ts';
import {
  angleForOverlapDeg,
  compoundEdgeAngleDeg,
  layerHeightForOverlapMm,
  lineOverlap,
} from '../physics/overhang.ts';
import {
  flowRampMm,
  pressureLagS,
  smallestDetailMm,
  speedRampMm,
  storedLengthMm,
} from '../physics/pressure.ts';
import { roundPinBendMm, thicknessForWavinessMm, wallBendMm, wallWaviness } from '../physics/wall.ts';
import { liftEnergyJPerM2, shrinkStrain } from '../physics/warp.ts';

export interface Argument {
  readonly name: string;
  readonly unit: string;
}

/** A function of `src/physics` that an expression may call. */
export interface Formula {
  readonly name: string;
  readonly about: string;
  readonly args: readonly Argument[];
  readonly unit: string;
  /** Takes and gives plain numbers in the units above; throws RangeError where the formula does not hold. */
  readonly run: (...values: number[]) => number;
}

/** The most arguments a formula may have: the evaluator passes them without building a list. */
export const MOST_ARGUMENTS = 8;

const known = new Map<string, Formula>();

// `signature` reads as an author would write it: one "name unit" for each argument, "; " between them.
function add(name: string, signature: string, unit: string, about: string, run: Formula['run']): void {
  const args = signature.split('; ').map((part) => {
    const gap = part.lastIndexOf(' in ');
    return { name: part.slice(0, gap), unit: part.slice(gap + 4) };
  });
  known.set(name, { name, about, args, unit, run });
}

add(
  'line_overlap',
  'overhang angle in deg; layer height in mm; line width in mm',
  'ratio',
  'share of a new line that lies on the line below',
  lineOverlap,
);
add(
  'angle_for_overlap',
  'overlap in ratio; layer height in mm; line width in mm',
  'deg',
  'flattest face on which lines overlap by that share',
  angleForOverlapDeg,
);
add(
  'layer_height_for_overlap',
  'overlap in ratio; overhang angle in deg; line width in mm',
  'mm',
  'thickest layer that still overlaps by that share',
  layerHeightForOverlapMm,
);
add(
  'compound_edge_angle',
  'angle of one face in deg; angle of the other face in deg; angle in plan between them in deg',
  'deg',
  'angle of the edge where two overhanging faces meet',
  compoundEdgeAngleDeg,
);
add(
  'shrink_strain',
  'expansion in 1e-6/K; temperature it goes stiff at in degC; air temperature in degC',
  'ratio',
  'how much the plastic wants to shrink once it is stiff',
  shrinkStrain,
);
add(
  'lift_energy',
  'modulus in GPa; shrink strain in ratio; part height in mm',
  'J/m2',
  'energy that lifting an edge would set free; ranks only',
  liftEnergyJPerM2,
);
add(
  'wall_waviness',
  'wall thickness in mm; wall height in mm; shrink strain in ratio',
  'ratio',
  'shrinkage of a free wall over what makes it buckle; ranks only',
  wallWaviness,
);
add(
  'thickness_for_waviness',
  'waviness in ratio; wall height in mm; shrink strain in ratio',
  'mm',
  'wall thickness with that waviness; ranks only',
  thicknessForWavinessMm,
);
add(
  'wall_bend',
  'force in N; wall height in mm; wall length in mm; wall thickness in mm; modulus in GPa',
  'mm',
  'how far the top of a free wall gives when the nozzle pushes it',
  wallBendMm,
);
add(
  'pin_bend',
  'force in N; pin height in mm; pin diameter in mm; modulus in GPa',
  'mm',
  'how far the top of a round pin gives when the nozzle pushes it',
  roundPinBendMm,
);
add(
  'flow',
  'line width in mm; layer height in mm; speed in mm/s',
  'mm3/s',
  'plastic laid each second',
  flowMm3PerS,
);
add(
  'speed_for_flow',
  'flow in mm3/s; line width in mm; layer height in mm',
  'mm/s',
  'highest speed that stays within a flow',
  speedForFlowMmS,
);
add(
  'melt_capacity',
  'melt zone in mm; diffusivity in m2/s',
  'mm3/s',
  'flow at which the core of the filament no longer melts through',
  (zone, diffusivity) => meltCapacityMm3PerS(zone!, diffusivity!),
);
add(
  'diffusivity',
  'conductivity in W/(m K); density in kg/m3; specific heat in J/(kg K)',
  'm2/s',
  'how fast heat spreads in the plastic',
  diffusivityM2S,
);
add(
  'film_coefficient',
  'part fan in percent',
  'W/(m2 K)',
  'heat the air takes off a part at that fan setting',
  filmCoefficient,
);
add(
  'layer_time',
  'layer area in mm2; line width in mm; speed in mm/s',
  's',
  'time to lay a solid layer, turns and travel apart',
  layerTimeS,
);
add(
  'shortest_layer_time',
  'density in kg/m3; specific heat in J/(kg K); nozzle temperature in degC; firm temperature in degC; air temperature in degC; part fan in percent; layer area in mm2; layer height in mm',
  's',
  'shortest time a small, square layer may take if its top is to stay firm',
  (densityKgM3, specificHeat, nozzleC, solidC, airC, fanPercent, layerAreaMm2, layerHeightMm) =>
    shortestLayerTimeS({
      densityKgM3: densityKgM3!,
      specificHeat: specificHeat!,
      nozzleC: nozzleC!,
      solidC: solidC!,
      airC: airC!,
      filmCoefficient: filmCoefficient(fanPercent!),
      layerAreaMm2: layerAreaMm2!,
      layerPerimeterMm: 4 * Math.sqrt(layerAreaMm2!),
      layerHeightMm: layerHeightMm!,
    }),
);
add(
  'pressure_lag',
  'distance from drive to melt in mm; modulus in GPa',
  's',
  'delay with which the flow follows the drive',
  (driveDistanceMm, modulusGPa) =>
    pressureLagS({ driveDistanceMm: driveDistanceMm!, filamentModulusMPa: modulusGPa! * 1000 }),
);
add(
  'stored_length',
  'distance from drive to melt in mm; modulus in GPa',
  'mm',
  'filament squeezed in under pressure: the least a retraction must pull back, slack apart',
  (driveDistanceMm, modulusGPa) =>
    storedLengthMm({ driveDistanceMm: driveDistanceMm!, filamentModulusMPa: modulusGPa! * 1000 }),
);
add(
  'flow_ramp',
  'speed in mm/s; pressure lag in s',
  'mm',
  'length over which the flow ramps after a start or stop',
  flowRampMm,
);
add(
  'speed_ramp',
  'speed in mm/s; acceleration in mm/s2',
  'mm',
  'length over which the machine comes up to speed',
  speedRampMm,
);
add(
  'smallest_detail',
  'speed in mm/s; pressure lag in s; share of the lag left in ratio',
  'mm',
  'shortest run that is laid at the right flow',
  smallestDetailMm,
);
add(
  'water_after',
  'water held at 50 percent humidity in percent; humidity in percent; diffusion in m2/s; time in h; filament diameter in mm',
  'percent',
  'water in filament that was dry when it was put out',
  waterPercentAfter,
);
add(
  'hours_to_share',
  'share in ratio; diffusion in m2/s; filament diameter in mm',
  'h',
  'time until filament has lost, or taken up, that share of its water',
  hoursToShare,
);
add(
  'steam_ratio',
  'water in percent; nozzle temperature in degC; density in kg/m3',
  'ratio',
  'volumes of steam for each volume of plastic, at most',
  steamRatio,
);
add(
  'dew_point',
  'air temperature in degC; humidity in percent',
  'degC',
  'temperature at which water condenses',
  dewPointC,
);
add(
  'humidity_after_heating',
  'air temperature in degC; humidity in percent; new temperature in degC',
  'percent',
  'humidity of the same air once it is warmer or cooler',
  humidityAfterHeatingPercent,
);
add(
  'absolute_humidity',
  'air temperature in degC; humidity in percent',
  'g/m3',
  'water in the air',
  absoluteHumidityGPerM3,
);
add(
  'box_rise',
  'power in W; wall area in m2; heat let through in W/(m2 K); volume in m3; air changes in 1/h',
  'K',
  'how much warmer than the room a box gets',
  boxRiseK,
);

/** Functions callable in expressions, by name. */
export const formulas: ReadonlyMap<string, Formula> = known;
