import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  plateBucklingFactor,
  plateBucklingStrain,
  roundPinBendMm,
  squarePinBendMm,
  stripBucklingStrain,
  thicknessForWavinessMm,
  wallBendMm,
  wallWaviness,
} from '../../src/physics/wall.ts';
import { expectShown, expectWithin } from './expectShown.ts';

describe('buckling', () => {
  it('strip of 0.8 on 60 mm, pinned and clamped (Euler; computed beforehand)', () => {
    expectShown(stripBucklingStrain(0.8, 60), '1.462e-4');
    expectShown(stripBucklingStrain(0.8, 60, 0.5), '5.849e-4');
  });

  it('plate coefficient of supported plates: 4 for a square, 6.25 for one half as wide (published formula)', () => {
    expect(plateBucklingFactor(100, 100)).toBeCloseTo(4, 12);
    expect(plateBucklingFactor(100, 50)).toBeCloseTo(6.25, 12);
  });

  it('stress of a supported plate of 200 GPa is 3.62 E (t/b)^2, 289.2 MPa at b/t 50 (published coefficient)', () => {
    const strain = plateBucklingStrain(1, 50, 4, 0.3);
    expectShown(strain * 200_000, '289.2');
    expectWithin(strain * 50 ** 2, 3.62, 0.002);
  });

  it.each([
    [0.45, '1.53e-4', '16.0'],
    [0.8, '4.83e-4', '5.1'],
    [1.2, '1.086e-3', '2.3'],
    [1.6, '1.931e-3', '1.3'],
    [2.4, '4.344e-3', '0.56'],
  ])(
    'wall of %d mm, 40 mm high, PLA shrinking 0.245 %% (k from memory; computed beforehand)',
    (t, strain, ratio) => {
      expectShown(plateBucklingStrain(t, 40), strain);
      expectShown(wallWaviness(t, 40, 0.00245), ratio);
    },
  );

  it.each([
    ['PLA', 0.00245, '0.045'],
    ['PETG', 0.00374, '0.056'],
    ['ABS', 0.0074, '0.078'],
    ['a plastic shrinking 2 %', 0.02, '0.129'],
  ])('thickness over height at ratio 1: %s (computed beforehand)', (_name, strain, shown) => {
    expectShown(thicknessForWavinessMm(1, 1, strain), shown);
  });

  it('twice the thickness or half the height divides the ratio by 4; the inverse leads back', () => {
    const t = fc.double({ min: 0.2, max: 10, noNaN: true });
    const h = fc.double({ min: 1, max: 500, noNaN: true });
    const strain = fc.double({ min: 1e-4, max: 0.03, noNaN: true });
    fc.assert(
      fc.property(t, h, strain, (thickness, height, shrink) => {
        const ratio = wallWaviness(thickness, height, shrink);
        expectWithin(wallWaviness(2 * thickness, height, shrink), ratio / 4, 1e-12);
        expectWithin(wallWaviness(thickness, height / 2, shrink), ratio / 4, 1e-12);
        expectWithin(thicknessForWavinessMm(ratio, height, shrink), thickness, 1e-12);
      }),
    );
  });
});

describe('bending under 0.5 N at 40 mm (beam theory; computed beforehand)', () => {
  it('pins and walls of 3.3 GPa', () => {
    expectShown(squarePinBendMm(0.5, 40, 3, 3.3), '0.479');
    expectShown(roundPinBendMm(0.5, 40, 5, 3.3), '0.105');
    expectShown(wallBendMm(0.5, 40, 20, 0.8, 3.3), '3.79');
    expectShown(wallBendMm(0.5, 40, 20, 1.2, 3.3), '1.12');
  });

  it('in an elastomer of 50 MPa the wall would bend far beyond its height', () => {
    expectShown(wallBendMm(0.5, 40, 20, 0.8, 0.05), '250');
  });

  it('grows with the cube of the height and falls with the fourth power of a pin', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 20, noNaN: true }), (d) => {
        const bend = roundPinBendMm(0.5, 40, d, 3.3);
        expectWithin(roundPinBendMm(0.5, 80, d, 3.3), 8 * bend, 1e-12);
        expectWithin(roundPinBendMm(0.5, 40, 2 * d, 3.3), bend / 16, 1e-12);
      }),
    );
  });
});
