import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  arcRiseMm,
  bimetalCurvaturePerM,
  brimReachMm,
  brimWidthForMomentMm,
  edgeMomentN,
  filmLiftEnergyJPerM2,
  layerBendRadiusM,
  layerDeflectionMm,
  liftEnergyJPerM2,
  shrinkStrain,
} from '../../src/physics/warp.ts';
import { expectShown, expectWithin } from './expectShown.ts';

// Expansion, temperature of going stiff and modulus: typical figures of the plastics, partly published, partly from memory.
const plastics: [string, number, number, number, string, string, string, string?][] = [
  ['PLA', 70, 60, 3.3, '0.245', '0.070', '50', '4'],
  ['PETG', 68, 80, 2.1, '0.374', '0.204', '73', '22'],
  ['HIPS', 80, 95, 1.9, '0.560', '0.360', '149', '62'],
  ['ASA', 95, 102, 2.2, '0.7315', '0.494', '294', '134'],
  ['ABS', 95, 103, 2.2, '0.741', '0.504', '302', '139'],
  ['PC', 68, 147, 2.3, '0.830', '0.660', '396', '250'],
  ['PP', 120, 115, 1.4, '1.08', '0.78', '408'],
  ['PA12', 120, 150, 1.3, '1.50', '1.20', '731'],
  ['PA6', 85, 185, 2.8, '1.36', '1.15', '1295'],
];

describe('shrink strain and lift energy (computed beforehand)', () => {
  it.each(plastics)(
    '%s in air of 25 and 50 degC',
    (_name, alpha, solid, modulus, at25, at50, lift25, lift50) => {
      expectShown(100 * shrinkStrain(alpha, solid, 25), at25);
      expectShown(100 * shrinkStrain(alpha, solid, 50), at50);
      expectShown(liftEnergyJPerM2(modulus, shrinkStrain(alpha, solid, 25), 5), lift25);
      if (lift50 !== undefined)
        expectShown(liftEnergyJPerM2(modulus, shrinkStrain(alpha, solid, 50), 5), lift50);
    },
  );

  it('a soft polyurethane hardly lifts (computed beforehand)', () => {
    expectShown(liftEnergyJPerM2(0.06, shrinkStrain(150, 110, 25), 5), '24');
  });

  it('ABS and PC shrink as published mould shrinkage says, 0.35-0.9 and 0.46-0.8 %', () => {
    const abs = 100 * shrinkStrain(95, 103, 25);
    expect(abs).toBeGreaterThan(0.35);
    expect(abs).toBeLessThan(0.9);
    const pc = 100 * shrinkStrain(68, 147, 50);
    expect(pc).toBeGreaterThan(0.46);
    expect(pc).toBeLessThan(0.8);
  });

  it('puts PLA, PETG, ABS and PC in the order of the trade (common practice, no source)', () => {
    const lift = (name: string): number => {
      const [, alpha, solid, modulus] = plastics.find(([plastic]) => plastic === name)!;
      return liftEnergyJPerM2(modulus, shrinkStrain(alpha, solid, 25), 5);
    };
    expect(lift('PLA')).toBeLessThan(lift('PETG'));
    expect(lift('PETG')).toBeLessThan(lift('ABS'));
    expect(lift('ABS')).toBeLessThan(lift('PC'));
  });

  it('nothing shrinks in air as hot as the plastic is when it goes stiff', () => {
    expect(shrinkStrain(95, 103, 103)).toBe(0);
    expect(shrinkStrain(95, 103, 120)).toBe(0);
  });

  it('plane strain form: 20 MPa, 1 mm, 2 GPa, 0.35 (formula from memory, computed beforehand)', () => {
    expectShown(filmLiftEnergyJPerM2(20, 1, 2, 0.35), '87.75');
  });

  it('warmer air never adds strain', () => {
    const air = fc.double({ min: -20, max: 200, noNaN: true });
    fc.assert(
      fc.property(air, air, (a, b) => {
        const [cool, warm] = [Math.min(a, b), Math.max(a, b)];
        expect(shrinkStrain(95, 103, warm)).toBeLessThanOrEqual(shrinkStrain(95, 103, cool));
      }),
    );
  });
});

describe('last layer shrinking on the cold ones, 0.2 mm layers (formula from memory; computed beforehand)', () => {
  it.each([
    ['ABS, 25 degC, 5 layers', 95, 103, 25, 5, 100, '0.1406', '8.80'],
    ['ABS, 25 degC, 10 layers', 95, 103, 25, 10, 100, '0.4998', '2.499'],
    ['ABS, 25 degC, 25 layers', 95, 103, 25, 25, 100, '2.929', '0.427'],
    ['ABS, 70 degC, 10 layers', 95, 103, 70, 10, 100, '1.181', '1.058'],
    ['PLA, 25 degC, 10 layers', 70, 60, 25, 10, 100, '1.512', '0.827'],
    ['ABS, 25 degC, 10 layers, 50 mm', 95, 103, 25, 10, 50, '0.4998', '0.625'],
  ])('%s', (_case, alpha, solid, air, layers, lengthMm, radius, rise) => {
    const laid = { layers, layerHeightMm: 0.2, strain: shrinkStrain(alpha, solid, air) };
    expectShown(layerBendRadiusM(laid), radius);
    expectShown(layerDeflectionMm(laid, lengthMm), rise);
  });

  it.each([2, 5, 10])('is the bimetal strip of 1 on %d - 1 layers of one modulus (derived)', (layers) => {
    const strip = {
      thickness1Mm: 0.2,
      thickness2Mm: 0.2 * (layers - 1),
      modulus1GPa: 2.2,
      modulus2GPa: 2.2,
      strainDifference: 0.0074,
    };
    const radius = layerBendRadiusM({ layers, layerHeightMm: 0.2, strain: 0.0074 });
    expect(bimetalCurvaturePerM(strip) * radius).toBeCloseTo(1, 12);
  });

  it('without shrinkage nothing bends', () => {
    expect(layerDeflectionMm({ layers: 10, layerHeightMm: 0.2, strain: 0 }, 100)).toBe(0);
  });

  it('refuses a strip bent past straight up', () => {
    expect(() => layerDeflectionMm({ layers: 2, layerHeightMm: 0.2, strain: 0.0074 }, 300)).toThrow(
      RangeError,
    );
  });
});

describe('bimetal strip (Timoshenko 1925, formula from memory; computed beforehand)', () => {
  const equal = {
    thickness1Mm: 0.5,
    thickness2Mm: 0.5,
    modulus1GPa: 100,
    modulus2GPa: 100,
    strainDifference: 7e-4,
  };

  it('equal strips, and one twice as stiff', () => {
    expectShown(bimetalCurvaturePerM(equal), '1.0500');
    expectShown(1 / bimetalCurvaturePerM(equal), '0.9524');
    const stiffer = bimetalCurvaturePerM({ ...equal, modulus1GPa: 200 });
    expectShown(stiffer, '1.0182');
    expectShown(1 / stiffer, '0.9821');
  });

  it('equal strips obey the special case 1.5 strain / height (published)', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 50, noNaN: true }), (t) => {
        const curvature = bimetalCurvaturePerM({ ...equal, thickness1Mm: t, thickness2Mm: t });
        expectWithin(curvature, (1.5 * 7e-4) / (2e-3 * t), 1e-12);
      }),
    );
  });

  it('rises 1.3125 mm over 100 mm by the shallow form L^2 / 8R, within 0.03 % of the arc', () => {
    expectWithin(arcRiseMm(100, 1 / bimetalCurvaturePerM(equal)), 1.3125, 3e-4);
  });
});

describe('edge moment and brim, ABS, bed 100, air 40 degC (computed beforehand)', () => {
  it.each([
    [5, '26.1', 0.1, '22.9'],
    [5, '26.1', 0.2, '16.2'],
    [5, '26.1', 0.5, '10.2'],
    [5, '26.1', 1, '7.2'],
    [2, '4.18', 0.5, '4.1'],
    [10, '104.5', 0.5, '20.4'],
  ])('%d mm high: %s N; bond %d MPa: %s mm', (heightMm, moment, bond, brim) => {
    const momentN = edgeMomentN(2.2, 95, 100, 40, heightMm);
    expectShown(momentN, moment);
    expectShown(brimWidthForMomentMm(momentN, bond), brim);
  });

  it('a one-layer brim bends over about 0.7 mm', () => {
    expectShown(brimReachMm(2.2, 0.2, 0.5 / 0.02), '0.7');
  });

  it('the width needed grows in proportion to the height', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 100, noNaN: true }), (h) => {
        const width = (heightMm: number) =>
          brimWidthForMomentMm(edgeMomentN(2.2, 95, 100, 40, heightMm), 0.5);
        expectWithin(width(2 * h), 2 * width(h), 1e-12);
      }),
    );
  });
});
