import { describe, expect, it } from 'vitest';
import {
  absoluteHumidityGPerM3,
  compoundEdgeAngleDeg,
  filmCoefficient,
  flowMm3PerS,
  layerTimeS,
  liftEnergyJPerM2,
  lineOverlap,
  roundEdgedFlowMm3PerS,
  shortestLayerTimeS,
  shrinkStrain,
  steamRatio,
  wallBendMm,
  wallWaviness,
  waterPercentAfter,
} from '../../src/physics/index.ts';
import { expectShown } from './expectShown.ts';

describe('answers land where a practitioner expects (common practice, no source)', () => {
  it('PLA, 0.20 on 0.45 mm: 45 deg is clean, 30 deg prints with good cooling, 20 deg falls', () => {
    expectShown(lineOverlap(45, 0.2, 0.45), '0.56');
    expectShown(lineOverlap(30, 0.2, 0.45), '0.23');
    expect(lineOverlap(45, 0.2, 0.45)).toBeGreaterThanOrEqual(0.5);
    expect(lineOverlap(30, 0.2, 0.45)).toBeGreaterThanOrEqual(0.2);
    expect(lineOverlap(20, 0.2, 0.45)).toBeLessThan(0);
  });

  it('a square corner of 45 deg faces is worth a warning, the faces are not', () => {
    expectShown(compoundEdgeAngleDeg(45, 45, 90), '35.3');
    expect(lineOverlap(45, 0.2, 0.45)).toBeGreaterThanOrEqual(0.5);
    expect(lineOverlap(compoundEdgeAngleDeg(45, 45, 90), 0.2, 0.45)).toBeLessThan(0.5);
  });

  it('an ABS block lifts most in the open, less in a warm box, PLA least', () => {
    const open = liftEnergyJPerM2(2.2, shrinkStrain(95, 103, 25), 20);
    const boxed = liftEnergyJPerM2(2.2, shrinkStrain(95, 103, 50), 20);
    const pla = liftEnergyJPerM2(3.3, shrinkStrain(70, 60, 25), 20);
    expect(open).toBeGreaterThan(boxed);
    expect(boxed).toBeGreaterThan(pla);
  });

  it('a 0.45 mm wall of soft filament, 40 mm high, is wavy and bends; 2.4 mm of PLA does neither', () => {
    expect(wallWaviness(0.45, 40, shrinkStrain(150, 110, 25))).toBeGreaterThan(10);
    expect(wallBendMm(0.1, 40, 100, 0.45, 0.06)).toBeGreaterThan(0.45 / 4);
    expect(wallWaviness(2.4, 40, shrinkStrain(70, 60, 25))).toBeLessThan(1);
    expect(wallBendMm(0.1, 40, 100, 2.4, 3.3)).toBeLessThan(0.45 / 4);
  });

  it('after 12 h at 60 % nylon makes more steam than PLA, at the slow end of nylon and the fast end of PLA', () => {
    const nylon = steamRatio(waterPercentAfter(2.5, 60, 2e-13, 12), 260, 1130);
    const pla = steamRatio(waterPercentAfter(0.4, 60, 2e-11, 12), 220, 1240);
    expect(nylon).toBeGreaterThan(pla);
  });

  it('150 mm/s at 0.28 on 0.45 mm wants 16 to 19 mm3/s, more than a standard hot end melts', () => {
    expect(roundEdgedFlowMm3PerS(0.45, 0.28, 150)).toBeGreaterThan(16);
    expect(flowMm3PerS(0.45, 0.28, 150)).toBeLessThan(19);
    expect(roundEdgedFlowMm3PerS(0.45, 0.28, 150)).toBeGreaterThan(12);
  });

  it('a solid 10 x 10 mm tower at 60 mm/s is laid in 3.7 s and wants about 10', () => {
    const wanted = shortestLayerTimeS({
      densityKgM3: 1240,
      specificHeat: 1800,
      nozzleC: 210,
      solidC: 55,
      airC: 25,
      filmCoefficient: filmCoefficient(100),
      layerAreaMm2: 100,
      layerPerimeterMm: 40,
      layerHeightMm: 0.2,
    });
    expectShown(layerTimeS(100, 0.45, 60), '3.7');
    expectShown(wanted, '10.5');
  });

  it('a living room of 18 to 27 degC and 30 to 60 % holds 4 to 16 g of water in a cubic metre', () => {
    expect(absoluteHumidityGPerM3(18, 30)).toBeGreaterThan(4);
    expect(absoluteHumidityGPerM3(27, 60)).toBeLessThan(16);
  });
});
