import type { Action } from './action.ts';

export interface SubsetPlan {
  readonly steps: readonly PlanStep[];
  /** Expected cost of doing the first i steps and then making the call; one longer than the steps. */
  readonly prefixCosts: readonly number[];
  /** Expected cost of the whole plan, the call at its end included; the least possible. */
  readonly expectedCost: number;
}

export interface PlanStep {
  /** Indices of the actions done before one shared test, rising. */
  readonly actions: readonly number[];
  readonly cost: number;
  /** Chance that the goal is cleared once this and all earlier steps are done. */
  readonly chanceClearedSoFar: number;
}

const LARGEST_BATCH = 3;

/**
 * The cheapest of all orders, subsets and batches of up to three actions, the call at the end, by dynamic programming
 * over the set of actions done. Actions stay in place: `clear(mask)` is the chance that all of the mask together clear
 * the goal, and must not fall as the mask grows. With V(S) the expected cost still to come, weighted by the chance
 * F(S) = 1 - clear(S) of getting there:
 *
 *     V(S) = min( F(S) call,  min over batches B outside S of  F(S) cost(B) + V(S u B) )
 *     cost(B) = sum of (cost - testCost) + largest testCost + (size of B - 1) bundleCost
 *
 * Kadane and Simon 1977 (orders); Ottosen and Jensen 2010 (shared test). Time 2 ^ actions; some ten at most.
 */
export function planSubsets(
  actions: readonly Pick<Action, 'cost' | 'testCost' | 'subject'>[],
  clear: (mask: number) => number,
  callCost: number,
  bundleCost = 0,
): SubsetPlan {
  const masks = 1 << actions.length;
  const batches = listBatches(actions, bundleCost);
  const failing = Float64Array.from({ length: masks }, (_, mask) => Math.max(0, 1 - clear(mask)));
  const toCome = new Float64Array(masks);
  const choice: (Batch | undefined)[] = new Array(masks);
  for (let mask = masks - 1; mask >= 0; mask -= 1) {
    const chance = failing[mask]!;
    let least = callOn(callCost, chance);
    for (const batch of batches) {
      if (batch.mask & mask) continue;
      const cost = chance * batch.cost + toCome[mask | batch.mask]!;
      // Equal but for rounding: keep the shorter plan and the smaller batch, which tell more for the same cost.
      if (!(cost < least - 1e-12 * Math.abs(cost))) continue;
      least = cost;
      choice[mask] = batch;
    }
    toCome[mask] = least;
  }
  return readPlan(failing, choice, callCost);
}

interface Batch {
  readonly mask: number;
  readonly members: readonly number[];
  readonly cost: number;
}

function callOn(callCost: number, chance: number): number {
  return chance > 0 ? callCost * chance : 0;
}

/** Smaller batches first. */
function listBatches(
  actions: readonly Pick<Action, 'cost' | 'testCost' | 'subject'>[],
  bundleCost: number,
): Batch[] {
  const batches: Batch[] = [];
  for (let mask = 1; mask < 1 << actions.length; mask += 1) {
    const members = actions.map((_, index) => index).filter((index) => mask & (1 << index));
    if (members.length > LARGEST_BATCH) continue;
    const subjects = members.flatMap((index) => actions[index]!.subject ?? []);
    if (new Set(subjects).size < subjects.length) continue;
    const own = members.reduce((sum, index) => sum + actions[index]!.cost - actions[index]!.testCost, 0);
    batches.push({
      mask,
      members,
      cost:
        own +
        Math.max(...members.map((index) => actions[index]!.testCost)) +
        (members.length - 1) * bundleCost,
    });
  }
  return batches.sort((a, b) => a.members.length - b.members.length || a.mask - b.mask);
}

function readPlan(
  failing: Float64Array,
  choice: readonly (Batch | undefined)[],
  callCost: number,
): SubsetPlan {
  const steps: PlanStep[] = [];
  let mask = 0;
  let spent = 0;
  const prefixCosts = [callOn(callCost, failing[0]!)];
  for (let batch = choice[0]; batch; batch = choice[mask]) {
    spent += failing[mask]! * batch.cost;
    mask |= batch.mask;
    prefixCosts.push(spent + callOn(callCost, failing[mask]!));
    steps.push({ actions: batch.members, cost: batch.cost, chanceClearedSoFar: 1 - failing[mask]! });
  }
  return { steps, prefixCosts, expectedCost: prefixCosts.at(-1)! };
}
