import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCases } from '../../src/cases/caseFile.ts';
import { openEngine } from '../../src/dialogue/engine.ts';
import { shippedFolder } from '../../src/knowledge/folders.ts';
import { loadKnowledge } from '../../src/knowledge/load.ts';

const { knowledge } = loadKnowledge({ shipped: shippedFolder, local: [] });
const engine = openEngine(knowledge);
const originals = [
  readFileSync(`${shippedFolder}/causes/filament/damp_filament.cases.yaml`, 'utf8'),
  'complaint: stringing\nfacts: {material: PETG, nozzle_temperature: 240 C, spool_open: weeks}\nsigns: {popping: some}\ntried: {cooler_nozzle: no_change}\n',
  '{"complaint": "curled_overhang", "symptoms": ["stringing"], "facts": {"overhang_angle": 25, "fan_percent": 100}, "reprint": {"minutes": 90}}',
];

const edit = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  remove: fc.nat(12),
  insert: fc.oneof(
    fc.string({ maxLength: 6 }),
    fc.constantFrom(
      '&a',
      '*a',
      '!!js',
      '__proto__',
      '\u001b[2J',
      '\u0000',
      '[[[[[[',
      '{',
      '}',
      ': ',
      '\n- ',
      '1e999',
      '-0',
      'unknown',
      'no',
      '\t',
      '\ud800',
    ),
  ),
});

const mutated = fc
  .tuple(fc.constantFrom(...originals), fc.array(edit, { minLength: 1, maxLength: 5 }))
  .map(([text, edits]) =>
    edits.reduce((out, { at, remove, insert }) => {
      const place = Math.floor(at * out.length);
      return out.slice(0, place) + insert + out.slice(place + remove);
    }, text),
  );

describe('ten thousand damaged case files', () => {
  it('give cases or problems with a place, never a throw', () => {
    let sound = 0;
    fc.assert(
      fc.property(mutated, (text) => {
        const { cases, problems } = readCases(text, 'case.yaml', knowledge);
        for (const problem of problems) {
          expect(problem.line).toBeGreaterThan(0);
          expect(problem.column).toBeGreaterThan(0);
          expect(problem.message).not.toBe('');
        }
        sound += cases.length;
      }),
      { numRuns: 10_000 },
    );
    expect(sound).toBeGreaterThan(100);
  });

  it('and what can be read can be diagnosed: chances add up to one', () => {
    fc.assert(
      fc.property(mutated, (text) => {
        for (const { case: known } of readCases(text, 'case.yaml', knowledge).cases.slice(0, 1)) {
          if (known.complaint === undefined) continue;
          const { causes, otherChance } = engine.diagnose(known);
          const sum = causes.reduce((total, ranked) => total + ranked.chance, otherChance);
          expect(Math.abs(sum - 1)).toBeLessThan(1e-9);
        }
      }),
      { numRuns: 60 },
    );
  });
});
