import { requireFinite, requireLength, requirePositive, requireRange } from './domain.ts';

/** One layer of a wall. */
export interface WallLayer {
  /** Thickness, mm; above 0. */
  readonly thicknessMm: number;
  /** Conductivity, W/(m K); above 0. Plywood 0.13, acrylic 0.18, glass 1.0, polystyrene foam 0.035. */
  readonly conductivity: number;
}

/** Heat held by 1 m3/h of air, W/K: 1.2 kg/m3 x 1005 J/(kg K) / 3600 s, rounded as in the trade. */
const AIR_W_PER_K = 0.335;

/**
 * Heat a wall lets through, W/(m2 K): 1 / (inside film + sum of d / lambda + outside film).
 * @param layers the wall from inside to outside; thickness mm and conductivity W/(m K), each above 0
 * @param insideFilm resistance of the air film inside, m2 K/W; above 0, default 0.13
 * @param outsideFilm resistance of the air film outside, m2 K/W; above 0, default 0.13 (still air; 0.04 in wind)
 * Valid: flat walls, steady. Source: published, ISO 6946 (films), ISO 10456 (conductivities). Agreement: as the
 * standard; for thin walls the films are nearly all of it.
 */
export function uValueWPerM2K(layers: readonly WallLayer[], insideFilm = 0.13, outsideFilm = 0.13): number {
  requirePositive('insideFilm', insideFilm, 'm2 K/W');
  requirePositive('outsideFilm', outsideFilm, 'm2 K/W');
  let resistance = insideFilm + outsideFilm;
  for (const layer of layers) {
    requireLength('thicknessMm', layer.thicknessMm);
    requirePositive('conductivity', layer.conductivity, 'W/(m K)');
    resistance += (layer.thicknessMm * 1e-3) / layer.conductivity;
  }
  return requireFinite('uValueWPerM2K', 1 / resistance, 'W/(m2 K)');
}

/**
 * How much warmer than the room a box round the printer gets, K: P / (U A + 0.335 n V).
 * @param powerW heat released inside, nearly all the electricity used inside, W; 0 to 100 000
 * @param areaM2 outer area of the box, m2; above 0
 * @param uValue heat let through, W/(m2 K); above 0. See `uValueWPerM2K`.
 * @param volumeM3 volume of the box, m3; above 0
 * @param airChangesPerHour changes of air by leaks or fan, 1/h; 0 to 10 000
 * Valid: steady (one to two hours), well mixed; hotter above the bed. Show the cautions on heat and fire with any advice
 * to box a printer in: foam burns, and electronics and motors dislike more than 40 to 45 degC (common practice).
 * Source: derived, heat balance. Agreement: +/- 30 %; trade habit is 5-15 K for wood or acrylic, 20-40 K with foam.
 */
export function boxRiseK(
  powerW: number,
  areaM2: number,
  uValue: number,
  volumeM3: number,
  airChangesPerHour: number,
): number {
  requireRange('powerW', powerW, 'W', 0, 100_000);
  requirePositive('areaM2', areaM2, 'm2');
  requirePositive('uValue', uValue, 'W/(m2 K)');
  requirePositive('volumeM3', volumeM3, 'm3');
  requireRange('airChangesPerHour', airChangesPerHour, '1/h', 0, 10_000);
  return requireFinite(
    'boxRiseK',
    powerW / (uValue * areaM2 + AIR_W_PER_K * airChangesPerHour * volumeM3),
    'K',
  );
}
