import { holds } from '../knowledge/evaluate.ts';
import type { Case } from '../model/case.ts';
import type { Model } from '../model/model.ts';
import { Situation } from '../model/situation.ts';
import { isAnswered, type Reply, withAnswer, withoutAnswer } from './answer.ts';
import { type Question, questionFor } from './question.ts';
import {
  type FilledSheets,
  isSheet,
  kindOfSheet,
  type Marks,
  type Sheet,
  saidOf,
  sheetAgain,
} from './sheet.ts';

/** An interview under way. A value: each function gives a new one. */
export interface Interview {
  readonly case: Case;
  /** Ids of the questions asked, in order. */
  readonly trail: readonly string[];
  /** Sheets as they were filled in, by their id in the trail. */
  readonly sheets: FilledSheets;
  /** While going back: the place in the trail of the question that is open again. */
  readonly reopened?: number;
}

export function startInterview(known: Case): Interview {
  return { case: known, trail: [], sheets: {} };
}

/** The question or sheet that is open again after going back. */
export function reopened({ knowledge }: Model, interview: Interview): Question | Sheet | undefined {
  if (interview.reopened === undefined) return undefined;
  const id = interview.trail[interview.reopened]!;
  const filled = interview.sheets[id];
  return filled ? sheetAgain(id, filled, (item) => questionFor(knowledge, item)) : questionFor(knowledge, id);
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
  return step(model, interview, question.id, withAnswer(interview.case, question, reply), interview.sheets);
}

/** On a look sheet what is not marked was not looked at; on the others, what was marked before and is no longer is forgotten. */
export function answerSheet(model: Model, interview: Interview, sheet: Sheet, marks: Marks): Answered {
  const isLook = sheet.kind === 'look';
  const before = interview.sheets[sheet.id]?.marks ?? {};
  const takenBack = isLook ? [] : Object.keys(before).filter((id) => marks[id] === undefined);
  let known = takenBack.reduce(withoutAnswer, interview.case);
  for (const item of isLook ? sheet.items : []) {
    const mark = marks[item.id];
    known = withAnswer(known, item, mark === undefined ? 'unknown' : { value: mark });
  }
  const filled = { items: sheet.items.map(({ id }) => id), marks };
  // What a sheet promised stands behind it in the trail, so the place that is open again does not move.
  const trail = interview.trail.filter((id) => !takenBack.includes(id));
  return step(model, { ...interview, trail }, sheet.id, known, { ...interview.sheets, [sheet.id]: filled });
}

function step(model: Model, interview: Interview, id: string, changed: Case, sheets: FilledSheets): Answered {
  const { known, dropped } = dropWhatNoLongerApplies(model, changed, idsIn(interview.trail, sheets));
  const trail = interview.trail.filter((other) => other !== id && !dropped.includes(other));
  const at = interview.reopened === undefined ? trail.length : interview.reopened;
  trail.splice(at, 0, id);
  return { interview: { case: known, trail, sheets }, dropped };
}

/** Ids of what was put to the person, those on look sheets among them. */
export function idsIn(trail: readonly string[], sheets: FilledSheets): string[] {
  return trail.flatMap((id) => {
    if (!isSheet(id)) return [id];
    return kindOfSheet(id) === 'look' ? (sheets[id]?.items ?? []) : [];
  });
}

/** Questions put so far; a sheet is one, with the lines the person chose to fill in. */
export function askedOf({ trail, sheets }: Interview): number {
  return trail.filter((id) => saidOf(sheets, id) !== 'can').length;
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
    if (!isAnswered(kept, id)) continue;
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
