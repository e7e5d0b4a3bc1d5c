import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as physics from '../../src/physics/index.ts';

type Value = number | readonly Value[] | { readonly [key: string]: Value };

const strand = { densityKgM3: 1240, specificHeat: 1800, sectionMm2: 0.09, cooledPerimeterMm: 1.3 };
const path = { driveDistanceMm: 40, filamentModulusMPa: 3300, meltVolumeMm3: 48, filamentDiameterMm: 1.75 };
const laid = { layers: 10, layerHeightMm: 0.2, strain: 0.0074 };

/** Sound arguments of every exported function, optional ones included. */
const sound: Record<string, Value[]> = {
  overhangStepMm: [45, 0.2],
  lineOverlap: [45, 0.2, 0.45],
  angleForOverlapDeg: [0.5, 0.2, 0.45],
  layerHeightForOverlapMm: [0.5, 45, 0.45],
  compoundEdgeAngleDeg: [45, 60, 90],
  edgeStepMm: [45, 60, 90, 0.2],
  strandTimeConstantS: [{ ...strand, filmCoefficient: 60 }],
  strandSolidTimeS: [2.6, 210, 60, 25],
  biotNumber: [60, 0.09, 1.3, 0.13],
  diffusivityM2S: [0.13, 1240, 1800],
  conductionTimeS: [0.2, 5.8e-8],
  shortestLayerTimeS: [
    {
      densityKgM3: 1240,
      specificHeat: 1800,
      nozzleC: 210,
      solidC: 55,
      airC: 25,
      filmCoefficient: 50,
      layerAreaMm2: 100,
      layerPerimeterMm: 40,
      layerHeightMm: 0.2,
      hotDepthMm: 3,
    },
  ],
  layerTimeS: [100, 0.45, 60],
  filmCoefficient: [50],
  shrinkStrain: [95, 103, 25],
  liftEnergyJPerM2: [2.2, 0.0074, 5],
  filmLiftEnergyJPerM2: [20, 1, 2, 0.35],
  layerBendRadiusM: [laid],
  arcRiseMm: [100, 1],
  layerDeflectionMm: [laid, 100],
  bimetalCurvaturePerM: [
    { thickness1Mm: 0.5, thickness2Mm: 0.5, modulus1GPa: 2, modulus2GPa: 1, strainDifference: 0.001 },
  ],
  edgeMomentN: [2.2, 95, 100, 40, 5],
  brimWidthForMomentMm: [26, 0.5],
  brimReachMm: [2.2, 0.2, 25],
  stripBucklingStrain: [0.8, 60, 1],
  plateBucklingFactor: [100, 50, 1],
  plateBucklingStrain: [0.8, 40, 1.277, 0.36],
  wallWaviness: [0.8, 40, 0.00245],
  thicknessForWavinessMm: [1, 40, 0.00245],
  squarePinBendMm: [0.5, 40, 3, 3.3],
  roundPinBendMm: [0.5, 40, 5, 3.3],
  wallBendMm: [0.5, 40, 20, 0.8, 3.3],
  flowMm3PerS: [0.45, 0.2, 60],
  roundEdgedFlowMm3PerS: [0.45, 0.2, 60],
  speedForFlowMmS: [10, 0.45, 0.2],
  meltCapacityMm3PerS: [20, 5.8e-8, 0.334],
  heaterPowerW: [10, 1240, 1800, 210, 25],
  pressureLagS: [{ ...path, nozzleResistance: 0.7 }],
  storedVolumeMm3: [{ ...path, pressureMPa: 5 }],
  storedLengthMm: [{ ...path, pressureMPa: 5 }],
  flowRampMm: [100, 0.05],
  speedRampMm: [100, 3000],
  smallestDetailMm: [40, 0.05, 0.2],
  oozeVolumeMm3: [0.1, 50, 120],
  stringVolumeMm3: [0.05, 50],
  steamRatio: [0.1, 220, 1240],
  strandWeightNPerM: [1240, 0.4],
  tautSagMm: [50, 1.5e-3, 0.01],
  slackSagMm: [50, 0.0025],
  coldClampedSagMm: [50, 1.5e-3, 3.3, 0.4],
  coldSupportedSagMm: [50, 1.5e-3, 3.3, 0.4],
  saturationPressureHPa: [20],
  dewPointC: [20, 50],
  absoluteHumidityGPerM3: [20, 50],
  humidityAfterHeatingPercent: [20, 50, 45],
  sorptionShare: [0.1],
  diffusionAt: [1e-12, 45, 80],
  waterShareAfter: [1e-12, 10, 1.75],
  hoursToShare: [0.5, 1e-12, 1.75],
  waterPercentAfter: [3, 60, 5e-13, 12, 1.75],
  uValueWPerM2K: [[{ thicknessMm: 12, conductivity: 0.13 }], 0.13, 0.13],
  boxRiseK: [100, 2.4, 2.8, 0.25, 2],
  steadyConcentrationPerM3: [6600, 45, 1, 0.5],
  concentrationAfterPerM3: [6600, 45, 2, 1, 0.5],
  padStiffnessNPerM: [0.1, 10_000, 20],
  staticSagMm: [5e4, 24],
  naturalFrequencyHz: [5e4, 24],
  naturalFrequencyFromSagHz: [4.7],
  transmissibility: [15, 7, 0.1],
  swingsPerS: [100, 20],
  batteryEnergyWh: [120, 15, 0.85],
  apparentPowerVA: [300, 0.6, 1.25],
};

const functions = new Map(
  Object.entries(physics).filter(
    (entry): entry is [string, (typeof entry)[1] & ((...a: never[]) => number)] => {
      return typeof entry[1] === 'function';
    },
  ),
);

const call = (name: string, args: readonly Value[]): number =>
  (functions.get(name) as unknown as (...a: readonly Value[]) => number)(...args);

/** How many numbers stand in the arguments, and the arguments with the numbers at some places replaced. */
const count = (value: Value): number =>
  typeof value === 'number'
    ? 1
    : Object.values(value).reduce<number>((sum, part: Value) => sum + count(part), 0);

function replace(args: Value[], substitutes: ReadonlyMap<number, number>): Value[] {
  let place = 0;
  const walk = (value: Value): Value => {
    if (typeof value === 'number') return substitutes.get(place++) ?? value;
    if (Array.isArray(value)) return value.map(walk);
    return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, walk(part)]));
  };
  return args.map(walk);
}

/** The number a call gives, or the error it throws. */
function outcome(name: string, args: readonly Value[]): unknown {
  try {
    return call(name, args);
  } catch (error) {
    return error;
  }
}

it('the table of sound arguments names every exported function', () => {
  expect(Object.keys(sound).sort()).toEqual([...functions.keys()].sort());
});

describe.each(Object.entries(sound))('%s', (name, args) => {
  it('answers sound arguments, and refuses NaN, infinities and impossible negatives one by one', () => {
    expect(Number.isFinite(call(name, args))).toBe(true);
    for (let place = 0; place < count(args); place++)
      for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, -1e9])
        expect(outcome(name, replace(args, new Map([[place, bad]]))), `${bad} at ${place}`).toBeInstanceOf(
          RangeError,
        );
  });

  it('gives a finite number or a RangeError, whatever it is fed', () => {
    const substitutes = fc.dictionary(fc.nat(count(args) - 1).map(String), fc.double());
    fc.assert(
      fc.property(substitutes, (chosen) => {
        const places = Object.entries(chosen).map(([key, value]): [number, number] => [Number(key), value]);
        const result = outcome(name, replace(args, new Map(places)));
        expect(Number.isFinite(result) || result instanceof RangeError, String(result)).toBe(true);
      }),
    );
  });
});

describe('the message names parameter, value, unit and range', () => {
  it.each([
    [() => physics.overhangStepMm(120, 0.2), 'angleDeg is 120 deg; it must be above 0 and at most 90 deg'],
    [
      () => physics.lineOverlap(45, -0.2, 0.45),
      'layerHeightMm is -0.2 mm; it must be above 0 and at most 100000 mm',
    ],
    [() => physics.dewPointC(20, 0), 'humidityPercent is 0 %; it must be above 0 and at most 100 %'],
    [() => physics.filmCoefficient(Number.NaN), 'fanPercent is NaN %; it must be from 0 to 100 %'],
    [
      () => physics.compoundEdgeAngleDeg(45, 45, 180),
      'planAngleDeg is 180 deg; it must be above 0 and below 180 deg',
    ],
  ])('%#', (run, message) => {
    expect(run).toThrow(new RangeError(message));
  });
});
