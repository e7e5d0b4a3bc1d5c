import type { Beliefs, Network, Scenario } from '../inference/network.ts';
import {
  type AnswerInput,
  type QuestionInput,
  type QuestionValue,
  valueQuestions,
} from '../inference/question.ts';
import { holds } from '../knowledge/evaluate.ts';
import type { Condition, Weights } from '../knowledge/knowledgeBase.ts';
import { type State, scenariosOf } from '../model/state.ts';
import { isAnswered } from './answer.ts';
import { allQuestions, type Question } from './question.ts';
import { type FilledSheets, saidOf } from './sheet.ts';
import type { Thought } from './think.ts';

/** A question with what its answer is expected to save. */
export interface ValuedQuestion {
  readonly question: Question;
  /** Expected minutes saved, less what it costs to answer. */
  readonly worthMinutes: number;
  readonly value: QuestionValue;
}

/** A question on the topic at hand is kept to unless the best saves a good deal more: people prefer to finish one topic. */
const stayOnTopic = 0.6;
/** The onset tells most and is asked early: among the first questions it may save this share of the best and still lead. */
const onsetShare = 0.3;
const earlyQuestions = 4;

/** Signs and symptoms that are valued exactly; the rest hardly differ from cause to cause among those at hand. */
const mostFindings = 32;

/** Open questions that bear on the complaint, best first by minutes saved less cost. */
export function valueOpenQuestions(
  { state, options, scenarios, beliefs }: Thought,
  sheets: FilledSheets = {},
): { questions: ValuedQuestion[]; expectedMinutes: number } {
  const { weights } = state.model.knowledge;
  const open = mostTelling(
    openQuestions(state).filter(({ id }) => saidOf(sheets, id) !== 'cannot'),
    state,
    heaviest(scenarios),
    beliefs,
  );
  const inputs = open.map((question) => inputFor(state, question, weights, sheets));
  const values = valueQuestions({
    scenarios,
    evidence: state.evidence,
    actions: options.map((option) => option.action),
    callCost: weights.callMinutes,
    questions: inputs,
  });
  const byId = new Map(open.map((question) => [question.id, question]));
  const questions = values.questions
    .filter((value) => !value.skipped)
    .map((value) => ({ question: byId.get(value.id)!, worthMinutes: value.net, value }));
  return { questions, expectedMinutes: values.expectedCost };
}

/**
 * Exact values take time, and what a finding can tell is bounded by how much its chance differs among the causes at hand: the
 * variance of that chance under the posterior, over that of the answer itself. Facts are few and all kept.
 */
function mostTelling(
  open: readonly Question[],
  state: State,
  network: Network,
  { responsible }: Beliefs,
): Question[] {
  const spread = new Map<string, number>();
  for (const { id, kind } of open) {
    if (kind === 'fact') continue;
    const { parents, atMost, levels, leak } = network.findings[state.model.observableIndex.get(id)!]!;
    const leaked = 1 - (leak[0] as number);
    let [mass, mean, square] = [0, 0, 0];
    for (const chance of responsible) mass += chance;
    parents.forEach((cause, row) => {
      const shows = 1 - (atMost[row * levels] as number) * (1 - leaked) - leaked;
      mean += (responsible[cause] as number) * shows;
      square += (responsible[cause] as number) * shows * shows;
    });
    if (!(mass > 0)) continue;
    const average = mean / mass;
    const all = average + leaked;
    spread.set(id, (square / mass - average * average) / Math.max(1e-6, all * (1 - Math.min(0.999, all))));
  }
  const kept = [...spread]
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
    .slice(0, mostFindings)
    .map(([id]) => id);
  const keptIds = new Set(kept);
  return open.filter(({ id, kind }) => kind === 'fact' || keptIds.has(id));
}

function heaviest(scenarios: readonly Scenario[]): Network {
  return scenarios.reduce((best, scenario) => (scenario.weight > best.weight ? scenario : best)).network;
}

function openQuestions(state: State): Question[] {
  const bearing = factsThatBear(state);
  return allQuestions(state.model).filter((question) => {
    if (isAnswered(state.case, question.id)) return false;
    if (question.kind === 'fact') return bearing.has(question.id) && mayBeAsked(state, question.id);
    const finding = state.model.observableIndex.get(question.id)!;
    const touches = state.model.observables[finding]!.parents.some(({ cause }) => state.relevant[cause]);
    return touches && mayBeAsked(state, question.id);
  });
}

function factsThatBear(state: State): Set<string> {
  const facts = new Set<string>();
  for (const table of state.tables) for (const axis of table?.chance.axes ?? []) facts.add(axis.fact);
  return facts;
}

/** Not while the condition for asking is known to be false. */
export function mayBeAsked(state: State, id: string): boolean {
  const { knowledge } = state.model;
  const entry: { readonly askWhen?: Condition } | undefined = knowledge.signs[id] ?? askedFact(state, id);
  return !entry?.askWhen || holds(entry.askWhen, state.situation) !== false;
}

function askedFact(state: State, id: string) {
  const fact = state.model.knowledge.facts[id];
  return fact?.kind === 'computed' ? undefined : fact;
}

function inputFor(state: State, question: Question, weights: Weights, sheets: FilledSheets): QuestionInput {
  const test = question.test;
  const cost =
    question.effortSeconds / 60 +
    (test ? test.minutes * weights.waitingShare + test.grams * weights.minutesPerGram : 0);
  const cannotTell = saidOf(sheets, question.id) === 'can' ? 0 : question.cannotTell;
  return { id: question.id, cost, cannotTell, answers: answersFor(state, question) };
}

function answersFor(state: State, question: Question): AnswerInput[] {
  if (question.kind !== 'fact') {
    const finding = state.model.observableIndex.get(question.id)!;
    return state.model.observables[finding]!.levels.map((_, level) => ({
      kind: 'finding',
      finding,
      observation: level,
    }));
  }
  const grid = state.model.grids.get(question.id)!;
  return Array.from({ length: grid.size }, (_, index) => {
    const { scenarios, weight } = scenariosOf(state, new Map([[question.id, index]]));
    return { kind: 'scenarios', scenarios, weight };
  });
}

/**
 * The question to ask: early the onset, then the best, staying on the topic at hand where that costs little.
 * @param asked how many questions were asked before
 */
export function pickQuestion(
  valued: readonly ValuedQuestion[],
  asked: number,
  topic: string | undefined,
): ValuedQuestion | undefined {
  const worth = valued.filter((candidate) => candidate.worthMinutes > 0);
  const best = worth[0];
  if (best === undefined) return undefined;
  if (asked < earlyQuestions) {
    const onset = worth.find((candidate) => candidate.question.onset);
    if (onset && onset.worthMinutes >= onsetShare * best.worthMinutes) return onset;
  }
  const near =
    topic === undefined ? undefined : worth.find((candidate) => candidate.question.topic === topic);
  return near && near.worthMinutes >= stayOnTopic * best.worthMinutes ? near : best;
}
