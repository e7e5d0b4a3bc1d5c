import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import * as physics from '../../src/physics/index.ts';

const folder = new URL('../../src/physics/', import.meta.url);
const notFormulas = ['domain.ts', 'index.ts', 'rankOnly.ts', 'units.ts'];
const files = readdirSync(folder).filter((name) => name.endsWith('.ts') && !notFormulas.includes(name));

const documented = files.flatMap((file) => {
  const text = readFileSync(new URL(file, folder), 'utf8');
  return [...text.matchAll(/(\/\*\*(?:(?!\*\/)[\s\S])*\*\/\n)?export function (\w+)\(([^)]*)\)/g)].map(
    (match) => ({
      name: match[2]!,
      doc: (match[1] ?? '').replace(/\s*\n \* ?/g, ' '),
      parameters: [...(match[3] ?? '').matchAll(/(?<!readonly )\b(\w+)(\??: (?:number|readonly)| = )/g)].map(
        (found) => found[1]!,
      ),
    }),
  );
});

it('finds every formula that the index exports', () => {
  const exported = Object.entries(physics).filter(([, value]) => typeof value === 'function');
  expect(documented.map(({ name }) => name).sort()).toEqual(exported.map(([name]) => name).sort());
});

describe.each(documented)('$name', ({ name, doc, parameters }) => {
  it('states validity, source and agreement', () => {
    expect(doc).toMatch(/valid/i);
    expect(doc).toMatch(/source/i);
    expect(doc).toMatch(/agreement/i);
  });

  it('describes every plain parameter', () => {
    const described = parameters.filter((parameter) => doc.includes(`@param ${parameter} `));
    expect(described).toEqual(parameters);
  });

  it('says "Rank only" exactly when it is listed so', () => {
    const listed = (physics.RANK_ONLY as readonly string[]).includes(name);
    expect(/Rank only: never show as a number/.test(doc)).toBe(listed);
  });
});

it('the rank-only list names functions, none twice', () => {
  expect(new Set(physics.RANK_ONLY).size).toBe(physics.RANK_ONLY.length);
  const formulas = new Map<string, unknown>(Object.entries(physics));
  for (const name of physics.RANK_ONLY) expect(formulas.get(name)).toBeTypeOf('function');
});
