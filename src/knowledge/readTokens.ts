import { quote, Refusal } from './refusal.ts';
import { type Unit, units } from './units.ts';

export type Token = { readonly start: number; readonly end: number } & (
  | { readonly kind: 'number'; readonly value: number; readonly unit?: Unit }
  | { readonly kind: 'name' | 'sign'; readonly text: string }
  | { readonly kind: 'end'; readonly text: '' }
);

const SPACE = /\s*/y;
const NUMBER = /(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?/y;
const NAME = /[A-Za-z_][A-Za-z0-9_]*/y;
const SIGN = /<=|>=|[-+*/()[\],.<>]/y;
const NAME_LETTER = /[A-Za-z0-9_]/;

// Longest first, so that "mm/s" is not read as "mm" divided by something.
const unitNames = [...units.keys()].sort((a, b) => b.length - a.length);

const foreignSigns: Readonly<Record<string, string>> = {
  '%': 'Write "percent".',
  '°': 'Write "degC" for a temperature, "deg" for an angle.',
  '^': 'Write the product out: a * a.',
  '=': 'An answer is asked for with "is", as in: material is PLA. Numbers are compared with < <= > >=.',
  '!': 'Write "not", as in: not material is PLA.',
  '&': 'Write "and".',
  '|': 'Write "or".',
  '×': 'Write *.',
  '·': 'Write *.',
  '÷': 'Write /.',
  '−': 'Write a plain hyphen as the minus sign.',
  '–': 'Write a plain hyphen as the minus sign.',
  '≤': 'Write <=.',
  '≥': 'Write >=.',
  '{': 'Group with round brackets.',
  '}': 'Group with round brackets.',
  '"': 'Names stand without quotes.',
  "'": 'Names stand without quotes.',
};

function matchAt(pattern: RegExp, text: string, at: number): string {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0] ?? '';
}

function unitAt(text: string, at: number): Unit | undefined {
  for (const name of unitNames) {
    if (!text.startsWith(name, at)) continue;
    const next = text[at + name.length] ?? '';
    const endsInLetter = NAME_LETTER.test(name[name.length - 1]!);
    if (!(endsInLetter && NAME_LETTER.test(next))) return units.get(name);
  }
  return undefined;
}

/** Cuts an expression into numbers with their units, names and signs; the last token is `end`. Throws Refusal. */
export function readTokens(text: string): Token[] {
  const tokens: Token[] = [];
  let at = matchAt(SPACE, text, 0).length;
  while (at < text.length) {
    const start = at;
    const number = matchAt(NUMBER, text, at);
    if (number !== '') {
      at += number.length;
      const value = Number(number);
      if (!Number.isFinite(value)) throw new Refusal({ start, end: at }, 'this number is too large');
      const unitStart = at + matchAt(SPACE, text, at).length;
      const unit = unitAt(text, unitStart);
      if (unit) at = unitStart + unit.name.length;
      tokens.push({ kind: 'number', value, ...(unit && { unit }), start, end: at });
    } else {
      const name = matchAt(NAME, text, at);
      const found = name || matchAt(SIGN, text, at);
      if (found === '') {
        const letter = String.fromCodePoint(text.codePointAt(at)!);
        throw new Refusal(
          { start, end: at + letter.length },
          `${quote(letter)} has no meaning here`,
          Object.hasOwn(foreignSigns, letter) ? foreignSigns[letter] : undefined,
        );
      }
      at += found.length;
      tokens.push({ kind: name === '' ? 'sign' : 'name', text: found, start, end: at });
    }
    at += matchAt(SPACE, text, at).length;
  }
  tokens.push({ kind: 'end', text: '', start: text.length, end: text.length });
  return tokens;
}
