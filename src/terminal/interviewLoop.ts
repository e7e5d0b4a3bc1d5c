import type { Case, Engine } from '../dialogue/engine.ts';
import type { Interview } from '../dialogue/interview.ts';
import { presentAnswer } from '../dialogue/interview.ts';
import { labelName } from '../dialogue/labels.ts';
import { inTen } from '../dialogue/quantity.ts';
import type { Question } from '../dialogue/question.ts';
import type { Asker } from './asker.ts';
import { type Look, padTo, wrap } from './style.ts';

export interface Outcome {
  readonly case: Case;
  /** The person stopped before the asking was done. */
  readonly stopped: boolean;
}

/** Causes shown in the ranking so far. */
const rankingLength = 3;

/**
 * Asks until nothing is worth asking, or the person stops. `keep` is called after every answer, before the next question
 * is put: what it saves is all that an interrupted interview leaves behind.
 * @returns undefined when the person went back past the first question
 */
export async function runInterview(
  engine: Engine,
  asker: Asker,
  look: Look,
  known: Case,
  keep: (known: Case) => void,
): Promise<Outcome | undefined> {
  let interview: Interview = engine.start(known);
  const { questions } = engine.knowledge.weights;
  for (;;) {
    const step = engine.next(interview, questions);
    if (step.kind === 'stop') return { case: interview.case, stopped: false };
    const { question } = step;
    const choice = await asker.ask(question, presentAnswer(interview.case, question.id));
    switch (choice.kind) {
      case 'answer':
      case 'unknown': {
        const reply = choice.kind === 'unknown' ? 'unknown' : { value: choice.value };
        const answered = engine.answer(interview, question, reply);
        interview = answered.interview;
        for (const id of answered.dropped) asker.say(wrap(`No longer asked: ${labelName(engine.knowledge, id)}.`, look.width));
        keep(interview.case);
        break;
      }
      case 'back': {
        const earlier = engine.back(interview);
        if (earlier === undefined) return undefined;
        interview = earlier;
        break;
      }
      case 'why':
        asker.say(wrap(engine.why(interview.case, question), look.width, '  '));
        break;
      case 'look':
        asker.say(howToLook(question, look));
        break;
      case 'ranking':
        asker.say(rankingSoFar(engine, interview.case, look));
        break;
      case 'stop':
        return { case: interview.case, stopped: true };
      default:
        choice satisfies never;
    }
  }
}

function howToLook(question: Question, look: Look): string {
  const confused = question.confusedWith ? ` Not to be confused with ${question.confusedWith}.` : '';
  return wrap(`${question.look || 'Compare the print with the description.'}${confused}`, look.width, '  ');
}

export function rankingSoFar(engine: Engine, known: Case, look: Look): string {
  const rows = engine.ranking(known, rankingLength).map(({ name, chance, word }) => {
    const figure = `${word}, about ${inTen(chance)}`;
    return look.plain || look.width < 62 ? wrap(`${name}: ${figure}`, look.width, '    ', '  ') : `  ${padTo(name, 34)} ${figure}`;
  });
  return ['So far', ...rows].join('\n');
}
