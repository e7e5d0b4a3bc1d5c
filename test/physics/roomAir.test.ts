import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { concentrationAfterPerM3, steadyConcentrationPerM3 } from '../../src/physics/roomAir.ts';
import { expectShown, expectWithin } from './expectShown.ts';

describe('what a printer leaves in a room', () => {
  it('particles in 40 m3, measured rates of ABS and PLA (rates published: Stephens 2013; computed beforehand)', () => {
    expectShown(steadyConcentrationPerM3(1.9e11 * 60, 40, 0.5, 1) / 1e6, '1.9e5');
    expectShown(steadyConcentrationPerM3(2e10 * 60, 40, 0.5, 1) / 1e6, '2.0e4');
  });

  it('styrene in 45 m3 at one change an hour (rates published: Azimi 2016; computed beforehand)', () => {
    expectShown(steadyConcentrationPerM3(110 * 60, 45, 1), '147');
    expectShown(steadyConcentrationPerM3(10 * 60, 45, 1), '13');
  });

  it('lands on the 150 ug/m3 predicted for a small office (published: Azimi 2016), within 3 %', () => {
    expectWithin(steadyConcentrationPerM3(110 * 60, 45, 1), 150, 0.03);
  });

  it('is 95 % of the way after 3 / (n + k) hours (derived)', () => {
    const steady = steadyConcentrationPerM3(6600, 45, 0.5, 1);
    expectShown(concentrationAfterPerM3(6600, 45, 3 / 1.5, 0.5, 1) / steady, '0.95');
  });

  it('starts clean, rises, and never passes the settled value', () => {
    const rate = fc.double({ min: 0.1, max: 20, noNaN: true });
    fc.assert(
      fc.property(rate, fc.double({ min: 0, max: 20, noNaN: true }), (changes, hours) => {
        const now = concentrationAfterPerM3(1000, 30, hours, changes);
        expect(concentrationAfterPerM3(1000, 30, hours + 0.5, changes)).toBeGreaterThanOrEqual(now);
        expect(now).toBeLessThanOrEqual(steadyConcentrationPerM3(1000, 30, changes));
      }),
    );
    expect(concentrationAfterPerM3(1000, 30, 0, 1)).toBe(0);
  });

  it('refuses a room that loses nothing', () => {
    expect(() => steadyConcentrationPerM3(1000, 30, 0)).toThrow(RangeError);
  });
});
