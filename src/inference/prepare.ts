import { absorbWeakest, MAX_BITS } from './absorbWeakest.ts';
import { countBits, type Digit, weakenGoal } from './digit.ts';
import type { Evidence, Network } from './network.ts';
import { readRuns, weightOf } from './observation.ts';
import { compileProgramme, type Programme } from './programme.ts';

/** One network with the evidence taken in, ready to be run. */
export interface Prepared {
  readonly network: Network;
  /** Logarithm of what was divided out on the way; -Infinity when the evidence cannot happen. */
  readonly logScale: number;
  /** Chance of each cause being absent or present given the findings that only exclude levels; they add up to 1. */
  readonly stay: Float64Array;
  readonly fire: Float64Array;
  /** All digits, the goal last. */
  readonly programme: Programme;
  readonly goal: Goal | undefined;
  /** Findings too many for the programme were absorbed one at a time. */
  readonly approximated: boolean;
}

/** What it takes to ask who is responsible for the goal. */
export interface Goal {
  readonly digit: Digit;
  /** The digits but the goal, for the world in which no other cause and no leak touches the goal. */
  readonly programme: Programme;
  /** Present, and leaving the goal at level 0. */
  readonly calmFire: Float64Array;
  /** Present, and bringing the goal alone to a level that fits the observation, times the weight of that level. */
  readonly hitFire: Float64Array;
  /** Chance that the leak leaves the goal at level 0, given that it stays within the observed level. */
  readonly leakCalm: number;
}

export function prepare(network: Network, evidence: Evidence): Prepared {
  const stay = network.prior.map((chance) => 1 - chance);
  const fire = network.prior.slice();
  const { digits, goalDigit, logAbsorbed } = takeIn(network, evidence, fire);
  let logScale = logAbsorbed + normalise(stay, fire);
  const approximated = countBits(digits) > MAX_BITS && logScale > -Infinity;
  const kept = approximated ? absorbWeakest(digits, goalDigit, stay, fire) : { digits, logAbsorbed: 0 };
  logScale += kept.logAbsorbed;
  const goal = goalDigit && describeGoal(goalDigit, kept.digits, evidence, fire);
  const also = goal && touches(goal.digit, network.prior.length);
  const programme = compileProgramme(kept.digits, network.prior.length, also);
  return { network, logScale, stay, fire, programme, goal, approximated };
}

/** Absorbs what excludes levels into `fire`; what distinguishes runs becomes a digit. Findings are taken in rising order. */
function takeIn(network: Network, evidence: Evidence, fire: Float64Array) {
  const digits: Digit[] = [];
  let goalDigit: Digit | undefined;
  let logAbsorbed = 0;
  for (const index of [...evidence.observed.keys()].sort((a, b) => a - b)) {
    const isGoal = index === evidence.goal;
    const original = network.findings[index]!;
    const finding = isGoal && evidence.tried ? weakenGoal(original, evidence.tried) : original;
    const runs = readRuns(finding.levels, evidence.observed.get(index)!);
    logAbsorbed += runs.logLargest;
    if (runs.top < finding.levels - 1) {
      logAbsorbed += Math.log(finding.leak[runs.top]!);
      for (let row = 0; row < finding.parents.length; row += 1) {
        const cause = finding.parents[row]!;
        fire[cause] = fire[cause]! * finding.atMost[row * finding.levels + runs.top]!;
      }
    }
    if (runs.ends.length === 1) continue;
    if (isGoal) goalDigit = { finding, runs };
    else digits.push({ finding, runs });
  }
  if (goalDigit) digits.push(goalDigit);
  return { digits, goalDigit, logAbsorbed };
}

/** Scales stay and fire of each cause to add up to 1 and returns the logarithm of what was divided out. */
function normalise(stay: Float64Array, fire: Float64Array): number {
  let logScale = 0;
  for (let cause = 0; cause < fire.length; cause += 1) {
    const sum = stay[cause]! + fire[cause]!;
    logScale += Math.log(sum);
    if (!(sum > 0)) continue;
    stay[cause] = stay[cause]! / sum;
    fire[cause] = fire[cause]! / sum;
  }
  return logScale;
}

function touches(digit: Digit, causes: number): Uint8Array {
  const touched = new Uint8Array(causes);
  for (const cause of digit.finding.parents) touched[cause] = 1;
  return touched;
}

function describeGoal(digit: Digit, digits: readonly Digit[], evidence: Evidence, fire: Float64Array): Goal {
  const { parents, atMost, leak, levels } = digit.finding;
  const { top, logLargest } = digit.runs;
  const observation = evidence.observed.get(evidence.goal!)!;
  const calmFire = fire.slice();
  const hitFire = new Float64Array(fire.length);
  for (let row = 0; row < parents.length; row += 1) {
    const cause = parents[row]!;
    const whole = atMost[row * levels + top]!;
    // A cause that always goes beyond the observed level is absent for certain; nothing is to be shared out.
    if (!(whole > 0)) continue;
    let hit = 0;
    for (let level = 1; level <= top; level += 1) {
      const exactly = atMost[row * levels + level]! - atMost[row * levels + level - 1]!;
      hit += weightOf(observation, level) * exactly;
    }
    calmFire[cause] = (fire[cause]! * atMost[row * levels]!) / whole;
    hitFire[cause] = (fire[cause]! * hit) / (whole * Math.exp(logLargest));
  }
  const others = digits.filter((other) => other !== digit);
  const programme = compileProgramme(others, fire.length, membersOf(digits, fire.length, digit));
  return { digit, programme, calmFire, hitFire, leakCalm: leak[top]! > 0 ? leak[0]! / leak[top]! : 0 };
}

/** Every cause that touches a digit: those of the goal count even where they touch nothing else. */
function membersOf(digits: readonly Digit[], causes: number, goal: Digit): Uint8Array {
  const members = touches(goal, causes);
  for (const digit of digits) for (const cause of digit.finding.parents) members[cause] = 1;
  return members;
}
