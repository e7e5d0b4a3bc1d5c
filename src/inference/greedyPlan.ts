import type { Action } from './action.ts';

export interface GreedyPlan {
  /** Indices of the actions that can help, in the order to try them, also beyond `stopAfter`. */
  readonly order: number[];
  /** Expected cost of doing the first i actions of the order and then making the call; one longer than the order. */
  readonly prefixCosts: number[];
  /** The least of them. */
  readonly expectedCost: number;
  /** How many actions come before the call in the cheapest plan; 0 means call at once. */
  readonly stopAfter: number;
}

/**
 * Order of actions by chance of success over cost, largest first, recomputed after each failure, when exactly one cause
 * (or something else, `other`) is responsible. Each prefix ends in the call, which always ends the matter; the cheapest
 * prefix is the plan. Optimal when every action removes one cause and no two the same (Kadane and Simon 1977; Heckerman,
 * Breese and Rommelse 1995; with the call, Lin 2014), else a good heuristic. `callCost` may be Infinity: no call to make.
 */
export function greedyPlan(
  responsible: Float64Array,
  other: number,
  actions: readonly Action[],
  callCost: number,
): GreedyPlan {
  const walk = new RepairWalk(actions, callCost);
  let total = other;
  for (const chance of responsible) total += chance;
  walk.run(responsible, total, true);
  return {
    order: [...walk.order.subarray(0, walk.steps)],
    prefixCosts: [...walk.prefixCosts.subarray(0, walk.steps + 1)],
    expectedCost: walk.expectedCost,
    stopAfter: walk.stopAfter,
  };
}

/**
 * The greedy plan as a machine that is built once for its actions and run many times without allocating. Masses need
 * not add up to 1: costs then come out multiplied by the total, as the value of a question wants them.
 */
export class RepairWalk {
  readonly order: Int32Array;
  readonly prefixCosts: Float64Array;
  steps = 0;
  expectedCost = 0;
  stopAfter = 0;
  private readonly actionAt: Int32Array;
  private readonly causeOf: Int32Array;
  private readonly chanceOf: Float64Array;
  private readonly costs: Float64Array;
  private readonly causeAt: Int32Array;
  private readonly actionOf: Int32Array;
  private readonly left: Float64Array;
  private readonly gains: Float64Array;
  /** Indices of the actions that can still help. */
  private readonly open: Int32Array;

  constructor(
    actions: readonly Action[],
    private readonly callCost: number,
  ) {
    const removals = actions.flatMap((action, index) =>
      action.removes.map((removal) => ({ ...removal, index })),
    );
    const causes = removals.reduce((largest, { cause }) => Math.max(largest, cause + 1), 0);
    this.order = new Int32Array(actions.length);
    this.prefixCosts = new Float64Array(actions.length + 1);
    this.costs = Float64Array.from(actions, ({ cost }) => cost);
    this.actionAt = startsOf(
      removals.map(({ index }) => index),
      actions.length,
    );
    this.causeOf = Int32Array.from(removals, ({ cause }) => cause);
    this.chanceOf = Float64Array.from(removals, ({ chance }) => chance);
    const byCause = removals.toSorted((a, b) => a.cause - b.cause);
    this.causeAt = startsOf(
      byCause.map(({ cause }) => cause),
      causes,
    );
    this.actionOf = Int32Array.from(byCause, ({ index }) => index);
    this.left = new Float64Array(causes);
    this.gains = new Float64Array(actions.length);
    this.open = new Int32Array(actions.length);
  }

  /** `masses` of the causes and `total` of everything; `whole` false stops once no longer prefix can be cheaper. */
  run(masses: Float64Array, total: number, whole: boolean): number {
    const { left, gains, open, costs, prefixCosts } = this;
    for (let cause = 0; cause < left.length; cause += 1) left[cause] = masses[cause] ?? 0;
    let openCount = 0;
    for (let action = 0; action < costs.length; action += 1) {
      gains[action] = this.gainOf(action);
      if (gains[action]! > 0) open[openCount++] = action;
    }
    let failing = total;
    let spent = 0;
    this.steps = 0;
    this.stopAfter = 0;
    this.expectedCost = this.callOn(failing, total);
    prefixCosts[0] = this.expectedCost;
    while (openCount > 0 && (whole || spent < this.expectedCost)) {
      const at = this.bestOf(openCount);
      const action = open[at]!;
      open.copyWithin(at, at + 1, openCount);
      openCount -= 1;
      if (!(gains[action]! > 0)) continue;
      this.order[this.steps] = action;
      this.steps += 1;
      spent += costs[action]! * failing;
      failing -= gains[action]!;
      if (failing < 1e-15 * total) failing = 0;
      const cost = spent + this.callOn(failing, total);
      prefixCosts[this.steps] = cost;
      if (cost < this.expectedCost) {
        this.expectedCost = cost;
        this.stopAfter = this.steps;
      }
      this.markFailed(action);
    }
    return this.expectedCost;
  }

  private callOn(failing: number, total: number): number {
    return failing > 0 && total > 0 ? this.callCost * failing : 0;
  }

  private gainOf(action: number): number {
    let gain = 0;
    for (let at = this.actionAt[action]!; at < this.actionAt[action + 1]!; at += 1) {
      gain += this.chanceOf[at]! * this.left[this.causeOf[at]!]!;
    }
    return gain;
  }

  /** Place in `open` of the best chance per cost; the first of equals. */
  private bestOf(openCount: number): number {
    let best = 0;
    let bestRatio = -1;
    for (let at = 0; at < openCount; at += 1) {
      const action = this.open[at]!;
      const ratio = this.gains[action]! / this.costs[action]!;
      if (ratio > bestRatio) {
        bestRatio = ratio;
        best = at;
      }
    }
    return best;
  }

  private markFailed(action: number): void {
    for (let at = this.actionAt[action]!; at < this.actionAt[action + 1]!; at += 1) {
      const cause = this.causeOf[at]!;
      this.left[cause] = this.left[cause]! * (1 - this.chanceOf[at]!);
      for (let by = this.causeAt[cause]!; by < this.causeAt[cause + 1]!; by += 1) {
        const touched = this.actionOf[by]!;
        this.gains[touched] = this.gainOf(touched);
      }
    }
  }
}

/** Where the entries of each key begin in a list sorted by key; one longer than the number of keys. */
function startsOf(sortedKeys: readonly number[], keys: number): Int32Array {
  const starts = new Int32Array(keys + 1);
  for (const key of sortedKeys) starts[key + 1] = starts[key + 1]! + 1;
  for (let key = 0; key < keys; key += 1) starts[key + 1] = starts[key + 1]! + starts[key]!;
  return starts;
}
