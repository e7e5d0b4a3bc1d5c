import { bitsOf, countBits, type Digit } from './digit.ts';
import { compileProgramme } from './programme.ts';
import { marginalsOf } from './runProgramme.ts';

/** The programme takes time 2 ^ bits; ten bits are a few milliseconds. */
export const MAX_BITS = 10;

/**
 * Makes room: the digits that move the causes most, beside the goal, are kept, up to MAX_BITS bits. The others are
 * absorbed one at a time: each alone updates the chances of the causes (`stay` and `fire`, in place), and what makes
 * the causes dependent is dropped (assumed-density filtering; Boyen and Koller 1998). An approximation.
 */
export function absorbWeakest(
  digits: readonly Digit[],
  goal: Digit | undefined,
  stay: Float64Array,
  fire: Float64Array,
): { digits: Digit[]; logAbsorbed: number } {
  const base = goal ? [goal] : [];
  const before = posteriorOf(base, stay, fire).posterior;
  const ranked = digits
    .map((digit, order) => ({ digit, order }))
    .filter(({ digit }) => digit !== goal)
    .map(({ digit, order }) => {
      const { posterior } = posteriorOf([digit, ...base], stay, fire);
      return { digit, order, effect: distance(posterior, before) };
    })
    .sort((a, b) => b.effect - a.effect || a.order - b.order);
  let room = MAX_BITS - countBits(base);
  const kept = new Set(base);
  for (const { digit } of ranked) {
    if (bitsOf(digit) > room) continue;
    kept.add(digit);
    room -= bitsOf(digit);
  }
  let logAbsorbed = 0;
  for (const digit of digits) {
    if (kept.has(digit)) continue;
    const { posterior, total } = posteriorOf([digit], stay, fire);
    logAbsorbed += Math.log(total);
    if (!(total > 0)) break;
    for (let cause = 0; cause < fire.length; cause += 1) {
      const present = Math.min(1, posterior[cause]!);
      fire[cause] = present;
      stay[cause] = 1 - present;
    }
  }
  return { digits: digits.filter((digit) => kept.has(digit)), logAbsorbed };
}

function posteriorOf(digits: readonly Digit[], stay: Float64Array, fire: Float64Array) {
  const posterior = fire.slice();
  const programme = compileProgramme(digits, fire.length);
  const total = marginalsOf(programme, stay, fire, fire, posterior);
  for (const { members } of programme.groups) {
    for (const cause of members) posterior[cause] = total > 0 ? posterior[cause]! / total : 0;
  }
  return { posterior, total };
}

function distance(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let index = 0; index < a.length; index += 1) sum += Math.abs(a[index]! - b[index]!);
  return sum;
}
