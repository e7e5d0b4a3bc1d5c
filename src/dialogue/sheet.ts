import type { Question } from './question.ts';

/**
 * Several questions on one screen. `look`: what is there on the print, and what is not, the eye going over it once.
 * `recall` and `trial`: which questions about the set-up, or by a trial at the machine, the person can answer; those are
 * asked next as the lines of a form, the others not at all, and nobody has to say "do not know" nine times.
 */
export type SheetKind = 'look' | 'recall' | 'trial';

export interface Sheet {
  /** Stands in the trail; no entry can have such an id. */
  readonly id: string;
  readonly kind: SheetKind;
  readonly title: string;
  readonly items: readonly Question[];
}

/** What a person marked on a sheet; yes means "I can tell" where it is not a look. */
export type Marks = Readonly<Record<string, 'yes' | 'no'>>;

export interface FilledSheet {
  readonly items: readonly string[];
  readonly marks: Marks;
}

export type FilledSheets = Readonly<Record<string, FilledSheet>>;

/** What stands above a sheet. */
export const titles: Readonly<Record<SheetKind, string>> = {
  look: 'Which of these do you see? Mark what is there, and what surely is not.',
  recall: 'Which of these could you tell? Only those are asked.',
  trial: 'Which of these do you know, or can you find out now? Only those are asked.',
};

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
  return id.replace(/^#|\d+$/g, '') as SheetKind;
}

/** The next question that the person said they could answer: asked at once, as the lines of a form. */
export function promised(filled: FilledSheets, isAnswered: (id: string) => boolean): string | undefined {
  for (const [sheet, { items, marks }] of Object.entries(filled)) {
    if (kindOfSheet(sheet) === 'look') continue;
    const open = items.find((id) => marks[id] === 'yes' && !isAnswered(id));
    if (open !== undefined) return open;
  }
  return undefined;
}

/** What a sheet said of a question: that it can be answered, that it cannot, or nothing. */
export function saidOf(filled: FilledSheets, id: string): 'can' | 'cannot' | undefined {
  for (const [sheet, { items, marks }] of Object.entries(filled)) {
    if (kindOfSheet(sheet) !== 'look' && items.includes(id)) return marks[id] === 'yes' ? 'can' : 'cannot';
  }
  return undefined;
}
