/** One step of a phrase: a word with its endings, the beginning of a word, or up to three words of any kind. */
export type PhraseStep =
  | { readonly kind: 'word' | 'begins'; readonly text: string }
  | { readonly kind: 'gap' };

export type CutPhrase =
  | { readonly ok: true; readonly rows: readonly (readonly PhraseStep[])[] }
  | { readonly ok: false; readonly message: string; readonly help: string };

/** Bounds that no honest phrase comes near; they keep the readings of a hostile knowledge folder small. */
export const longestPhrase = 160;
const mostRows = 200;
const mostSteps = 16;
const mostGaps = 3;

const pieces = /\d+(?:[.,]\d+)?|\p{L}[\p{L}\p{N}]*/gu;
const help =
  'A phrase is a row of words in lower case; `(a|b c)` is one of these, `*` up to three words, `clog-` any word that begins so.';

/**
 * Cuts a phrase of `said` into the rows of steps that its choices stand for. Pure; nothing is thrown.
 * @param text at most `longestPhrase` characters
 */
export function cutPhrase(text: string): CutPhrase {
  const no = (message: string): CutPhrase => ({ ok: false, message, help });
  if (text.length > longestPhrase) return no(`it is longer than ${longestPhrase} characters`);
  const plain = text.replace(/['’]/g, '');
  if (/[^\p{Ll}\p{N} ()|*.,-]/u.test(plain)) return no('it holds something other than lower-case words');
  let rows: PhraseStep[][] = [[]];
  for (const part of plain.split(/(\([^()]*\))/)) {
    const group = part.startsWith('(');
    if (!group && /[()|]/.test(part)) return no('its brackets do not fit together');
    const choices = (group ? part.slice(1, -1).split('|') : [part]).map(stepsOf);
    rows = rows.flatMap((row) => choices.map((choice) => [...row, ...choice]));
    if (rows.length > mostRows) return no(`it stands for more than ${mostRows} rows of words`);
  }
  for (const row of rows) {
    if (row.length === 0) return no('it can be empty');
    if (row[0]!.kind === 'gap' || row[row.length - 1]!.kind === 'gap')
      return no('`*` stands at its beginning or end');
    if (row.length > mostSteps) return no(`it has more than ${mostSteps} words`);
    if (row.filter(({ kind }) => kind === 'gap').length > mostGaps)
      return no(`it has more than ${mostGaps} gaps`);
  }
  return { ok: true, rows };
}

function stepsOf(part: string): PhraseStep[] {
  return part.split(/\s+|(\*)/).flatMap((word): PhraseStep[] => {
    if (!word) return [];
    if (word === '*') return [{ kind: 'gap' }];
    const texts = word.match(pieces) ?? [];
    const open = word.endsWith('-');
    return texts.map((text, index) => ({
      kind: open && index === texts.length - 1 ? 'begins' : 'word',
      text,
    }));
  });
}
