import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  biotNumber,
  conductionTimeS,
  diffusivityM2S,
  filmCoefficient,
  layerTimeS,
  shortestLayerTimeS,
  strandSolidTimeS,
  strandTimeConstantS,
} from '../../src/physics/cooling.ts';
import { expectShown } from './expectShown.ts';

const pla = { densityKgM3: 1240, specificHeat: 1800 };
const tower = {
  ...pla,
  nozzleC: 210,
  solidC: 55,
  airC: 25,
  layerAreaMm2: 100,
  layerPerimeterMm: 40,
  layerHeightMm: 0.2,
};

describe('free strand of PLA, 0.45 x 0.20 mm, 210 to 60 degC in air of 25 (computed beforehand)', () => {
  it.each([
    ['all round', 1.3, 25, '6.18', '10.29', '0.013'],
    ['all round', 1.3, 60, '2.58', '4.29', '0.032'],
    ['all round', 1.3, 100, '1.55', '2.57', '0.053'],
    ['all round', 1.3, 150, '1.03', '1.72', '0.080'],
    ['top and one side', 0.65, 60, '5.15', '8.58', '0.064'],
    ['top only', 0.45, 100, '4.46', '7.43', '0.154'],
  ])('%s, %d mm at %d W/(m2 K)', (_exposed, cooledPerimeterMm, film, tau, solid, biot) => {
    const strand = { ...pla, sectionMm2: 0.09, cooledPerimeterMm, filmCoefficient: film };
    expectShown(strandTimeConstantS(strand), tau);
    expectShown(strandSolidTimeS(strandTimeConstantS(strand), 210, 60, 25), solid);
    expectShown(biotNumber(film, 0.09, cooledPerimeterMm, 0.13), biot);
  });
});

describe('conduction into the layer below', () => {
  it('PLA and ABS (computed beforehand)', () => {
    expectShown(diffusivityM2S(0.13, 1240, 1800), '5.82e-8');
    expectShown(conductionTimeS(0.2, diffusivityM2S(0.13, 1240, 1800)), '0.69');
    expectShown(conductionTimeS(0.3, diffusivityM2S(0.23, 1050, 1400)), '0.58');
  });

  it('is within a factor 2 of the 1 s a weld of ABS stays hot (published: Seppala, Migler 2016)', () => {
    const seconds = conductionTimeS(0.3, diffusivityM2S(0.23, 1050, 1400));
    expect(seconds).toBeGreaterThan(0.5);
    expect(seconds).toBeLessThan(2);
  });
});

describe('shortest layer time', () => {
  it.each([
    [25, '41.9'],
    [50, '21.0'],
    [100, '10.5'],
  ])('10 x 10 mm tower of PLA at %d W/(m2 K) (computed beforehand)', (film, shown) => {
    expectShown(shortestLayerTimeS({ ...tower, filmCoefficient: film }), shown);
  });

  it('5 mm round pin of PLA with full fan (computed beforehand)', () => {
    const layerAreaMm2 = (Math.PI * 25) / 4;
    const pin = { ...tower, layerAreaMm2, layerPerimeterMm: Math.PI * 5, filmCoefficient: 100 };
    expectShown(shortestLayerTimeS(pin), '6.8');
    expectShown(layerTimeS(layerAreaMm2, 0.45, 40), '1.1');
  });

  it('that tower is laid in 3.7 s at 60 mm/s (computed beforehand)', () => {
    expectShown(layerTimeS(100, 0.45, 60), '3.7');
  });

  it('with full fan lands in the 5 to 15 s of the trade (common practice, no source)', () => {
    const seconds = shortestLayerTimeS({ ...tower, filmCoefficient: filmCoefficient(100) });
    expect(seconds).toBeGreaterThanOrEqual(5);
    expect(seconds).toBeLessThanOrEqual(15);
  });

  it('more fan, cooler air and thinner layers shorten it', () => {
    const share = fc.double({ min: 0.1, max: 0.95, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: 10, max: 150, noNaN: true }), share, (film, s) => {
        const base = shortestLayerTimeS({ ...tower, filmCoefficient: film });
        expect(shortestLayerTimeS({ ...tower, filmCoefficient: film / s })).toBeLessThan(base);
        expect(shortestLayerTimeS({ ...tower, filmCoefficient: film, airC: 25 * s })).toBeLessThan(base);
        const thinner = { ...tower, filmCoefficient: film, layerHeightMm: 0.2 * s };
        expect(shortestLayerTimeS(thinner)).toBeLessThan(base);
      }),
    );
  });

  it('refuses air in which the plastic never gets firm', () => {
    expect(() => shortestLayerTimeS({ ...tower, filmCoefficient: 50, airC: 55 })).toThrow(
      /solidC is 55 degC/,
    );
  });
});

describe('film coefficient', () => {
  it('goes through 20, 50 and 100, the middles of the ranges for advice (from memory and common practice)', () => {
    expect(filmCoefficient(0)).toBe(20);
    expect(filmCoefficient(50)).toBeCloseTo(50, 10);
    expect(filmCoefficient(100)).toBeCloseTo(100, 10);
  });

  it('rises with the fan', () => {
    const percent = fc.double({ min: 0, max: 100, noNaN: true });
    fc.assert(
      fc.property(percent, percent, (a, b) => {
        expect(filmCoefficient(Math.max(a, b))).toBeGreaterThanOrEqual(filmCoefficient(Math.min(a, b)));
      }),
    );
  });
});
