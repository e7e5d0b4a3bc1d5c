import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { suggest } from '../../src/knowledge/suggest.ts';

const names = [
  'overhang_angle',
  'overhang_where',
  'layer_height',
  'line_width',
  'fan_percent',
  'PLA',
  'ABS',
  'PA12',
];

describe('suggest', () => {
  it.each([
    ['overhng_angle', 'overhang_angle'],
    ['ovehrang_angle', 'overhang_angle'],
    ['overhang-angle', 'overhang_angle'],
    ['Layer Height', 'layer_height'],
    ['height_layer', 'layer_height'],
    ['linewidth', 'line_width'],
    ['percent', 'fan_percent'],
    ['pla', 'PLA'],
    ['PA_12', 'PA12'],
    ['AB', 'ABS'],
    ['LPA', 'PLA'],
  ])('%s: %s was meant', (word, name) => {
    expect(suggest(word, names)).toBe(name);
  });

  it.each(['Nylon', 'overhang', 'x', '', '   ', 'constructor', '__proto__'])('nothing is near %s', (word) => {
    expect(suggest(word, names)).toBeUndefined();
  });

  it('does not look for what is longer than any name', () => {
    expect(suggest('a'.repeat(10_000), ['a'.repeat(10_000)])).toBeUndefined();
  });

  it('prefers the name with fewer slips, whatever the order', () => {
    for (const known of [
      ['trim_width', 'brim_width'],
      ['brim_width', 'trim_width'],
    ])
      expect(suggest('brim_widht', known)).toBe('brim_width');
  });

  // Published: Damerau, A technique for computer detection and correction of spelling errors, CACM 7 (1964): one
  // letter wrong, missing, extra, or two neighbours swapped make up over 80 % of misspellings.
  it('finds a name again after any one slip', () => {
    const letters = fc.array(fc.constantFrom(...'abcdefghij'), { minLength: 5, maxLength: 20 });
    fc.assert(
      fc.property(letters, fc.nat(), fc.constantFrom(0, 1, 2, 3), (word, place, slip) => {
        const at = place % (word.length - 1);
        const changed = [...word];
        if (slip === 0) changed[at] = 'z';
        if (slip === 1) changed.splice(at, 1);
        if (slip === 2) changed.splice(at, 0, 'z');
        if (slip === 3) changed.splice(at, 2, word[at + 1]!, word[at]!);
        expect(suggest(changed.join(''), ['qqqqqqqq', word.join('')])).toBe(word.join(''));
      }),
    );
  });

  it('gives only names it was given, for any words', () => {
    const anything = fc.string({ unit: 'binary', maxLength: 80 });
    fc.assert(
      fc.property(anything, fc.array(anything, { maxLength: 8 }), (word, known) => {
        const near = suggest(word, known);
        expect(near === undefined || known.includes(near)).toBe(true);
      }),
    );
  });
});
