import { requireAbove, requireFinite, requireRange } from './domain.ts';

/**
 * Battery a backup supply needs, Wh: average draw x minutes / 60 / efficiency.
 * @param averageW average draw, W; 0 to 100 000
 * @param minutes time to bridge, min; 0 to 100 000
 * @param efficiency of the inverter; above 0, at most 1, default 0.85 (0.8 to 0.9)
 * Valid: a new battery; plan for 70 % of it after three years (common practice). It bridges a flicker; it does not make
 * unattended printing safe. Source: derived. Agreement: +/- 10 %.
 */
export function batteryEnergyWh(averageW: number, minutes: number, efficiency = 0.85): number {
  requireRange('averageW', averageW, 'W', 0, 100_000);
  requireRange('minutes', minutes, 'min', 0, 100_000);
  requireAbove('efficiency', efficiency, '', 0, 1);
  return requireFinite('batteryEnergyWh', (averageW * minutes) / 60 / efficiency, 'Wh');
}

/**
 * Rating a backup supply needs, VA: peak draw / power factor x margin. Its limit in watts must hold as well.
 * @param peakW draw with all heaters on, W; 0 to 100 000
 * @param powerFactor watts over volt-amperes of the unit; above 0, at most 1, default 0.6 (when it states no watts)
 * @param margin factor in hand; 1 to 10, default 1.25 (common practice)
 * Valid: any unit. Source: derived; the default power factor is published by makers of such units. Agreement: exact.
 */
export function apparentPowerVA(peakW: number, powerFactor = 0.6, margin = 1.25): number {
  requireRange('peakW', peakW, 'W', 0, 100_000);
  requireAbove('powerFactor', powerFactor, '', 0, 1);
  requireRange('margin', margin, '', 1, 10);
  return requireFinite('apparentPowerVA', (peakW / powerFactor) * margin, 'VA');
}
