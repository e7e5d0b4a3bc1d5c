import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

/** Which layers of src each may import, and which packages. Nothing reaches up. */
const allowed: Readonly<Record<string, { layers: readonly string[]; packages: readonly string[] }>> = {
  physics: { layers: [], packages: [] },
  inference: { layers: [], packages: [] },
  knowledge: {
    layers: ['physics'],
    packages: ['yaml', 'zod', 'env-paths', 'node:fs', 'node:path', 'node:crypto', 'node:url', 'node:os'],
  },
  model: { layers: ['knowledge', 'inference', 'physics'], packages: [] },
  intake: { layers: ['model', 'inference', 'knowledge', 'physics'], packages: ['fuse.js', 'minisearch'] },
  cases: {
    layers: ['model', 'knowledge', 'inference'],
    packages: ['write-file-atomic', 'proper-lockfile', 'env-paths', 'node:fs', 'node:path', 'node:crypto'],
  },
  dialogue: { layers: ['model', 'inference', 'knowledge', 'physics'], packages: [] },
  report: { layers: ['dialogue', 'model', 'knowledge', 'physics'], packages: [] },
  terminal: {
    layers: ['dialogue', 'knowledge'],
    packages: [
      '@inquirer/core',
      '@inquirer/prompts',
      'inquirer',
      'picocolors',
      'fast-wrap-ansi',
      'fast-string-width',
      'node:readline',
      'node:stream',
    ],
  },
  evaluate: {
    layers: ['cases', 'dialogue', 'intake', 'model', 'knowledge', 'inference'],
    packages: ['fuse.js', 'minisearch', 'node:fs', 'node:path', 'node:url'],
  },
  cli: {
    layers: [
      'cases',
      'dialogue',
      'evaluate',
      'inference',
      'intake',
      'knowledge',
      'model',
      'physics',
      'report',
      'terminal',
    ],
    packages: ['node:fs', 'node:path', 'node:util', 'node:url', 'node:process'],
  },
};

const files = readdirSync('src', { recursive: true })
  .map(String)
  .filter((name) => name.endsWith('.ts') && name.includes('/'));

function importsOf(name: string): string[] {
  const text = readFileSync(`src/${name}`, 'utf8');
  const found = text.matchAll(
    /^(?:import|export)\b[^'"]*?from\s+['"]([^'"]+)['"]|\bimport\(\s*['"]([^'"]+)['"]\s*\)/gm,
  );
  return [...found].map((match) => match[1] ?? match[2] ?? '');
}

describe('layers', () => {
  it('every folder of src is a layer that is listed here', () => {
    const folders = new Set(files.map((name) => name.split('/')[0]!));
    expect([...folders].filter((folder) => !(folder in allowed))).toEqual([]);
    expect(files.length).toBeGreaterThan(50);
  });

  it.each(files)('%s imports only what lies below it', (name) => {
    const layer = name.split('/')[0]!;
    const rule = allowed[layer]!;
    const wrong = importsOf(name).filter((target) => {
      if (!target.startsWith('.')) return !rule.packages.includes(target);
      const [, other] = /^\.\.\/([^/]+)\//.exec(target) ?? [];
      return other !== undefined && !rule.layers.includes(other);
    });
    expect(wrong).toEqual([]);
  });

  it('sees an import that reaches up', () => {
    expect(importsOf('terminal/interviewLoop.ts')).toContain('../dialogue/engine.ts');
  });
});
