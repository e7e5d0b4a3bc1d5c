import type { ValuedQuestion } from './chooseQuestion.ts';
import type { Question } from './question.ts';
import { type FilledSheets, kindOfSheet, type Sheet, type SheetKind, titles } from './sheet.ts';

/** A digit each, and a list that is taken in at a glance. */
const mostItems = 9;
/** Fewer are put one after the other. */
const fewest: Readonly<Record<SheetKind, number>> = { look: 3, recall: 1, trial: 3 };
const mostSheets: Readonly<Record<SheetKind, number>> = { look: 3, recall: 4, trial: 2 };
/** Longer looks stand alone, with their text. */
const longestLookSeconds = 30;

/** The sheet that the best question belongs on, with the others that are worth asking; undefined: ask it alone. */
export function sheetFor(
  best: ValuedQuestion,
  valued: readonly ValuedQuestion[],
  filled: FilledSheets,
): Sheet | undefined {
  const kind = kindOf(best.question);
  const before = Object.keys(filled).filter((id) => kindOfSheet(id) === kind).length;
  if (before >= mostSheets[kind]) return undefined;
  const fitting = valued.filter(({ question }) => kindOf(question) === kind && !isListed(filled, question));
  if (fitting.filter(isWorthIt).length < fewest[kind]) return undefined;
  // The rest costs a glance here. An unusual answer that would change what to do first is seldom given, so it is worth
  // little on average; whoever has it knows it at once.
  const [worth, rest] = [fitting.filter(isWorthIt), fitting.filter((valued) => !isWorthIt(valued))];
  const telling = rest.filter(({ value }) => value.sameDecision < 1);
  const items = [...worth, ...telling, ...rest.filter(({ value }) => value.sameDecision >= 1)]
    .slice(0, mostItems)
    .map(({ question }) => question);
  return { id: `#${kind}${before + 1}`, kind, title: titles[kind], items };
}

function isWorthIt({ worthMinutes }: ValuedQuestion): boolean {
  return worthMinutes > 0;
}

/** A yes or no that the eye gives at once is a look; what takes more is a trial. */
function kindOf({ kind, answers, test, effortSeconds }: Question): SheetKind {
  if (kind === 'fact') return 'recall';
  const yesOrNo = answers.length === 2 && answers.every(({ id }) => id === 'yes' || id === 'no');
  return yesOrNo && test === undefined && effortSeconds <= longestLookSeconds ? 'look' : 'trial';
}

function isListed(filled: FilledSheets, { id }: Question): boolean {
  return Object.values(filled).some(({ items }) => items.includes(id));
}
