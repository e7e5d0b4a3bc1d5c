import type { Caution, KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { type Case, emptyCase } from '../model/case.ts';
import { buildModel, type Likeness, type Model } from '../model/model.ts';
import { alarmsFor } from './alarm.ts';
import type { Reply } from './answer.ts';
import { chancesOf } from './chances.ts';
import { type Diagnosis, diagnose } from './diagnose.ts';
import {
  type Answered,
  answerQuestion,
  answerSheet,
  askedOf,
  goBack,
  type Interview,
  lastTopic,
  reopened,
  startInterview,
} from './interview.ts';
import { type NextStep, nextStep } from './nextStep.ts';
import { chanceWord } from './quantity.ts';
import type { Question } from './question.ts';
import type { Marks, Sheet } from './sheet.ts';
import { think, whileAsking } from './think.ts';
import { whatItTells, whySentence } from './why.ts';

/** One line of the ranking so far. */
export interface Standing {
  readonly name: string;
  readonly chance: number;
  readonly word: string;
}

/** All that the screens need of the engine. Everything is a pure function of what is given. */
export interface Engine {
  readonly knowledge: KnowledgeBase;
  readonly model: Model;
  start(known: Case): Interview;
  alarms(known: Case): Caution[];
  /** The next question, or the end of asking; `questions` is how many may be asked in all. */
  next(interview: Interview, questions: number): NextStep;
  answer(interview: Interview, question: Question, reply: Reply): Answered;
  mark(interview: Interview, sheet: Sheet, marks: Marks): Answered;
  back(interview: Interview): Interview | undefined;
  diagnose(known: Case): Diagnosis;
  /** Why a question is asked, in one breath. */
  why(known: Case, question: Question): string;
  /** The causes so far, best first, with "several together, or unknown" as the last. */
  ranking(known: Case, most: number): Standing[];
}

export { type Case, emptyCase };

export const severalOrUnknown = 'several together, or unknown';

/** @param likeness what the wording of descriptions says; left out, only what is read in them counts */
export function openEngine(knowledge: KnowledgeBase, likeness?: Likeness): Engine {
  const model = buildModel(knowledge, likeness);
  return {
    knowledge,
    model,
    start: startInterview,
    alarms: (known) => alarmsFor(knowledge, known),
    next(interview, questions) {
      const again = reopened(model, interview);
      if (again && 'items' in again) return { kind: 'sheet', sheet: again };
      if (again) return { kind: 'ask', question: again, worthMinutes: 0, purpose: 'cause' };
      const topic = lastTopic(model, interview);
      const asked = askedOf(interview);
      const { sheets } = interview;
      return nextStep(model, interview.case, {
        questions,
        asked,
        sheets,
        ...(topic === undefined ? {} : { topic }),
      });
    },
    answer: (interview, question, reply) => answerQuestion(model, interview, question, reply),
    mark: (interview, sheet, marks) => answerSheet(model, interview, sheet, marks),
    back: goBack,
    diagnose: (known) => diagnose(model, known),
    why: (known, question) => whySentence(whatItTells(think(model, known, whileAsking).state, question)),
    ranking: (known, most) => rank(model, known, most),
  };
}

function rank(model: Model, known: Case, most: number): Standing[] {
  const { beliefs } = think(model, known, whileAsking);
  const { chances } = model.knowledge.words;
  const shown = chancesOf(beliefs, model.knowledge.weights.sharpness);
  const standing = (name: string, chance: number) => ({ name, chance, word: chanceWord(chances, chance) });
  const causes = model.causes
    .map((cause, index) => standing(cause.name, shown.causes[index] as number))
    .sort((a, b) => b.chance - a.chance || (a.name < b.name ? -1 : 1));
  return [...causes.slice(0, most), standing(severalOrUnknown, shown.other)];
}
