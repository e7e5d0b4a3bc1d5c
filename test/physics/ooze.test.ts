import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oozeVolumeMm3, steamRatio, stringVolumeMm3 } from '../../src/physics/ooze.ts';
import { expectShown, expectWithin } from './expectShown.ts';

describe('ooze', () => {
  it('a hair of 0.05 by 50 mm holds 0.098 mm3 (computed beforehand)', () => {
    expectShown(stringVolumeMm3(0.05, 50), '0.098');
  });

  it('halves when the travel is twice as fast or half as long (derived)', () => {
    const leak = fc.double({ min: 0.001, max: 5, noNaN: true });
    fc.assert(
      fc.property(leak, fc.double({ min: 1, max: 500, noNaN: true }), (q, travel) => {
        const volume = oozeVolumeMm3(q, travel, 120);
        expectWithin(oozeVolumeMm3(q, travel, 240), volume / 2, 1e-12);
        expectWithin(oozeVolumeMm3(q, travel / 2, 120), volume / 2, 1e-12);
      }),
    );
  });
});

describe('steam for each volume of plastic', () => {
  it.each([
    ['PLA', 0.05, 220, 1240, '1.39'],
    ['PLA', 0.1, 220, 1240, '2.79'],
    ['PLA', 0.2, 220, 1240, '5.57'],
    ['PLA', 0.5, 220, 1240, '13.9'],
    ['nylon', 0.2, 260, 1130, '5.49'],
    ['nylon', 3, 260, 1130, '82'],
  ])(
    '%s with %d %% water at %d degC (ideal gas; computed beforehand)',
    (_name, water, nozzle, density, shown) => {
      expectShown(steamRatio(water, nozzle, density), shown);
    },
  );

  it('steam at 200 degC, 1 atm takes 2.144 m3/kg by steam tables (from memory, 2.172 at 1 bar), within 1 %', () => {
    // 1 kg of water in 1 m3 of plastic of 1000 kg/m3 is 0.1 %, so the ratio is the specific volume itself.
    expectWithin(steamRatio(0.1, 200, 1000), 2.144, 0.01);
  });

  it('dry filament gives none', () => {
    expect(steamRatio(0, 220, 1240)).toBe(0);
  });
});
