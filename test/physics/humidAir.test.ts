import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  absoluteHumidityGPerM3,
  dewPointC,
  humidityAfterHeatingPercent,
  saturationPressureHPa,
} from '../../src/physics/humidAir.ts';
import { expectShown, expectWithin } from './expectShown.ts';

const air = fc.double({ min: -40, max: 60, noNaN: true });
const humidity = fc.double({ min: 1, max: 100, noNaN: true });

describe('saturation pressure', () => {
  it.each([
    [0, '6.112'],
    [10, '12.260'],
    [20, '23.326'],
    [25, '31.601'],
    [30, '42.337'],
    [40, '73.675'],
    [50, '123.452'],
    [60, '199.933'],
  ])('%d degC (Sonntag 1990 short form, published constants; computed beforehand)', (t, shown) => {
    expectShown(saturationPressureHPa(t), shown);
  });

  it.each([
    [80, 474.1, 0.013],
    [100, 1014.2, 0.026],
  ])(
    '%d degC, beyond its range, against steam tables (from memory): within the error stated',
    (t, table, share) => {
      expectWithin(saturationPressureHPa(t), table, share);
    },
  );
});

describe('dew point and water in the air', () => {
  it.each([
    [20, 50, 9.3, '9.26', 8.7, '8.62'],
    [20, 60, 12.0, '12.00', 10.4, '10.34'],
    [20, 40, 6.0, '5.98', 6.9, '6.90'],
    [20, 80, 16.4, '16.44', 13.8, '13.79'],
    [25, 50, 13.8, '13.85', 11.5, '11.48'],
    [25, 60, 16.7, '16.69', 13.8, '13.78'],
    [25, 30, 6.2, '6.21', 6.9, '6.89'],
    [15, 60, 7.3, '7.29', 7.7, '7.68'],
    [10, 50, 0.1, '0.04', 4.7, '4.69'],
  ])(
    '%d degC, %d %% against a weather-station page and a climate table (published)',
    (t, rh, dew, dewDigits, water, waterDigits) => {
      expect(Math.abs(dewPointC(t, rh) - dew)).toBeLessThan(0.1);
      expectShown(dewPointC(t, rh), dewDigits);
      expectWithin(absoluteHumidityGPerM3(t, rh), water, 0.01);
      expectShown(absoluteHumidityGPerM3(t, rh), waterDigits);
    },
  );

  it.each([
    [20, 17.3, '17.24'],
    [25, 23.0, '22.97'],
    [30, 30.4, '30.26'],
    [35, 39.6, '39.47'],
    [40, 51.1, '50.98'],
  ])('saturated at %d degC within 0.5 %% of a published table', (t, table, shown) => {
    expectWithin(absoluteHumidityGPerM3(t, 100), table, 0.005);
    expectShown(absoluteHumidityGPerM3(t, 100), shown);
  });

  it('three more dew points (computed beforehand), one given as 20 in a coatings glossary (published)', () => {
    expectShown(dewPointC(23, 50), '12.01');
    expectShown(dewPointC(21, 65), '14.17');
    expectShown(dewPointC(30, 55), '19.97');
    expect(Math.abs(dewPointC(30, 55) - 20)).toBeLessThan(0.1);
  });

  it('the dew point is the air itself at 100 %, never above it, and saturates the same water', () => {
    fc.assert(
      fc.property(air, humidity, (t, rh) => {
        expect(dewPointC(t, 100)).toBeCloseTo(t, 9);
        expect(dewPointC(t, rh)).toBeLessThanOrEqual(t + 1e-9);
        const dew = dewPointC(t, rh);
        // Dry, cold air has its dew point below the range of the pressure formula, which must then refuse it.
        if (dew < -45) expect(() => saturationPressureHPa(dew)).toThrow(RangeError);
        else expectWithin(saturationPressureHPa(dew), (saturationPressureHPa(t) * rh) / 100, 1e-9);
      }),
    );
  });
});

describe('air brought to another temperature (computed beforehand)', () => {
  it.each([
    [20, 50, 45, '12.2'],
    [20, 50, 60, '5.8'],
    [20, 50, 70, '3.7'],
    [25, 60, 45, '19.8'],
    [23, 50, 80, '2.9'],
  ])('%d degC, %d %% to %d degC', (from, rh, to, shown) => {
    expectShown(humidityAfterHeatingPercent(from, rh, to), shown);
  });

  it('at 45 degC a warm box keeps about a quarter of the humidity of the room', () => {
    expect(humidityAfterHeatingPercent(20, 50, 45) / 50).toBeGreaterThan(0.2);
    expect(humidityAfterHeatingPercent(20, 50, 45) / 50).toBeLessThan(0.3);
  });

  it('heating never raises it, and heating and cooling back lead back', () => {
    fc.assert(
      fc.property(air, humidity, fc.double({ min: 0, max: 40, noNaN: true }), (t, rh, rise) => {
        const warm = humidityAfterHeatingPercent(t, rh, t + rise);
        expect(warm).toBeLessThanOrEqual(rh + 1e-9);
        expect(humidityAfterHeatingPercent(t + rise, warm, t)).toBeCloseTo(rh, 9);
      }),
    );
  });

  it('air cooled below its dew point stays at 100 %', () => {
    expect(humidityAfterHeatingPercent(25, 60, 5)).toBe(100);
  });
});
