import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxRiseK, uValueWPerM2K, type WallLayer } from '../../src/physics/enclosure.ts';
import { expectShown } from './expectShown.ts';

// Conductivities from EN ISO 10077-2 and EN ISO 10456 (published); plasterboard from memory.
const wall = (...layers: [number, number][]): WallLayer[] =>
  layers.map(([thicknessMm, conductivity]) => ({ thicknessMm, conductivity }));

const acrylic = wall([3, 0.18]);
const softwood = wall([12, 0.13]);
const plasterboard = wall([12.5, 0.25]);
const foam = wall([25, 0.035]);
const boardAndFoam = wall([12.5, 0.25], [25, 0.035]);

describe('heat through a wall, films of ISO 6946 (computed beforehand)', () => {
  it.each([
    ['acrylic 3 mm', acrylic, '3.61'],
    ['acrylic 5 mm', wall([5, 0.18]), '3.47'],
    ['polycarbonate 3 mm', wall([3, 0.2]), '3.64'],
    ['glass 4 mm', wall([4, 1]), '3.79'],
    ['softwood 12 mm', softwood, '2.84'],
    ['softwood 18 mm', wall([18, 0.13]), '2.51'],
    ['plasterboard 12.5 mm', plasterboard, '3.23'],
    ['polystyrene 25 mm', foam, '1.03'],
    ['polystyrene 50 mm', wall([50, 0.035]), '0.59'],
    ['plasterboard and polystyrene', boardAndFoam, '0.976'],
  ])('%s', (_name, layers, shown) => {
    expectShown(uValueWPerM2K(layers), shown);
  });
});

describe('box of 0.6 x 0.6 x 0.7 m with 100 W inside', () => {
  const rise = (layers: WallLayer[], changes: number) =>
    boxRiseK(100, 2.4, uValueWPerM2K(layers), 0.252, changes);

  it.each([
    ['acrylic', acrylic, '11.5', '11.3', '10.5'],
    ['softwood', softwood, '14.7', '14.3', '13.1'],
    ['plasterboard', plasterboard, '12.9', '12.6', '11.6'],
    ['polystyrene', foam, '40.6', '38.0', '30.2'],
    ['plasterboard and polystyrene', boardAndFoam, '42.7', '39.8', '31.4'],
  ])('%s: tight, 2 and 10 changes of air an hour (computed beforehand)', (_name, layers, tight, two, ten) => {
    expectShown(rise(layers, 0), tight);
    expectShown(rise(layers, 2), two);
    expectShown(rise(layers, 10), ten);
  });

  it('gains 5 to 15 K of wood or acrylic, 20 to 40 of foam (common practice, no source)', () => {
    for (const layers of [acrylic, softwood]) {
      expect(rise(layers, 2)).toBeGreaterThan(5);
      expect(rise(layers, 2)).toBeLessThan(15);
    }
    expect(rise(foam, 2)).toBeGreaterThan(20);
    expect(rise(foam, 2)).toBeLessThan(40);
  });

  it('another layer never cools it, more air always does', () => {
    const mm = fc.double({ min: 0.1, max: 100, noNaN: true });
    fc.assert(
      fc.property(mm, fc.double({ min: 0.02, max: 2, noNaN: true }), (thicknessMm, conductivity) => {
        const thicker = [...softwood, { thicknessMm, conductivity }];
        expect(rise(thicker, 2)).toBeGreaterThan(rise(softwood, 2));
        expect(rise(thicker, 3)).toBeLessThan(rise(thicker, 2));
      }),
    );
  });
});
