import type { Question } from '../dialogue/question.ts';
import type { Marks, Sheet } from '../dialogue/sheet.ts';

/** What a person did at a question. */
export type Choice =
  | { readonly kind: 'answer'; readonly value: string | number }
  | { readonly kind: 'unknown' }
  | { readonly kind: 'back' }
  | { readonly kind: 'stop' };

/** What a person did with a sheet. */
export type SheetChoice =
  | { readonly kind: 'marks'; readonly marks: Marks }
  | { readonly kind: 'back' }
  | { readonly kind: 'stop' };

/** What a person left standing of what was read from their words. */
export type ConfirmChoice =
  | { readonly kind: 'kept'; readonly ids: readonly string[] }
  | { readonly kind: 'back' }
  | { readonly kind: 'stop' };

/** Texts that can be called up at a question; worked out only when asked for. */
export interface Panels {
  why(): string;
  look(): string;
  ranking(): string;
}

export type PanelName = keyof Panels;

/** One entry of a list to choose from. */
export interface ListEntry {
  readonly id: string;
  readonly text: string;
  readonly hint?: string;
  /** Plain characters, several lines. */
  readonly drawing?: string;
}

export type ListChoice =
  /** `words`: what was typed to find it. */
  | { readonly kind: 'pick'; readonly id: string; readonly words?: string }
  | { readonly kind: 'words'; readonly text: string }
  | { readonly kind: 'back' }
  | { readonly kind: 'stop' };

/** Entries that fit what has been typed so far. */
export type LiveSearch = (text: string) => Promise<readonly ListEntry[]>;

/** Registers what draws the question at hand anew, as after coming back to the foreground; returns how to undo that. */
export type OnRedraw = (redraw: () => void) => () => void;

/** How questions are put to a person: by keys or by lines. The interview does not care. */
export interface Asker {
  ask(question: Question, before: string | number | 'unknown' | undefined, panels: Panels): Promise<Choice>;
  /** Chooses from a list, or takes free words where there is a search for them. */
  pick(title: string, entries: readonly ListEntry[], search?: LiveSearch): Promise<ListChoice>;
  /** Marks on any number of lines, also none. */
  fill(sheet: Sheet, before: Marks, panelsOf: (item: Question) => Panels): Promise<SheetChoice>;
  /** Lines that hold unless the person strikes them out. */
  confirm(title: string, lines: readonly ListEntry[]): Promise<ConfirmChoice>;
  /** A finished step, as the one line that stays of it. */
  note(label: string, answer: string): void;
  /** Text beside the questions. */
  say(text: string): void;
  close(): void;
}

/** The person ended the input or pressed Ctrl-C: nothing more can be asked. */
export class InputEnded extends Error {
  override readonly name = 'InputEnded';
  constructor(readonly reason: 'end' | 'interrupt') {
    super(`input ended: ${reason}`);
  }
}
