import type { Observation } from './network.ts';

/**
 * An observation in its shortest form: levels above `top` are excluded, and the levels up to it fall into runs of
 * neighbours that the observation cannot tell apart. A level that was seen gives the runs "below it" and "it".
 */
export interface Runs {
  readonly top: number;
  /** Last level of each run, rising to `top`. */
  readonly ends: readonly number[];
  /** Weight of each run, the largest being 1. */
  readonly weights: readonly number[];
  /** What was divided out of the weights; -Infinity when no level is possible. */
  readonly logLargest: number;
}

const ABSENT: Runs = { top: 0, ends: [0], weights: [1], logLargest: 0 };

export function readRuns(levels: number, observation: Observation): Runs {
  if (typeof observation === 'number') {
    if (observation === 0) return ABSENT;
    return { top: observation, ends: [observation - 1, observation], weights: [0, 1], logLargest: 0 };
  }
  let top = Math.min(levels, observation.length) - 1;
  while (top >= 0 && !(observation[top]! > 0)) top -= 1;
  if (top < 0) return { top: levels - 1, ends: [levels - 1], weights: [1], logLargest: -Infinity };
  let largest = 0;
  for (let level = 0; level <= top; level += 1) largest = Math.max(largest, observation[level]!);
  const ends: number[] = [];
  const weights: number[] = [];
  for (let level = 0; level <= top; level += 1) {
    if (level < top && observation[level] === observation[level + 1]) continue;
    ends.push(level);
    weights.push(observation[level]! / largest);
  }
  return { top, ends, weights, logLargest: Math.log(largest) };
}

/** The weight an observation gives to a level. */
export function weightOf(observation: Observation, level: number): number {
  if (typeof observation === 'number') return observation === level ? 1 : 0;
  return observation[level] ?? 0;
}

/** Two independent reports of one finding as one: their weights multiplied. */
export function combine(levels: number, a: Observation, b: Observation): Observation {
  return Array.from({ length: levels }, (_, level) => weightOf(a, level) * weightOf(b, level));
}
