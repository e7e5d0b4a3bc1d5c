import { infer } from '../inference/posterior.ts';
import { type State, scenariosOf } from '../model/state.ts';
import { lowerFirst, type Question } from './question.ts';

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

/** Answers beyond these say little more, and a breath is short. */
const mostGroups = 3;

/** In one breath: "often" points to damp filament; "no" points to nozzle hotter than needed. */
export function whySentence(told: readonly WhatItTells[]): string {
  const groups = new Map<string, string[]>();
  for (const { answer, pointsTo } of told) {
    const [first] = pointsTo;
    if (first === undefined) continue;
    const answers = groups.get(first) ?? [];
    answers.push(`"${answer}"`);
    groups.set(first, answers);
  }
  if (groups.size === 0) return 'It would sharpen the odds a little, but no answer points to one cause.';
  const parts = [...groups].slice(0, mostGroups).map(([cause, answers]) => {
    const named = answers.length > 3 ? [...answers.slice(0, 3), 'others'] : answers;
    return `${inWords(named)} ${named.length === 1 ? 'points' : 'point'} to: ${lowerFirst(cause)}`;
  });
  return `${parts.join('. ')}.`;
}

function inWords(items: readonly string[]): string {
  return items.length < 2
    ? (items[0] ?? '')
    : `${items.slice(0, -1).join(', ')} and ${items[items.length - 1]}`;
}
