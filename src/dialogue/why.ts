import { infer } from '../inference/posterior.ts';
import { type State, scenariosOf } from '../model/state.ts';
import type { Question } from './question.ts';

/** For each answer of a question, the causes whose chance it raises, the one it raises most first. */
export interface WhatItTells {
  readonly answer: string;
  readonly pointsTo: readonly string[];
}

/** Smaller changes than this are not worth a sentence. */
const leastRise = 0.01;

/** What the answers of a question would mean for this case; empty for an answer that points nowhere. */
export function whatItTells(state: State, question: Question): WhatItTells[] {
  const { model } = state;
  const { scenarios } = scenariosOf(state);
  const now = infer(scenarios, state.evidence).responsible;
  const finding = model.observableIndex.get(question.id);
  const told: WhatItTells[] = [];
  const add = (answer: string, then: Float64Array) => {
    const rises = model.causes
      .map((cause, k) => ({ name: cause.name, rise: (then[k] as number) - (now[k] as number) }))
      .filter((entry) => entry.rise > leastRise)
      .sort((a, b) => b.rise - a.rise || (a.name < b.name ? -1 : 1));
    told.push({ answer, pointsTo: rises.slice(0, 2).map((entry) => entry.name) });
  };
  if (question.kind === 'fact') {
    const grid = model.grids.get(question.id);
    if (grid === undefined) return [];
    for (let index = 0; index < grid.size; index++) {
      const what = scenariosOf(state, new Map([[question.id, index]]));
      const value = grid.valueAt(index, state.situation.answer('material'));
      const answer =
        question.answers.find((option) => option.id === value)?.text ?? `${value} ${question.unit ?? ''}`;
      add(answer.trim(), infer(what.scenarios, state.evidence).responsible);
    }
    return told;
  }
  for (const option of question.answers) {
    const level = model.observables[finding!]!.levels.indexOf(option.id);
    const observed = new Map(state.evidence.observed).set(finding!, level);
    add(option.text, infer(scenarios, { ...state.evidence, observed }).responsible);
  }
  return told;
}

/** In one breath: "often points to damp filament; no points to nozzle hotter than needed." */
export function whySentence(told: readonly WhatItTells[]): string {
  const parts = told
    .filter((entry) => entry.pointsTo.length > 0)
    .map(
      (entry) =>
        `"${entry.answer}" points to ${entry.pointsTo.map((name) => name.toLowerCase()).join(' or ')}`,
    );
  if (parts.length === 0) return 'It would sharpen the odds a little, but no answer points to one cause.';
  return `${parts.join('; ')}.`;
}
