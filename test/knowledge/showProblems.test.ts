import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Problem } from '../../src/knowledge/problem.ts';
import { showProblem, showProblems } from '../../src/terminal/showProblems.ts';

const lineText = '{name: Damp filament, why: It was left out,  sorces: [trade_practice], usual: rare}';
const problem: Problem = {
  code: 'unknown-key',
  grade: 'error',
  file: 'knowledge/causes/filament/damp_filament.yaml',
  line: 12,
  column: lineText.indexOf('sorces') + 1,
  length: 6,
  reading: 'the cause `damp_filament`',
  message: '`sorces` means nothing here',
  help: 'Did you mean `sources`?',
  lineText,
};

const frame = (shown: string) => {
  const lines = shown.split('\n');
  const at = lines.findIndex((line) => /^\d+ \| /.test(line));
  return [lines[at]!, lines[at + 1]!] as const;
};
/** The letters above the carets. */
const marked = ([line, carets]: readonly [string, string]) => line.slice(carets.indexOf('^'), carets.length);

describe('a problem on the screen', () => {
  it.each([40, 60, 78])('fits %i columns, with the mark under the place', (width) => {
    const shown = showProblem(problem, width);
    for (const line of shown.split('\n').filter((one) => !one.includes('.yaml')))
      expect(line.length).toBeLessThanOrEqual(width);
    expect(marked(frame(shown))).toBe('sorces');
  });

  it('stands in full where there is room', () => {
    expect(frame(showProblem(problem, 120))[0]).toBe(`12 | ${problem.lineText}`);
  });

  it('keeps the mark in its column where a tab or a wide character stands before it', () => {
    const tab = { ...problem, column: 4, length: 3, lineText: '\ta: bad' };
    expect(marked(frame(showProblem({ ...tab, column: 5 }, 78)))).toBe('bad');
    const wide = { ...problem, column: 4, length: 3, lineText: '\u6c34: bad' };
    // A wide character takes two columns: the carets begin one column further right than the letters are counted.
    expect(frame(showProblem(wide, 78))[1].indexOf('^')).toBe('12 | '.length + 4);
  });

  it('shows a warning as one, and counts', () => {
    const shown = showProblems([problem, { ...problem, code: 'unused', grade: 'warning' }], 78);
    expect(shown).toContain('warning: not used  knowledge/causes/filament/damp_filament.yaml:12:46');
    expect(shown.split('\n').at(-1)).toBe('1 problem, 1 warnings');
  });

  it('has no frame where the file has no such line', () => {
    const shown = showProblem({ ...problem, lineText: '' }, 78);
    expect(shown).not.toContain('|');
    expect(shown).toContain('means nothing here.');
  });

  it('never lets anything in it move the cursor or turn the text around', () => {
    const nasty = fc.string({
      unit: fc.constantFrom(
        'a',
        ' ',
        '\t',
        '\u001b[2J',
        '\u009b',
        '\u202e',
        '\u200f',
        '\r',
        '\u0007',
        '\ud800',
        '\u6c34',
        '{',
      ),
    });
    fc.assert(
      fc.property(
        nasty,
        fc.nat(40),
        fc.nat(40),
        fc.integer({ min: 24, max: 100 }),
        (text, column, length, width) => {
          const shown = showProblem(
            {
              ...problem,
              file: text,
              reading: text,
              message: text,
              help: text,
              lineText: text,
              column: column + 1,
              length: length + 1,
            },
            width,
          );
          expect(shown.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u);
        },
      ),
      { numRuns: 500 },
    );
  });
});
