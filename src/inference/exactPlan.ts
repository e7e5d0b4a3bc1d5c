import type { Action } from './action.ts';
import { prepareClearing } from './clearChance.ts';
import { greedyPlan } from './greedyPlan.ts';
import type { Evidence, Scenario } from './network.ts';
import { type PlanStep, planSubsets, type SubsetPlan } from './planSubsets.ts';
import { infer } from './posterior.ts';

const MOST_ACTIONS = 6;

/**
 * The cheapest plan with actions kept in place, using the exact chance that each set of them clears the goal. Only the
 * first six of the greedy order are considered; the indices in the steps are those of `actions`.
 */
export function exactPlan(
  scenarios: readonly Scenario[],
  evidence: Evidence,
  actions: readonly Action[],
  callCost: number,
  bundleCost = 0,
): SubsetPlan {
  const { responsible, other } = infer(scenarios, evidence);
  const used = greedyPlan(responsible, other, actions, callCost)
    .order.slice(0, MOST_ACTIONS)
    .sort((a, b) => a - b);
  const clearing = prepareClearing(scenarios, evidence);
  const clear = (mask: number) =>
    clearing(
      removalOf(
        used.filter((_, bit) => mask & (1 << bit)).map((index) => actions[index]!),
        responsible.length,
      ),
    );
  const plan = planSubsets(
    used.map((index) => actions[index]!),
    clear,
    callCost,
    bundleCost,
  );
  const steps = plan.steps.map(
    (step): PlanStep => ({ ...step, actions: step.actions.map((index) => used[index]!) }),
  );
  return { ...plan, steps };
}

/** Chance that each cause is removed by at least one of the actions: 1 - product of (1 - chance). */
export function removalOf(actions: readonly Action[], causes: number): Float64Array {
  const staying = new Float64Array(causes).fill(1);
  for (const { removes } of actions) {
    for (const { cause, chance } of removes) staying[cause] = staying[cause]! * (1 - chance);
  }
  return staying.map((chance) => 1 - chance);
}
