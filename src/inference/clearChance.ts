import type { Evidence, Scenario } from './network.ts';
import { type Goal, type Prepared, prepare } from './prepare.ts';
import type { Programme } from './programme.ts';
import { totalOf } from './runProgramme.ts';

/**
 * Exact chance that the goal drops to level 0 when each cause k is removed with chance removal[k], independently, links,
 * leaks and all other contributions held as they are (the counterfactual reading of Richens et al. 2020; compare Breese
 * and Heckerman 1996). 0 without a goal.
 *
 * A present cause, given that the evidence holds, leaves the goal alone (it stays), brings it about and is removed (it
 * counts as an explanation of the evidence), or brings it about and survives (excluded). The leak must not bring it
 * about. All terms are non-negative.
 */
export function clearChance(
  scenarios: readonly Scenario[],
  evidence: Evidence,
  removal: Float64Array,
): number {
  return prepareClearing(scenarios, evidence)(removal);
}

/** The same for many removals under one body of evidence. */
export function prepareClearing(
  scenarios: readonly Scenario[],
  evidence: Evidence,
): (removal: Float64Array) => number {
  const worlds = scenarios.map(({ weight, network }) => {
    const prepared = prepare(network, evidence);
    const total =
      prepared.logScale === -Infinity ? 0 : totalOf(prepared.programme, prepared.stay, prepared.fire);
    return { prepared, total, log: Math.log(weight) + prepared.logScale + Math.log(total) };
  });
  const largest = Math.max(...worlds.map(({ log }) => log));
  const possible = worlds.filter(({ log }) => log > -Infinity);
  const whole = possible.reduce((sum, { log }) => sum + Math.exp(log - largest), 0);
  return (removal) => {
    let sum = 0;
    for (const { prepared, total, log } of possible) {
      sum += (Math.exp(log - largest) * clearedWeight(prepared, removal)) / total;
    }
    return whole > 0 ? Math.min(1, sum / whole) : 0;
  };
}

function clearedWeight({ programme, goal, stay, fire }: Prepared, removal: Float64Array): number {
  if (!goal) return 0;
  return totalOf(excludeSurvivors(programme, goal, fire, removal), stay, fire);
}

/** The goal's bits are the highest, so a table falls into a block with the goal in its lowest run and blocks above. */
function excludeSurvivors(
  programme: Programme,
  goal: Goal,
  fire: Float64Array,
  removal: Float64Array,
): Programme {
  const goalBits = goal.digit.runs.ends.length - 1;
  const start = programme.start.slice();
  const startBlock = programme.states >> goalBits;
  const lowest = lowestRunOfLeak(goal);
  scale(start, 0, startBlock, lowest > 0 ? goal.leakCalm / lowest : 0);
  start.fill(0, startBlock);
  const tables = programme.tables.slice();
  const { parents } = goal.digit.finding;
  for (let row = 0; row < parents.length; row += 1) {
    const cause = parents[row]!;
    const at = programme.tableAt[cause]!;
    const removed = removal[cause] ?? 0;
    const lowestRun = lowestRunOf(goal, row);
    const calm = fire[cause]! > 0 ? goal.calmFire[cause]! / fire[cause]! : 0;
    const size = programme.tableSize[cause]!;
    const block = lowestRun < 1 ? size >> goalBits : size;
    scale(tables, at, at + block, lowestRun > 0 ? (calm + removed * (lowestRun - calm)) / lowestRun : 0);
    scale(tables, at + block, at + size, removed);
  }
  return { ...programme, start, tables };
}

function lowestRunOf({ digit }: Goal, row: number): number {
  const { atMost, levels } = digit.finding;
  const whole = atMost[row * levels + digit.runs.top]!;
  return whole > 0 ? atMost[row * levels + digit.runs.ends[0]!]! / whole : 1;
}

function lowestRunOfLeak({ digit }: Goal): number {
  return digit.finding.leak[digit.runs.ends[0]!]! / digit.finding.leak[digit.runs.top]!;
}

function scale(values: Float64Array, from: number, to: number, factor: number): void {
  for (let index = from; index < to; index += 1) values[index] = values[index]! * factor;
}
