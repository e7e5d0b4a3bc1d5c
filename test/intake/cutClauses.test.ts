import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutClauses } from '../../src/intake/cutClauses.ts';

/** The words of each clause. */
const clauses = (text: string): string[] => {
  const cut = new Map<number, string[]>();
  for (const { text: word, clause } of cutClauses(text)) cut.set(clause, [...(cut.get(clause) ?? []), word]);
  return [...cut.values()].map((words) => words.join(' '));
};

describe('clauses', () => {
  it.each([
    ['it strings, the bed is hot', ['it strings', 'the bed is hot']],
    ['whatever speed, temperature or spool I use', ['whatever speed temperature or spool i use']],
    ['no hairs, blobs, thin lines, or gaps', ['no hairs blobs thin lines or gaps']],
    ['neither fan, nor speed helps, it pops', ['neither fan nor speed helps', 'it pops']],
    ['it strings, it pops and hisses', ['it strings', 'it pops and hisses']],
    ['I dried it, changed the nozzle twice or so', ['i dried it', 'changed the nozzle twice or so']],
    ['fine, or so. Hot, or', ['fine or so', 'hot or']],
    ['it strings\nor pops', ['it strings', 'or pops']],
    [', or', ['or']],
  ])('%j', (text, expected) => {
    expect(clauses(text)).toEqual(expected);
  });

  it('follow one another, and no sentence shares one with the next', () => {
    const word = fc.constantFrom('or', 'nor', 'a', 'bed', ',', '.', ', ', ' ', '\n', ';', 'but', '3,5', '?');
    fc.assert(
      fc.property(fc.array(word, { maxLength: 40 }), (words) => {
        const tokens = cutClauses(words.join(' '));
        for (const [index, { clause, sentence }] of tokens.entries()) {
          const before = tokens[index - 1];
          if (before === undefined) continue;
          expect(clause).toBeGreaterThanOrEqual(before.clause);
          if (sentence !== before.sentence) expect(clause).toBeGreaterThan(before.clause);
        }
      }),
    );
  });
});
