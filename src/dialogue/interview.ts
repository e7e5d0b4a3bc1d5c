import { holds } from '../knowledge/evaluate.ts';
import type { Case } from '../model/case.ts';
import type { Model } from '../model/model.ts';
import { Situation } from '../model/situation.ts';
import { type Reply, withAnswer, withoutAnswer } from './answer.ts';
import { type Question, questionFor } from './question.ts';

/** An interview under way. A value: each function gives a new one. */
export interface Interview {
  readonly case: Case;
  /** Ids of the questions asked, in order. */
  readonly trail: readonly string[];
  /** While going back: the place in the trail of the question that is open again. */
  readonly reopened?: number;
}

export function startInterview(known: Case): Interview {
  return { case: known, trail: [] };
}

/** The question that is open again after going back, with the answer it had. */
export function reopenedQuestion(model: Model, interview: Interview): Question | undefined {
  if (interview.reopened === undefined) return undefined;
  return questionFor(model.knowledge, interview.trail[interview.reopened]!);
}

export interface Answered {
  readonly interview: Interview;
  /** Later answers that no longer apply after this one, by question id. */
  readonly dropped: readonly string[];
}

export function answerQuestion(
  model: Model,
  interview: Interview,
  question: Question,
  reply: Reply,
): Answered {
  const changed = withAnswer(interview.case, question, reply);
  const { known, dropped } = dropWhatNoLongerApplies(model, changed, interview.trail);
  const trail = [...interview.trail.filter((id) => id !== question.id && !dropped.includes(id))];
  const at = interview.reopened === undefined ? trail.length : interview.reopened;
  trail.splice(at, 0, question.id);
  return { interview: { case: known, trail }, dropped };
}

/** Opens the question before again; its answer stays until it is given anew. */
export function goBack(interview: Interview): Interview | undefined {
  const at = (interview.reopened ?? interview.trail.length) - 1;
  return at < 0 ? undefined : { ...interview, reopened: at };
}

/** The answer a question has now, to be shown as the choice made before. */
export function presentAnswer(known: Case, id: string): string | number | 'unknown' | undefined {
  if (known.unknown.includes(id)) return 'unknown';
  const symptom = known.symptoms[id];
  return known.facts[id] ?? known.signs[id] ?? (symptom === undefined ? undefined : symptom ? 'yes' : 'no');
}

function dropWhatNoLongerApplies(model: Model, known: Case, trail: readonly string[]) {
  const { knowledge } = model;
  let kept = known;
  const dropped: string[] = [];
  for (const id of trail) {
    const fact = knowledge.facts[id];
    const condition = fact && fact.kind !== 'computed' ? fact.askWhen : knowledge.signs[id]?.askWhen;
    if (condition === undefined) continue;
    const situation = new Situation(knowledge, kept.facts, kept.signs);
    if (holds(condition, situation) !== false) continue;
    kept = withoutAnswer(kept, id);
    dropped.push(id);
  }
  return { known: kept, dropped };
}

/** Topic of the question asked last, for staying on it. */
export function lastTopic(model: Model, interview: Interview): string | undefined {
  const last = interview.trail[interview.trail.length - 1];
  return last === undefined ? undefined : questionFor(model.knowledge, last)?.topic;
}
