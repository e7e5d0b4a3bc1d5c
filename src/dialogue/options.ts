import type { Action } from '../inference/action.ts';
import { type Advice, adviseFix } from '../model/advice.ts';
import type { State } from '../model/state.ts';

/** A fix that applies to this case, with its numbers, and the action that the engine reckons with. */
export interface Option {
  readonly advice: Advice;
  readonly action: Action;
}

/** Every fix that applies, has not been tried, and removes a cause that could explain what was observed. */
export function optionsOf(state: State): Option[] {
  const { model } = state;
  const { knowledge } = model;
  const options: Option[] = [];
  for (const id of Object.keys(knowledge.fixes).sort()) {
    const fix = knowledge.fixes[id]!;
    if (id in state.case.tried) continue;
    const removes = Object.entries(fix.removes).flatMap(([cause, chance]) => {
      const index = model.causeIndex.get(cause);
      return index !== undefined && state.relevant[index] ? [{ cause: index, chance: chance.value }] : [];
    });
    if (removes.length === 0) continue;
    const advice = adviseFix(knowledge, fix, state.situation, state.case);
    if (advice === undefined) continue;
    // A change that worsens what is already seen will likely cost another print to undo.
    const undoing = Object.keys(fix.worsens).some((sign) => isPresent(state, sign)) ? advice.testCost : 0;
    options.push({
      advice,
      action: {
        removes,
        cost: Math.max(advice.cost + undoing, 0.1),
        testCost: advice.testCost,
        ...(fix.set === undefined ? {} : { subject: fix.set }),
      },
    });
  }
  return options;
}

/** Whether a sign or symptom is known to show. */
export function isPresent(state: State, id: string): boolean {
  const finding = state.model.observableIndex.get(id);
  const seen = finding === undefined ? undefined : state.evidence.observed.get(finding);
  return typeof seen === 'number' && seen > 0;
}
