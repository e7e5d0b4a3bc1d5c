import { requireFinite, requirePositive, requireRange } from './domain.ts';

function removalPerHour(airChangesPerHour: number, surfaceLossPerHour: number): number {
  requireRange('airChangesPerHour', airChangesPerHour, '1/h', 0, 10_000);
  requireRange('surfaceLossPerHour', surfaceLossPerHour, '1/h', 0, 10_000);
  const removal = airChangesPerHour + surfaceLossPerHour;
  requirePositive('airChangesPerHour + surfaceLossPerHour', removal, '1/h');
  return removal;
}

/**
 * Concentration a source settles to in a room, units of the source in each m3: E / (V (n + k)).
 * @param emissionPerHour what the printer gives off, any unit per hour; 0 to 1e30
 * @param volumeM3 volume of the room, m3; above 0
 * @param airChangesPerHour changes of air, 1/h; 0 to 10 000. Homes 0.3 to 1 (from memory).
 * @param surfaceLossPerHour loss to surfaces, 1/h; 0 to 10 000, default 0. Vapours 0; particles 0.68 to 5.03 by size
 *   (published: Lee, Wolfson, Catalano, Rudnick, Koutrakis 2014).
 * Valid: one well-mixed room; beside the printer it is higher. Never a health verdict: show it with the caution to
 * ventilate. Source: derived, mass balance; emission rates published (Stephens 2013, Azimi 2016). Agreement: order of
 * magnitude; reproduces the 150 ug/m3 of styrene that Azimi 2016 predicts for a small office.
 */
export function steadyConcentrationPerM3(
  emissionPerHour: number,
  volumeM3: number,
  airChangesPerHour: number,
  surfaceLossPerHour = 0,
): number {
  requireRange('emissionPerHour', emissionPerHour, '1/h', 0, 1e30);
  requirePositive('volumeM3', volumeM3, 'm3');
  const removal = removalPerHour(airChangesPerHour, surfaceLossPerHour);
  return requireFinite('steadyConcentrationPerM3', emissionPerHour / (volumeM3 * removal), '1/m3');
}

/**
 * Concentration in a room some time after the printer starts, units of the source in each m3:
 * the settled one times (1 - exp(-(n + k) t)).
 * @param emissionPerHour what the printer gives off, any unit per hour; 0 to 1e30
 * @param volumeM3 volume of the room, m3; above 0
 * @param hours time since the start, h; 0 to 1e6
 * @param airChangesPerHour changes of air, 1/h; 0 to 10 000
 * @param surfaceLossPerHour loss to surfaces, 1/h; 0 to 10 000, default 0
 * Valid, source and agreement: as `steadyConcentrationPerM3`; the air is taken as clean at the start.
 */
export function concentrationAfterPerM3(
  emissionPerHour: number,
  volumeM3: number,
  hours: number,
  airChangesPerHour: number,
  surfaceLossPerHour = 0,
): number {
  requireRange('hours', hours, 'h', 0, 1e6);
  const steady = steadyConcentrationPerM3(emissionPerHour, volumeM3, airChangesPerHour, surfaceLossPerHour);
  return steady * -Math.expm1(-removalPerHour(airChangesPerHour, surfaceLossPerHour) * hours);
}
