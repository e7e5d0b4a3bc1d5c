/** One step of a phrase. */
export type PhraseStep =
  /** One of these words, with its endings. */
  | { readonly kind: 'words'; readonly texts: readonly string[] }
  /** A word that begins so. */
  | { readonly kind: 'begins'; readonly text: string }
  /** Up to three words of any kind. */
  | { readonly kind: 'gap' }
  /** A term of a group of `phrase-words.yaml`. */
  | { readonly kind: 'group'; readonly name: string }
  | { readonly kind: 'choice'; readonly of: readonly (readonly PhraseStep[])[] };

export type CutPhrase =
  | {
      readonly ok: true;
      /** Rows of steps that stand in one sentence, in any order; mostly one. */
      readonly parts: readonly (readonly PhraseStep[])[];
      readonly groups: readonly string[];
    }
  | { readonly ok: false; readonly message: string; readonly help: string };

/** Bounds that no honest phrase comes near; they keep the reading of a hostile knowledge folder small. */
export const longestPhrase = 300;
const mostSteps = 80;
const mostGaps = 3;
const mostParts = 4;

const pieces = /\d+(?:[.,]\d+)?|\p{L}[\p{L}\p{N}]*/gu;
const help =
  'A phrase is a row of words in lower case; `(a|b c)` is one of these, `(a|)` may be missing, `*` up to three words, `clog-` any word that begins so, `~feeder` a word of that group, `a & b` both in one sentence.';

/** Cuts a phrase of `said` into steps. Pure; nothing is thrown. */
export function cutPhrase(text: string): CutPhrase {
  const no = (message: string): CutPhrase => ({ ok: false, message, help });
  if (text.length > longestPhrase) return no(`it is longer than ${longestPhrase} characters`);
  const plain = text.replace(/['’]/g, '');
  if (/[^\p{Ll}\p{N} ()|*&~_.,-]/u.test(plain)) return no('it holds something other than lower-case words');
  const parts: PhraseStep[][] = [];
  for (const part of plain.split('&')) {
    const steps: PhraseStep[] = [];
    for (const piece of part.split(/(\([^()]*\))/)) {
      const group = piece.startsWith('(');
      if (!group && /[()|]/.test(piece)) return no('its brackets do not fit together');
      if (group) steps.push(choiceOf(piece.slice(1, -1).split('|').map(stepsOf)));
      else steps.push(...stepsOf(piece));
    }
    parts.push(steps);
  }
  if (parts.length > mostParts) return no(`it has more than ${mostParts} parts`);
  const all = parts.flatMap(flat);
  if (all.length > mostSteps) return no(`it has more than ${mostSteps} words`);
  if (parts.some(canBeEmpty)) return no('it can be empty');
  if (parts.some((steps) => endsInGap(steps) || endsInGap([...steps].reverse())))
    return no('`*` stands at its beginning or end');
  if (all.filter(({ kind }) => kind === 'gap').length > mostGaps)
    return no(`it has more than ${mostGaps} gaps`);
  return { ok: true, parts, groups: all.flatMap((step) => (step.kind === 'group' ? [step.name] : [])) };
}

/** A phrase that names a number, `= value` behind it where it gives the value itself, `= other` where its number is another one. */
export interface NumberPhrase {
  readonly phrase: string;
  readonly value?: number | 'other';
}

export function cutNumberPhrase(text: string): NumberPhrase {
  const stated = /^(.*\S)\s*=\s*(-?\d+(?:\.\d+)?|other)$/.exec(text);
  if (!stated) return { phrase: text };
  const [, phrase, value] = stated;
  return { phrase: phrase!, value: value === 'other' ? 'other' : Number(value) };
}

/** The steps of a row of words, such as one term of a group. */
export function stepsOf(part: string): PhraseStep[] {
  return part.split(/\s+|(\*)/).flatMap((word): PhraseStep[] => {
    if (!word) return [];
    if (word === '*') return [{ kind: 'gap' }];
    if (word.startsWith('~')) return [{ kind: 'group', name: word.slice(1) }];
    const texts = word.match(pieces) ?? [];
    const open = word.endsWith('-');
    return texts.map((text, index) =>
      open && index === texts.length - 1 ? { kind: 'begins', text } : { kind: 'words', texts: [text] },
    );
  });
}

/** Single words of a choice become one step, which is quicker to follow than many. */
export function choiceOf(choices: readonly (readonly PhraseStep[])[]): PhraseStep {
  const single = choices.flatMap((steps) =>
    steps.length === 1 && steps[0]!.kind === 'words' ? [...steps[0]!.texts] : [],
  );
  const others = choices.filter((steps) => steps.length !== 1 || steps[0]!.kind !== 'words');
  if (single.length === 0) return { kind: 'choice', of: others };
  const words: PhraseStep = { kind: 'words', texts: single };
  return others.length === 0 ? words : { kind: 'choice', of: [[words], ...others] };
}

function flat(steps: readonly PhraseStep[]): PhraseStep[] {
  return steps.flatMap((step) => (step.kind === 'choice' ? [step, ...step.of.flatMap(flat)] : [step]));
}

function canBeEmpty(steps: readonly PhraseStep[]): boolean {
  return steps.every((step) => step.kind === 'choice' && (step.of.length === 0 || step.of.some(canBeEmpty)));
}

/** Whether a gap can be the first of these. */
function endsInGap(steps: readonly PhraseStep[]): boolean {
  for (const step of steps) {
    if (step.kind === 'gap') return true;
    if (step.kind !== 'choice') return false;
    if (step.of.some((choice) => endsInGap(choice) || endsInGap([...choice].reverse()))) return true;
    if (!step.of.some(canBeEmpty)) return false;
  }
  return false;
}
