export type { Action, Removal } from './action.ts';
export { clearChance, prepareClearing } from './clearChance.ts';
export { exactPlan, removalOf } from './exactPlan.ts';
export { type GreedyPlan, greedyPlan } from './greedyPlan.ts';
export { type PlanStep, planSubsets, type SubsetPlan } from './planSubsets.ts';
