import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shippedFolder } from '../../src/knowledge/folders.ts';
import { type Problem, problemCodes } from '../../src/knowledge/problem.ts';
import { showProblem } from '../../src/terminal/showProblems.ts';
import { base, type Files, load } from './smallBase.ts';

/** Files to spoil, each with the place in the small base (or the local folder) where it is then read. */
const templates: Files = Object.fromEntries(
  readdirSync(shippedFolder, { recursive: true })
    .map((path) => String(path).replaceAll('\\', '/'))
    .filter((path) => /\.yaml$/.test(path) && !path.endsWith('.cases.yaml'))
    .map((path) => [
      path.replace(/^(causes|fixes)\/_template/, '$1/heat/_template').replace('_template', 'x_y'),
      readFileSync(join(shippedFolder, path), 'utf8'),
    ]),
);
const originals = Object.entries({ ...templates, ...base });
const changes: readonly (readonly [string, string])[] = [
  [
    'changes/a.yaml',
    'change: damp_filament\nset: {usual: common, signs: {popping: {shows: rarely, much: 0.01}}}\nbecause: x\n',
  ],
  [
    'changes/b.yaml',
    'change: dry_the_spool\nset: {caps: [], to: [1 degC, 2 K], cautions: [no_food_oven]}\nbecause: x\n',
  ],
  ['changes/c.yaml', 'switch-off: [popping, spool_storage, ABS, dry_the_spool]\nbecause: x\n'],
];

const scraps = [
  '\t',
  '\n',
  '  ',
  '- ',
  ': ',
  '? ',
  '{',
  '}',
  '[',
  ']',
  ',',
  '"',
  "'",
  '#',
  '|',
  '>',
  '&a ',
  '*a',
  '!!str ',
  '%',
  '---\n',
  '...\n',
  '@',
  '`',
  '\u0000',
  '\u001b[2J',
  '\u0085',
  '\u2028',
  '\ufeff',
  '\ud800',
  '\u202e',
  '\r',
  '\\x1b',
  '"\\u0000"',
  '"\\ud800"',
  '__proto__',
  '__proto__: {a: 1}\n',
  'constructor',
  'toString',
  'hasOwnProperty: 1\n',
  '<<: *a\n',
  'null',
  'true',
  '.nan',
  '-.inf',
  '1e999',
  '0x1f',
  '1_0',
  'yes',
  'no',
  '~',
  '9'.repeat(400),
  'x'.repeat(5000),
  '['.repeat(700),
  '{a: '.repeat(100),
  '- '.repeat(90),
  '((((',
  'if(',
  'min(',
  'material.',
  '1/0',
  '{below: 1}',
  'not: {not: {}}',
  'any: []',
];

/** One change that a slip, a merge or malice could make. */
const edit = fc.record({
  kind: fc.constantFrom(
    'insert',
    'delete',
    'replace',
    'dropLine',
    'doubleLine',
    'swapLines',
    'indent',
    'outdent',
    'word',
    'cut',
    'splice',
  ),
  at: fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
  to: fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
  length: fc.integer({ min: 1, max: 12 }),
  scrap: fc.constantFrom(...scraps),
});
type Edit = (typeof edit)['generate'] extends (...args: never[]) => { value: infer V } ? V : never;

function apply(text: string, { kind, at, to, length, scrap }: Edit): string {
  const from = Math.floor(at * (text.length + 1));
  const lines = text.split('\n');
  const one = Math.floor(at * lines.length);
  const other = Math.floor(to * lines.length);
  switch (kind) {
    case 'insert':
      return text.slice(0, from) + scrap + text.slice(from);
    case 'delete':
      return text.slice(0, from) + text.slice(from + length);
    case 'replace':
      return text.slice(0, from) + scrap + text.slice(from + length);
    case 'dropLine':
      return lines.filter((_, index) => index !== one).join('\n');
    case 'doubleLine':
      return lines.toSpliced(other, 0, lines[one]!).join('\n');
    case 'swapLines':
      return lines.with(one, lines[other]!).with(other, lines[one]!).join('\n');
    case 'indent':
      return lines.with(one, `${' '.repeat(length)}${lines[one]}`).join('\n');
    case 'outdent':
      return lines.with(one, lines[one]!.trimStart()).join('\n');
    case 'word': {
      const words = [...text.matchAll(/[\w.-]+/g)];
      const [gone, kept] = [words[Math.floor(at * words.length)], words[Math.floor(to * words.length)]];
      if (!gone || !kept) return text;
      return text.slice(0, gone.index) + kept[0] + text.slice(gone.index + gone[0].length);
    }
    case 'cut':
      return text.slice(0, from);
    default:
      return text.slice(0, from) + text.slice(Math.floor(to * text.length));
  }
}

function checkProblem(problem: Problem): void {
  expect(Object.hasOwn(problemCodes, problem.code)).toBe(true);
  expect(problem.line).toBeGreaterThan(0);
  expect(problem.column).toBeGreaterThan(0);
  expect(problem.length).toBeGreaterThan(0);
  expect(problem.column).toBeLessThanOrEqual(problem.lineText.length + 1);
  expect(problem.message + problem.help).not.toMatch(/undefined|NaN|\[object/);
  expect(showProblem(problem, 40)).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/);
}

// Both together: ten thousand spoilt files.
const runs = 5000;

describe('spoilt files', () => {
  it('give problems, never a throw, and leave the rest of the knowledge standing', () => {
    let refused = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...originals),
        fc.array(edit, { minLength: 1, maxLength: 4 }),
        ([path, text], edits) => {
          const spoilt = edits.reduce(apply, text);
          const { knowledge, problems } = load({ [path]: spoilt });
          if (problems.length > 0) refused += 1;
          for (const problem of problems) checkProblem(problem);
          for (const cause of Object.values(knowledge.causes)) {
            for (const { atLeast } of cause.links)
              for (const chance of atLeast) expect(chance > 0 && chance < 1).toBe(true);
            expect(Object.values(knowledge.fixes).some((fix) => Object.hasOwn(fix.removes, cause.id))).toBe(
              true,
            );
          }
          expect(Object.keys(Object.prototype)).toEqual([]);
        },
      ),
      { numRuns: runs },
    );
    // Spoiling seldom leaves a file as good as it was: else nothing was tried here.
    expect(refused).toBeGreaterThan(runs / 2);
  });

  it('in a local folder leave the shipped knowledge as it was', () => {
    const plain = load().knowledge;
    let harmed = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(
          ...originals.filter(([path]) => path.includes('/')),
          ...changes,
          ...changes,
          ...changes,
        ),
        fc.array(edit, { minLength: 1, maxLength: 4 }),
        ([path, text], edits) => {
          const spoilt = edits.reduce(apply, text);
          const { knowledge, problems } = load(
            {},
            { [path]: spoilt, 'changes/z.yaml': 'change: nozzle_too_hot\nset: {usual: rare}\nbecause: x\n' },
          );
          for (const problem of problems) checkProblem(problem);
          if (problems.some((problem) => problem.grade === 'error')) harmed += 1;
          const off = /switch-off/.test(spoilt);
          for (const kind of [
            'symptoms',
            'signs',
            'facts',
            'causes',
            'fixes',
            'materials',
            'cautions',
          ] as const) {
            if (off && kind !== 'cautions') continue;
            expect(Object.keys(knowledge[kind])).toEqual(expect.arrayContaining(Object.keys(plain[kind])));
          }
          const dry = knowledge.fixes['dry_the_spool'];
          if (dry && !off) expect(dry.cautions).toContain('no_food_oven');
        },
      ),
      { numRuns: runs },
    );
    expect(harmed).toBeGreaterThan(runs / 3);
  });

  it('may be nested as deep as they like', () => {
    for (const text of [
      '['.repeat(100_000),
      '{a: '.repeat(50_000),
      '- '.repeat(100_000),
      '? '.repeat(100_000),
      `${'['.repeat(500)}\n`.repeat(200),
      Array.from({ length: 600 }, (_, i) => `${' '.repeat(i)}a:`).join('\n'),
    ]) {
      const { problems } = load({ 'signs/deep.yaml': text });
      expect(problems.length).toBeGreaterThan(0);
    }
    expect(basename('signs/deep.yaml')).toBe('deep.yaml');
  });
});
