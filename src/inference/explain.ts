const MOST_ITEMS = 10;

/** A figure, or several at once (one for each cause, say). */
export type Worth = number | Float64Array;

/**
 * What each of several items contributes to a figure, averaged over all orders of adding them (Shapley 1953; for
 * weights of evidence, Kruskal 1987): sum over the sets S without the item of |S|! (m - |S| - 1)! / m! times
 * (value(S with it) - value(S)). The contributions add up to value(all) - value(none). `value` is asked once for each of
 * the 2 ^ items masks; at most 10 items. `value` may reuse the array it returns.
 */
export function shareOut(items: number, value: (mask: number) => Worth): Float64Array[] {
  if (items > MOST_ITEMS) throw new RangeError(`shareOut takes at most ${MOST_ITEMS} items, not ${items}`);
  const values = Array.from({ length: 1 << items }, (_, mask) => toArray(value(mask)));
  const length = values[0]!.length;
  const weights = orderWeights(items);
  return Array.from({ length: items }, (_, item) => {
    const share = new Float64Array(length);
    for (let mask = 0; mask < values.length; mask += 1) {
      if (mask & (1 << item)) continue;
      addDifference(share, values[mask | (1 << item)]!, values[mask]!, weights[countOnes(mask)]!);
    }
    return share;
  });
}

/** What each item adds when it comes last: value(all) - value(all but it). These do not add up; the cost is linear. */
export function leaveOneOut(items: number, value: (without: number | undefined) => Worth): Float64Array[] {
  const whole = toArray(value(undefined));
  return Array.from({ length: items }, (_, item) => {
    const share = new Float64Array(whole.length);
    addDifference(share, whole, toArray(value(item)), 1);
    return share;
  });
}

/** Natural logarithm of p / (1 - p), finite: 0 and 1 count as the nearest chances a double can tell from them. */
export function logOdds(chance: number): number {
  const inside = Math.min(1 - Number.EPSILON / 2, Math.max(Number.MIN_VALUE, chance));
  return Math.log(inside) - Math.log1p(-inside);
}

/** Ten times the decimal logarithm, from a natural one (Good 1985). */
export function decibans(nats: number): number {
  return (10 / Math.LN10) * nats;
}

/** 1 / (m C(m - 1, s)) for each size s: the share of the m! orders in which exactly a given set of s comes before. */
function orderWeights(items: number): number[] {
  const weights: number[] = [];
  let choose = 1;
  for (let size = 0; size < items; size += 1) {
    weights.push(1 / (items * choose));
    choose = (choose * (items - 1 - size)) / (size + 1);
  }
  return weights;
}

function toArray(worth: Worth): Float64Array {
  return typeof worth === 'number' ? Float64Array.of(worth) : worth.slice();
}

function addDifference(into: Float64Array, a: Float64Array, b: Float64Array, weight: number): void {
  for (let index = 0; index < into.length; index += 1) {
    into[index] = into[index]! + weight * (a[index]! - b[index]!);
  }
}

function countOnes(mask: number): number {
  let count = 0;
  for (let rest = mask; rest > 0; rest &= rest - 1) count += 1;
  return count;
}
