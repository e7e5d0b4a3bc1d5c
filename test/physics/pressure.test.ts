import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  flowRampMm,
  pressureLagS,
  smallestDetailMm,
  speedRampMm,
  storedLengthMm,
  storedVolumeMm3,
} from '../../src/physics/pressure.ts';
import { expectShown } from './expectShown.ts';

const direct = { driveDistanceMm: 40, filamentModulusMPa: 3300 };
const bowden = { driveDistanceMm: 600, filamentModulusMPa: 3300 };

describe('pressure lag, resistance 0.7, melt 48 mm3 (constants from memory; computed beforehand)', () => {
  it.each([
    ['direct, PLA', 40, 3300, '0.077', '0.054', '0.386', '0.16'],
    ['bowden, PLA', 600, 3300, '0.485', '0.340', '2.427', '1.01'],
    ['bowden, PETG', 600, 2100, '0.735', '0.515', '3.676', '1.53'],
    ['direct, soft polyurethane', 40, 60, '1.65', '1.16', '8.26', '3.43'],
    ['bowden, soft polyurethane', 600, 60, '24.1', '16.9', '1.2e2', '50'],
  ])('%s', (_name, driveDistanceMm, filamentModulusMPa, give, lag, volume, filament) => {
    const path = { driveDistanceMm, filamentModulusMPa };
    expectShown(storedVolumeMm3({ ...path, pressureMPa: 1 }), give);
    expectShown(pressureLagS(path), lag);
    expectShown(storedVolumeMm3(path), volume);
    expectShown(storedLengthMm(path), filament);
  });

  it('stiff filament lies in the trade ranges, 0.02-0.06 s direct, 0.3-0.9 s bowden (common practice, no source)', () => {
    expect(pressureLagS(direct)).toBeGreaterThan(0.02);
    expect(pressureLagS(direct)).toBeLessThan(0.06);
    expect(pressureLagS(bowden)).toBeGreaterThan(0.3);
    expect(pressureLagS(bowden)).toBeLessThan(0.9);
  });

  it('farther and softer lag more', () => {
    const distance = fc.double({ min: 10, max: 1000, noNaN: true });
    const modulus = fc.double({ min: 20, max: 5000, noNaN: true });
    const more = fc.double({ min: 1.01, max: 10, noNaN: true });
    fc.assert(
      fc.property(distance, modulus, more, (driveDistanceMm, filamentModulusMPa, factor) => {
        const lag = pressureLagS({ driveDistanceMm, filamentModulusMPa });
        const farther = { driveDistanceMm: driveDistanceMm * factor, filamentModulusMPa };
        const softer = { driveDistanceMm, filamentModulusMPa: filamentModulusMPa / factor };
        expect(pressureLagS(farther)).toBeGreaterThan(lag);
        expect(pressureLagS(softer)).toBeGreaterThan(lag);
      }),
    );
  });
});

describe('ramps and the smallest detail (computed beforehand)', () => {
  it('flow', () => {
    expectShown(flowRampMm(100, pressureLagS(direct)), '5.4');
    expectShown(flowRampMm(100, pressureLagS(bowden)), '34');
    expectShown(flowRampMm(40, pressureLagS(direct)), '2.2');
    expectShown(flowRampMm(40, pressureLagS(bowden)), '13.6');
  });

  it('speed', () => {
    expectShown(speedRampMm(100, 3000), '1.67');
    expectShown(speedRampMm(300, 10_000), '4.5');
  });

  it('detail, with a fifth of the lag left over', () => {
    expectShown(smallestDetailMm(40, pressureLagS(direct), 0.2), '1.3');
    expectShown(smallestDetailMm(40, pressureLagS(bowden), 0.2), '8.2');
  });
});
