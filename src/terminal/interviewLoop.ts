import type { Case, Engine } from '../dialogue/engine.ts';
import type { Interview } from '../dialogue/interview.ts';
import { presentAnswer } from '../dialogue/interview.ts';
import { labelName } from '../dialogue/labels.ts';
import { inTen } from '../dialogue/quantity.ts';
import type { Question } from '../dialogue/question.ts';
import type { Marks, Sheet } from '../dialogue/sheet.ts';
import type { Caution } from '../knowledge/knowledgeBase.ts';
import type { Asker, Panels } from './asker.ts';
import { answerText } from './readAnswer.ts';
import { type Look, padTo, wrap } from './style.ts';

export interface Outcome {
  readonly interview: Interview;
  /** The person stopped before the asking was done. */
  readonly stopped: boolean;
  /** What an answer reported that stops everything. The answer is not kept: who pressed a wrong key can come back. */
  readonly alarms: readonly Caution[];
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
  look: () => Look,
  start: Interview,
  keep: (interview: Interview) => void,
): Promise<Outcome | undefined> {
  let interview = start;
  const { questions } = engine.knowledge.weights;
  for (;;) {
    const step = engine.next(interview, questions);
    if (step.kind === 'stop') return { interview, stopped: false, alarms: [] };
    const current = interview.case;
    const panelsOf = (question: Question): Panels => ({
      why: () => wrap(engine.why(current, question), look().width, '  '),
      look: () => howToLook(question, look()),
      ranking: () => rankingSoFar(engine, current, look()),
    });
    if (step.kind === 'sheet') {
      const { sheet } = step;
      const choice = await asker.fill(sheet, marksOf(interview, sheet), panelsOf);
      if (choice.kind === 'stop') return { interview, stopped: true, alarms: [] };
      if (choice.kind === 'back') {
        const earlier = engine.back(interview);
        if (earlier === undefined) return undefined;
        interview = earlier;
        continue;
      }
      const marked = engine.mark(interview, sheet, choice.marks);
      const alarms = engine.alarms(marked.interview.case);
      if (alarms.length > 0) return { interview, stopped: true, alarms };
      interview = marked.interview;
      keep(interview);
      noteMarks(engine, asker, sheet, choice.marks);
      noteDropped(engine, asker, marked.dropped, look());
      continue;
    }
    const { question } = step;
    const choice = await asker.ask(question, presentAnswer(current, question.id), panelsOf(question));
    switch (choice.kind) {
      case 'answer':
      case 'unknown': {
        const reply = choice.kind === 'unknown' ? 'unknown' : { value: choice.value };
        const answered = engine.answer(interview, question, reply);
        const alarms = engine.alarms(answered.interview.case);
        if (alarms.length > 0) return { interview, stopped: true, alarms };
        interview = answered.interview;
        keep(interview);
        asker.note(
          labelName(engine.knowledge, question.id),
          answerText(question, reply === 'unknown' ? reply : reply.value),
        );
        noteDropped(engine, asker, answered.dropped, look());
        break;
      }
      case 'back': {
        const earlier = engine.back(interview);
        if (earlier === undefined) return undefined;
        interview = earlier;
        break;
      }
      case 'stop':
        return { interview, stopped: true, alarms: [] };
      default:
        choice satisfies never;
    }
  }
}

function noteDropped(engine: Engine, asker: Asker, dropped: readonly string[], look: Look): void {
  for (const id of dropped)
    asker.say(wrap(`No longer asked: ${labelName(engine.knowledge, id)}.`, look.width));
}

/** Marks made before, where a sheet is open again. */
function marksOf(interview: Interview, { id, kind, items }: Sheet): Marks {
  if (kind !== 'look') return interview.sheets[id]?.marks ?? {};
  const marks: Record<string, 'yes' | 'no'> = {};
  for (const item of items) {
    const value = presentAnswer(interview.case, item.id);
    if (value === 'yes' || value === 'no') marks[item.id] = value;
  }
  return marks;
}

function noteMarks(engine: Engine, asker: Asker, { kind, items }: Sheet, marks: Marks): void {
  const named = (mark: 'yes' | 'no') =>
    items
      .filter(({ id }) => marks[id] === mark)
      .map(({ id }) => labelName(engine.knowledge, id))
      .join('; ');
  const [yes, no] = [named('yes'), named('no')];
  if (kind !== 'look') {
    asker.note('can tell', yes || 'none of those listed');
    return;
  }
  if (yes) asker.note('seen', yes);
  if (no) asker.note('not there', no);
  if (!yes && !no) asker.note('seen', 'nothing marked');
}

function howToLook(question: Question, look: Look): string {
  const confused = question.confusedWith ? ` Not to be confused with ${question.confusedWith}.` : '';
  return wrap(`${question.look || 'Compare the print with the description.'}${confused}`, look.width, '  ');
}

export function rankingSoFar(engine: Engine, known: Case, look: Look): string {
  const rows = engine.ranking(known, rankingLength).map(({ name, chance, word }) => {
    const figure = `${word}, about ${inTen(chance)}`;
    return look.plain || look.width < 62
      ? wrap(`${name}: ${figure}`, look.width, '    ', '  ')
      : `  ${padTo(name, 34)} ${figure}`;
  });
  return ['So far', ...rows].join('\n');
}
