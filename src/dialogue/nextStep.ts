import { greedyPlan } from '../inference/greedyPlan.ts';
import { readsOf } from '../knowledge/evaluate.ts';
import type { Case } from '../model/case.ts';
import type { Model } from '../model/model.ts';
import { factsBehind } from '../model/reads.ts';
import { isAnswered } from './answer.ts';
import { mayBeAsked, pickQuestion, valueOpenQuestions } from './chooseQuestion.ts';
import { type Question, questionFor } from './question.ts';
import { type FilledSheets, promised, type Sheet } from './sheet.ts';
import { sheetFor } from './sheetFor.ts';
import { type Thought, think, whileAsking } from './think.ts';

/** Why the interview stops asking. */
export type StopReason = 'enough_questions' | 'no_question_worth_it' | 'contradiction';

export type NextStep =
  | {
      readonly kind: 'ask';
      readonly question: Question;
      /** Expected minutes that the answer saves, less what it costs; 0 for a number that only a fix waits for. */
      readonly worthMinutes: number;
      /** Asked to find the cause, or to work out the number of the first change. */
      readonly purpose: 'cause' | 'number';
    }
  | { readonly kind: 'sheet'; readonly sheet: Sheet }
  | { readonly kind: 'stop'; readonly reason: StopReason };

export interface AskingLimits {
  /** Questions that may be asked; those already answered in the case when it came do not count. */
  readonly questions: number;
  readonly asked: number;
  /** Topic of the question before. */
  readonly topic?: string;
  /** Sheets filled in so far; undefined where only single questions are wanted. */
  readonly sheets?: FilledSheets;
}

/** Numbers that the first change waits for are asked after the rest, and no more than this many. */
const mostNumberQuestions = 3;

/** What to do next in a case with a complaint: ask this, or stop and show the result. Pure. */
export function nextStep(model: Model, known: Case, limits: AskingLimits): NextStep {
  const thought = think(model, known, whileAsking);
  return stepFrom(thought, limits);
}

export function stepFrom(thought: Thought, limits: AskingLimits): NextStep {
  if (thought.beliefs.logEvidence === Number.NEGATIVE_INFINITY)
    return { kind: 'stop', reason: 'contradiction' };
  const promise = promisedQuestion(thought, limits.sheets);
  if (promise) return { kind: 'ask', question: promise, worthMinutes: 0, purpose: 'cause' };
  const capped = limits.asked >= limits.questions;
  const best = capped ? undefined : bestStep(thought, limits);
  if (best) return best;
  const number = fixQuestion(thought) ?? numberQuestion(thought);
  if (number && limits.asked < limits.questions + mostNumberQuestions) {
    return { kind: 'ask', question: number, worthMinutes: 0, purpose: 'number' };
  }
  return { kind: 'stop', reason: capped ? 'enough_questions' : 'no_question_worth_it' };
}

function bestStep(thought: Thought, limits: AskingLimits): NextStep | undefined {
  const first = firstQuestion(thought);
  if (first) return { kind: 'ask', question: first, worthMinutes: 0, purpose: 'cause' };
  const { questions } = valueOpenQuestions(thought, limits.sheets);
  const best = pickQuestion(questions, limits.asked, limits.topic);
  if (best === undefined) return undefined;
  const sheet = limits.sheets && sheetFor(best, questions, limits.sheets);
  if (sheet) return { kind: 'sheet', sheet };
  return { kind: 'ask', question: best.question, worthMinutes: best.worthMinutes, purpose: 'cause' };
}

/** What the person said they could tell is asked first, unless an answer since then rules it out. */
function promisedQuestion({ state }: Thought, sheets: FilledSheets = {}): Question | undefined {
  const { knowledge } = state.model;
  const id = promised(sheets, (other) => isAnswered(state.case, other) || !mayBeAsked(state, other));
  return id === undefined ? undefined : questionFor(knowledge, id);
}

/** What everything else hangs on (the material): asked whatever it is worth by itself, if any cause at hand depends on it. */
function firstQuestion({ state }: Thought): Question | undefined {
  const { model, relevant } = state;
  const bears = (fact: string) =>
    model.bearing.some((facts, cause) => relevant[cause] && facts.includes(fact));
  for (const fact of Object.values(model.knowledge.facts)) {
    if (fact.kind === 'computed' || !fact.first || isAnswered(state.case, fact.id) || !bears(fact.id))
      continue;
    return questionFor(model.knowledge, fact.id);
  }
  return undefined;
}

/** Likeliest causes whose changes are looked at. */
const causesAtHand = 3;

/**
 * A choice that no cause hangs on, but whether a change for one of the likeliest causes can be made at all, such as whether
 * the print is still running.
 */
function fixQuestion({ state, beliefs }: Thought): Question | undefined {
  const { knowledge, causes, bearing } = state.model;
  const likeliest = new Set(
    causes
      .map((cause, index) => ({ id: cause.id, chance: beliefs.responsible[index] as number }))
      .sort((a, b) => b.chance - a.chance || (a.id < b.id ? -1 : 1))
      .slice(0, causesAtHand)
      .map(({ id }) => id),
  );
  for (const fact of Object.values(knowledge.facts)) {
    if (fact.kind !== 'choice' || isAnswered(state.case, fact.id)) continue;
    if (bearing.some((facts) => facts.includes(fact.id)) || !mayBeAsked(state, fact.id)) continue;
    const waits = Object.values(knowledge.fixes).some(
      (fix) =>
        !(fix.id in state.case.tried) &&
        Object.keys(fix.removes).some((cause) => likeliest.has(cause)) &&
        fix.when !== undefined &&
        [...readsOf(fix.when)].includes(fact.id),
    );
    if (waits) return questionFor(knowledge, fact.id);
  }
  return undefined;
}

/** The first change in the plan, if it has a number that cannot be worked out yet: the fact that is missing. */
function numberQuestion({ state, beliefs, options }: Thought): Question | undefined {
  const { knowledge } = state.model;
  const { order } = greedyPlan(
    beliefs.responsible,
    beliefs.other,
    options.map((option) => option.action),
    knowledge.weights.callMinutes,
  );
  const first = options[order[0] ?? -1]?.advice;
  if (first === undefined || first.to.length > 0 || first.fix.to.length === 0) return undefined;
  const reads = first.fix.to.flatMap((expression) => expression.reads);
  for (const fact of [...factsBehind(knowledge, reads)].sort()) {
    if (isAnswered(state.case, fact)) continue;
    const entry = knowledge.facts[fact];
    // What may be assumed already stands at its middle; only the rest keeps the number from being worked out.
    if (entry?.kind === 'number' && entry.assume) continue;
    const question = questionFor(knowledge, fact);
    if (question) return question;
  }
  return undefined;
}
