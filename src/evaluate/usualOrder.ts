import type { Action } from '../inference/action.ts';

/**
 * Expected minutes of one who tries changes in order of how usual their causes are, without a diagnosis, and gives up where
 * giving up is cheapest in hindsight (the kindest reading of that habit). Masses as in the greedy plan.
 * @param usual share of failed prints for each cause
 */
export function usualOrderMinutes(
  responsible: Float64Array,
  actions: readonly Action[],
  usual: readonly number[],
  callMinutes: number,
): number {
  const rankOf = ({ removes }: Action) => Math.max(...removes.map(({ cause }) => usual[cause]!));
  const order = [...actions].sort((a, b) => rankOf(b) - rankOf(a) || a.cost - b.cost);
  const left = Float64Array.from(responsible);
  const all = left.reduce((sum, chance) => sum + chance, 0);
  let spent = 0;
  let unsolved = 1;
  let best = callMinutes;
  for (const action of order) {
    spent += unsolved * action.cost;
    for (const { cause, chance } of action.removes) left[cause]! *= 1 - chance;
    unsolved = 1 - (all - left.reduce((sum, chance) => sum + chance, 0));
    best = Math.min(best, spent + unsolved * callMinutes);
  }
  return best;
}
