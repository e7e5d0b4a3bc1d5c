import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { describe, expect, it } from 'vitest';

/** What is loaded before the first question stands on the screen: these, and all that they import without `import()`. */
const onTheWay = [
  'src/cli/main.ts',
  'src/cli/interview.ts',
  'src/cli/session.ts',
  'src/terminal/keyAsker.ts',
  'src/terminal/chooseSymptom.ts',
];

function importsOf(file: string): string[] {
  const text = readFileSync(file, 'utf8');
  return (
    [...text.matchAll(/^(?:import|export)\s+(?!type\b)(?:[^'";]*?from\s+)?['"]([^'"]+)['"]/gm)]
      .map((match) => match[0])
      // `import { type A, type B }` leaves nothing behind when it is compiled.
      .filter((line) => !/^import\s*\{(\s*type\s+\w+(\s+as\s+\w+)?\s*,?)+\}/.test(line))
      .map((line) => /['"]([^'"]+)['"]/.exec(line)![1]!)
  );
}

function reach(roots: readonly string[]): { files: Set<string>; packages: Set<string> } {
  const files = new Set<string>();
  const packages = new Set<string>();
  const visit = (file: string) => {
    if (files.has(file)) return;
    expect(existsSync(file), file).toBe(true);
    files.add(file);
    for (const target of importsOf(file)) {
      if (target.startsWith('.')) visit(normalize(join(dirname(file), target)));
      else packages.add(target);
    }
  };
  for (const root of roots) visit(root);
  return { files, packages };
}

describe('before the first question is drawn', () => {
  const { files, packages } = reach(onTheWay);

  it('neither the schemas, the YAML reader, the search nor the big prompt package are loaded', () => {
    for (const name of ['zod', 'yaml', 'fuse.js', 'inquirer', '@inquirer/prompts'])
      expect([...packages]).not.toContain(name);
    expect([...packages]).toContain('@inquirer/core');
  });

  it('nor is the engine', () => {
    const early = [...files].filter((file) => /src\/(inference|physics|model|report|evaluate)\//.test(file));
    expect(early.filter((file) => !/rounding|case\.ts$/.test(file))).toEqual([]);
  });

  it('sees what is imported at once', () => {
    expect([...reach(['src/knowledge/load.ts']).packages]).toEqual(expect.arrayContaining(['yaml', 'zod']));
    expect([...files].length).toBeGreaterThan(10);
  });
});
