import type { Question } from '../dialogue/question.ts';

/** What a person did at a question. */
export type Choice =
  | { readonly kind: 'answer'; readonly value: string | number }
  | { readonly kind: 'unknown' }
  | { readonly kind: 'back' }
  | { readonly kind: 'why' }
  | { readonly kind: 'look' }
  | { readonly kind: 'ranking' }
  | { readonly kind: 'stop' };

/** One entry of a list to choose from. */
export interface ListEntry {
  readonly id: string;
  readonly text: string;
  readonly hint?: string;
  /** Plain characters, several lines. */
  readonly drawing?: string;
}

export type ListChoice =
  | { readonly kind: 'pick'; readonly id: string }
  | { readonly kind: 'words'; readonly text: string }
  | { readonly kind: 'back' }
  | { readonly kind: 'stop' };

/** How questions are put to a person: by keys or by lines. The interview does not care. */
export interface Asker {
  ask(question: Question, before: string | number | 'unknown' | undefined): Promise<Choice>;
  /** Chooses from a list, or takes free words where `words` allows. */
  pick(title: string, entries: readonly ListEntry[], words: boolean): Promise<ListChoice>;
  /** Text beside the questions: notes, the ranking, how to look. */
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
