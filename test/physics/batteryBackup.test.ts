import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apparentPowerVA, batteryEnergyWh } from '../../src/physics/batteryBackup.ts';
import { expectShown, expectWithin } from './expectShown.ts';

describe('battery backup', () => {
  it('120 W mean, 300 W peak, 15 min (computed beforehand)', () => {
    expectShown(batteryEnergyWh(120, 15), '35.3');
    expectShown(apparentPowerVA(300), '625');
    expectShown(apparentPowerVA(300, 0.9), '417');
  });

  it('189.5 W mean, 279 W peak of a 300 mm bed (draw published by users; computed beforehand)', () => {
    expectShown(batteryEnergyWh(189.5, 10), '37.2');
    expectShown(apparentPowerVA(279), '581');
  });

  it('grows in proportion to draw and time, and with losses', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 500, noNaN: true }), (watts) => {
        expectWithin(batteryEnergyWh(watts, 20), 2 * batteryEnergyWh(watts, 10), 1e-12);
        expect(batteryEnergyWh(watts, 10, 0.8)).toBeGreaterThan(batteryEnergyWh(watts, 10, 0.9));
      }),
    );
  });
});
