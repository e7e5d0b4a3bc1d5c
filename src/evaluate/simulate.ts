import type { Reply } from '../dialogue/answer.ts';
import { chancesOf } from '../dialogue/chances.ts';
import type { Engine } from '../dialogue/engine.ts';
import { askedOf, presentAnswer } from '../dialogue/interview.ts';
import type { Question } from '../dialogue/question.ts';
import type { Marks, Sheet } from '../dialogue/sheet.ts';
import { forResult, think } from '../dialogue/think.ts';
import { greedyPlan } from '../inference/greedyPlan.ts';
import { type Case, emptyCase } from '../model/case.ts';
import { usualOrderMinutes } from './usualOrder.ts';

/** One case as it came out: the causes in order with their chances, and what asking took. */
export interface Run {
  readonly causes: readonly { readonly id: string; readonly chance: number }[];
  readonly otherChance: number;
  readonly asked: number;
  readonly answered: number;
  readonly expectedMinutes: number;
  /** The same for one who tries the changes in order of how usual their causes are. */
  readonly minutesByUsual: number;
}

/** The diagnosis of a case with everything it states, at once. */
export function runWhole(engine: Engine, known: Case): Run {
  return toRun(engine, known, 0, 0);
}

/**
 * A simulated person: starts from the complaint (with the material and what was tried, if given), answers what the case
 * states and "do not know" to everything else.
 */
export function runInterview(
  engine: Engine,
  stated: Case,
  questions: number,
  start: Case = startOf(stated),
): Run {
  let interview = engine.start(start);
  let answered = 0;
  for (;;) {
    const step = engine.next(interview, questions);
    // Numbers for the first change alone are not asked here: they cannot move the ranking.
    if (step.kind === 'stop' || (step.kind === 'ask' && step.purpose === 'number')) break;
    if (step.kind === 'sheet') {
      const marks = marksFrom(stated, step.sheet);
      answered += step.sheet.kind === 'look' ? Object.keys(marks).length : 0;
      interview = engine.mark(interview, step.sheet, marks).interview;
      continue;
    }
    const reply = replyFrom(stated, step.question);
    if (reply !== 'unknown') answered += 1;
    interview = engine.answer(interview, step.question, reply).interview;
  }
  return toRun(engine, interview.case, askedOf(interview), answered);
}

function startOf({ complaint, facts: { material }, tried }: Case): Case {
  return {
    ...emptyCase,
    ...(complaint === undefined ? {} : { complaint }),
    facts: material === undefined ? {} : { material },
    tried,
  };
}

/** Marks what the case states; what could be told is what it states too. */
function marksFrom(stated: Case, { kind, items }: Sheet): Marks {
  const marks: Record<string, 'yes' | 'no'> = {};
  for (const { id } of items) {
    const value = presentAnswer(stated, id);
    if (value === undefined || value === 'unknown') continue;
    marks[id] = kind === 'look' && value === 'no' ? 'no' : 'yes';
  }
  return marks;
}

function replyFrom(stated: Case, { id }: Question): Reply {
  const value = presentAnswer(stated, id);
  return value === undefined || value === 'unknown' ? 'unknown' : { value };
}

function toRun({ model }: Engine, known: Case, asked: number, answered: number): Run {
  const { beliefs, options } = think(model, known, forResult);
  const chances = chancesOf(beliefs, model.knowledge.weights.sharpness);
  const actions = options.map((option) => option.action);
  const plan = greedyPlan(beliefs.responsible, beliefs.other, actions, model.knowledge.weights.callMinutes);
  const causes = model.causes.map((cause, index) => ({
    id: cause.id,
    chance: chances.causes[index] as number,
  }));
  return {
    causes: causes
      .filter(({ chance }) => chance > 0)
      .sort((a, b) => b.chance - a.chance || (a.id < b.id ? -1 : 1)),
    otherChance: chances.other,
    asked,
    answered,
    expectedMinutes: plan.expectedCost,
    minutesByUsual: usualOrderMinutes(
      beliefs.responsible,
      actions,
      model.causes.map((cause) => cause.usual.value),
      model.knowledge.weights.callMinutes,
    ),
  };
}

/** Place of a cause in the order, from 1; 0 when it is not in it. */
export function rankOf(run: Run, cause: string): number {
  return run.causes.findIndex((entry) => entry.id === cause) + 1;
}
