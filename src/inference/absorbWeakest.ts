import { bitsOf, countBits, type Digit } from './digit.ts';
import { compileProgramme } from './programme.ts';
import { marginalsOf } from './runProgramme.ts';

/** The programme takes time 2 ^ bits; ten bits are a millisecond or two. */
export const MAX_BITS = 10;

/** Bits of the kept digits that are looked at while another is absorbed: more are slower and hardly nearer the truth. */
const CONTEXT_BITS = 8;

/**
 * Makes room: the digits that move the causes most, beside the goal, are kept, up to MAX_BITS bits. The others are
 * absorbed one at a time into the chances of the causes (`stay` and `fire`, in place): each as the odds factor it lends
 * to every cause beside the strongest of those kept, so that what they explain already is not explained twice. That it
 * also makes causes depend on each other is dropped (assumed-density filtering; Boyen and Koller 1998). An approximation.
 */
export function absorbWeakest(
  digits: readonly Digit[],
  goal: Digit | undefined,
  stay: Float64Array,
  fire: Float64Array,
): { digits: Digit[]; logAbsorbed: number } {
  const strongest = rankByEffect(digits, goal, stay, fire);
  const kept = new Set(fitting(strongest, MAX_BITS));
  const context = fitting(strongest, CONTEXT_BITS);
  let logAbsorbed = 0;
  for (const digit of digits) {
    if (!kept.has(digit)) logAbsorbed += absorb(digit, context, stay, fire);
    if (logAbsorbed === -Infinity) break;
  }
  return { digits: digits.filter((digit) => kept.has(digit)), logAbsorbed };
}

/** The goal first, then by how far a digit moves the causes when it joins the goal. */
function rankByEffect(
  digits: readonly Digit[],
  goal: Digit | undefined,
  stay: Float64Array,
  fire: Float64Array,
): Digit[] {
  const base = goal ? [goal] : [];
  const before = posteriorOf(base, stay, fire).posterior;
  const ranked = digits
    .filter((digit) => digit !== goal)
    .map((digit, order) => {
      const { posterior } = posteriorOf([digit, ...base], stay, fire);
      return { digit, order, effect: distance(posterior, before) };
    })
    .sort((a, b) => b.effect - a.effect || a.order - b.order);
  return [...base, ...ranked.map(({ digit }) => digit)];
}

function fitting(digits: readonly Digit[], bits: number): Digit[] {
  const taken: Digit[] = [];
  for (const digit of digits) if (countBits(taken) + bitsOf(digit) <= bits) taken.push(digit);
  return taken;
}

/** Returns the logarithm of the chance of the digit beside the context. */
function absorb(digit: Digit, context: readonly Digit[], stay: Float64Array, fire: Float64Array): number {
  const without = posteriorOf(context, stay, fire);
  const joined = posteriorOf([...context, digit], stay, fire);
  if (!(joined.total > 0)) return -Infinity;
  for (let cause = 0; cause < fire.length; cause += 1) {
    const before = without.posterior[cause]!;
    const after = Math.min(1, joined.posterior[cause]!);
    // What is certain either way stays so.
    if (!(before > 0 && before < 1)) continue;
    const present = (fire[cause]! * after) / before;
    const absent = (stay[cause]! * (1 - after)) / (1 - before);
    fire[cause] = present / (present + absent);
    stay[cause] = absent / (present + absent);
  }
  return Math.log(joined.total / without.total);
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
