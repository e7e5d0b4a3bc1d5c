import { requireAbove, requireRange } from './domain.ts';
import { ZERO_C_IN_K } from './units.ts';

const SLOPE = 17.62;
const OFFSET_C = 243.12;

const requireAirTemperature = (name: string, valueC: number): void =>
  requireRange(name, valueC, 'degC', -45, 100);

/**
 * Pressure of water vapour in saturated air over water, hPa: 6.112 exp(17.62 t / (243.12 + t)).
 * @param airC air temperature, degC; -45 to 100
 * Valid: -45 to 60 degC; up to 100 it is taken as an estimate, too high by about 1 % at 80 and 2.5 % at 100.
 * Source: published, Sonntag 1990 (Z. Meteorol. 70, 340-344); same constants in the WMO guide to instruments.
 * Agreement: within 0.32 % of Sonntag's full equation from 0 to 60 degC.
 */
export function saturationPressureHPa(airC: number): number {
  requireAirTemperature('airC', airC);
  return 6.112 * Math.exp((SLOPE * airC) / (OFFSET_C + airC));
}

/**
 * Temperature at which water condenses out of the air, degC.
 * @param airC air temperature, degC; -45 to 100
 * @param humidityPercent relative humidity, %; above 0, at most 100
 * Valid and source: as `saturationPressureHPa`. Agreement: published tables within 0.1 degC.
 */
export function dewPointC(airC: number, humidityPercent: number): number {
  requireAirTemperature('airC', airC);
  requireAbove('humidityPercent', humidityPercent, '%', 0, 100);
  const g = Math.log(humidityPercent) - Math.log(100) + (SLOPE * airC) / (OFFSET_C + airC);
  return (OFFSET_C * g) / (SLOPE - g);
}

/**
 * Water in the air, g/m3: 216.68 e / (t + 273.15), e in hPa.
 * @param airC air temperature, degC; -45 to 100
 * @param humidityPercent relative humidity, %; 0 to 100
 * Valid and source: as `saturationPressureHPa`, with the ideal gas law. Agreement: saturated, published tables within
 * 0.5 %; a rounded public table within 1 %.
 */
export function absoluteHumidityGPerM3(airC: number, humidityPercent: number): number {
  requireRange('humidityPercent', humidityPercent, '%', 0, 100);
  return (216.68 * saturationPressureHPa(airC) * (humidityPercent / 100)) / (airC + ZERO_C_IN_K);
}

/**
 * Relative humidity of air brought to another temperature without adding or removing water, %.
 * @param airC temperature before, degC; -45 to 100
 * @param humidityPercent relative humidity before, %; 0 to 100
 * @param newC temperature after, degC; -45 to 100
 * Valid and source: as `saturationPressureHPa`; a box that breathes with the room. Air cooled below its dew point stays
 * at 100 while the rest condenses. Agreement: better than 1 % up to 60 degC, about 2 % at 80.
 */
export function humidityAfterHeatingPercent(airC: number, humidityPercent: number, newC: number): number {
  requireRange('humidityPercent', humidityPercent, '%', 0, 100);
  requireAirTemperature('newC', newC);
  return Math.min(100, (humidityPercent * saturationPressureHPa(airC)) / saturationPressureHPa(newC));
}
