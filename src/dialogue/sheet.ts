import type { ValuedQuestion } from './chooseQuestion.ts';
import type { Question } from './question.ts';

/**
 * Several quick questions on one screen. `look`: what is there on the print, and what is not, the eye going over it once.
 * `recall`: which questions the person could answer; those are asked first, and nobody has to say "do not know" nine times.
 */
export type SheetKind = 'look' | 'recall';

export interface Sheet {
  /** Stands in the trail; no entry can have such an id. */
  readonly id: string;
  readonly kind: SheetKind;
  readonly title: string;
  readonly items: readonly Question[];
}

/** What a person marked on a sheet. On `recall`, yes means "I could tell". */
export type Marks = Readonly<Record<string, 'yes' | 'no'>>;

export interface FilledSheet {
  readonly items: readonly string[];
  readonly marks: Marks;
}

export type FilledSheets = Readonly<Record<string, FilledSheet>>;

/** A digit each, and a list that is taken in at a glance. */
const mostItems = 9;
/** Fewer are put one after the other. */
const fewest: Readonly<Record<SheetKind, number>> = { look: 3, recall: 4 };
const mostSheets: Readonly<Record<SheetKind, number>> = { look: 3, recall: 2 };
/** Longer looks stand alone, with their text. */
const longestLookSeconds = 30;

const titles: Readonly<Record<SheetKind, string>> = {
  look: 'Which of these do you see? Mark what is there, and what surely is not.',
  recall: 'Which of these could you tell? Only those are asked.',
};

/** The sheet that the best question belongs on, with the others that are worth asking; undefined: ask it alone. */
export function sheetFor(
  best: ValuedQuestion,
  valued: readonly ValuedQuestion[],
  filled: FilledSheets,
): Sheet | undefined {
  const kind = kindOf(best.question);
  const before = Object.keys(filled).filter((id) => kindOfSheet(id) === kind).length;
  if (before >= mostSheets[kind] || isLongLook(best.question)) return undefined;
  const items = valued
    .filter(
      ({ question, worthMinutes }) =>
        worthMinutes > 0 && kindOf(question) === kind && !isLongLook(question) && !isListed(filled, question),
    )
    .slice(0, mostItems)
    .map(({ question }) => question);
  if (items.length < fewest[kind]) return undefined;
  return { id: `#${kind}${before + 1}`, kind, title: titles[kind], items };
}

/** A sheet that is open again after going back. */
export function sheetAgain(
  id: string,
  filled: FilledSheet,
  questionOf: (id: string) => Question | undefined,
): Sheet {
  const kind = kindOfSheet(id);
  return { id, kind, title: titles[kind], items: filled.items.flatMap((item) => questionOf(item) ?? []) };
}

export function isSheet(id: string): boolean {
  return id.startsWith('#');
}

export function kindOfSheet(id: string): SheetKind {
  return id.startsWith('#look') ? 'look' : 'recall';
}

/** A yes or no that the eye gives at once. */
function kindOf({ kind, answers }: Question): SheetKind {
  const yesOrNo = answers.length === 2 && answers.every(({ id }) => id === 'yes' || id === 'no');
  return kind !== 'fact' && yesOrNo ? 'look' : 'recall';
}

function isLongLook({ kind, test, effortSeconds }: Question): boolean {
  return kind !== 'fact' && (test !== undefined || effortSeconds > longestLookSeconds);
}

function isListed(filled: FilledSheets, { id }: Question): boolean {
  return Object.values(filled).some(({ items }) => items.includes(id));
}

/** What a recall sheet said of a question: that it can be answered, that it cannot, or nothing. */
export function saidOf(filled: FilledSheets, id: string): 'can' | 'cannot' | undefined {
  for (const [sheet, { items, marks }] of Object.entries(filled)) {
    if (kindOfSheet(sheet) === 'recall' && items.includes(id)) return marks[id] === 'yes' ? 'can' : 'cannot';
  }
  return undefined;
}
