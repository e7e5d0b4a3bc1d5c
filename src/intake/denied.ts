import type { Span, Token } from './cutClauses.ts';

const window = 3;

const denials = new Set(
  'no not never without nor neither none nothing hardly barely isnt arent wasnt werent doesnt dont didnt cant cannot couldnt wont wouldnt havent hasnt hadnt shouldnt aint'.split(
    ' ',
  ),
);
/** After "no" or "not" these do not deny what follows: they say what came of something, or stress it. */
const otherwise = new Set(
  'only just change changes difference better improvement effect luck joy doubt matter idea help helped fix fixed solve solved'.split(
    ' ',
  ),
);
const supposals = new Set('maybe perhaps possibly might whether if unless wondering suppose'.split(' '));

export const isDenial = (word: string): boolean => denials.has(word);

/** Where one of the three words before a part denies it, within its clause, and is no word of the phrase itself; undefined where none does. */
export function denialOf(tokens: readonly Token[], parts: readonly Span[]): number | undefined {
  for (const { first } of parts) {
    const denial = wordBefore(
      tokens,
      first,
      (index) =>
        denials.has(tokens[index]!.text) &&
        !otherwise.has(tokens[index + 1]?.text ?? '') &&
        !parts.some((part) => part.first <= index && index < part.end),
    );
    if (denial !== undefined) return denial;
  }
  return undefined;
}

/** Whether it is only supposed or asked: "maybe", "if", "could be" before it, "do I need to". What is supposed is not read. */
export function isSupposed(tokens: readonly Token[], first: number): boolean {
  return (
    tokens[first]!.asked === true ||
    wordBefore(
      tokens,
      first,
      (index) =>
        supposals.has(tokens[index]!.text) ||
        (/^(?:could|may|can)$/.test(tokens[index]!.text) && tokens[index + 1]?.text === 'be'),
    ) !== undefined
  );
}

function wordBefore(
  tokens: readonly Token[],
  first: number,
  holds: (index: number) => boolean,
): number | undefined {
  const { clause } = tokens[first]!;
  for (let index = first - 1; index >= 0 && index >= first - window; index--) {
    if (tokens[index]!.clause !== clause) return undefined;
    if (holds(index)) return index;
  }
  return undefined;
}
