import type { Finding, Remainder } from './network.ts';
import type { Runs } from './observation.ts';

/**
 * A finding the programme must keep track of: which run of levels has been reached so far. Run g is written as its
 * lowest g bits set, so that the larger of two runs is their bitwise OR.
 */
export interface Digit {
  readonly finding: Finding;
  readonly runs: Runs;
}

export function bitsOf(digit: Digit): number {
  return digit.runs.ends.length - 1;
}

export function countBits(digits: readonly Digit[]): number {
  let bits = 0;
  for (const digit of digits) bits += bitsOf(digit);
  return bits;
}

/**
 * Chance that one contributor stays within each run, given that it stays within the top level:
 * (C[end of g] - C[end of g - 1]) / C[top]. Each C is a figure of the network, so nothing cancels here.
 */
export function runChances(digit: Digit, cumulative: Float64Array, row: number, into: Float64Array): void {
  const { ends, top } = digit.runs;
  const at = row * digit.finding.levels;
  const whole = cumulative[at + top]!;
  let below = 0;
  for (let run = 0; run < ends.length; run += 1) {
    const upTo = cumulative[at + ends[run]!]!;
    into[run] = whole > 0 ? (upTo - below) / whole : Number(run === 0);
    below = upTo;
  }
}

/**
 * The goal after attempted fixes: a contribution above level 0 still counts with the share that the fixes left, so
 * "at most x" becomes 1 - share (1 - C[x]).
 */
export function weakenGoal(goal: Finding, tried: Remainder): Finding {
  const leak = goal.leak.map((atMost) => 1 - tried.leak * (1 - atMost));
  const atMost = goal.atMost.map((chance, index) => {
    const share = tried.causes[goal.parents[Math.floor(index / goal.levels)]!] ?? 1;
    return 1 - share * (1 - chance);
  });
  return { ...goal, leak, atMost };
}
