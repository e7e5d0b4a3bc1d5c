import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { commandNames, helpText } from '../src/cli/help.ts';
import { optionTable } from '../src/cli/options.ts';
import { shippedFolder } from '../src/knowledge/folders.ts';
import { loadKnowledge } from '../src/knowledge/load.ts';
import { runCulprint, scratchFolder } from './cli/run.ts';

const readme = readFileSync('README.md', 'utf8');
const developers = readFileSync('DEVELOPERS.md', 'utf8');
const blocks = (text: string, language: string) =>
  [...text.matchAll(new RegExp(`^\`\`\`${language}\\n([\\s\\S]*?)^\`\`\``, 'gm'))].map((match) => match[1]!);

describe('README', () => {
  it('names the two commands first, and they exist', () => {
    const { scripts } = JSON.parse(readFileSync('package.json', 'utf8'));
    expect(blocks(readme, '')[0]).toBe('npm start\nnpm test\n');
    for (const name of ['start', 'test', 'bench', 'evaluate', 'check']) expect(scripts).toHaveProperty(name);
  });

  it('shows a run that comes out as shown', async () => {
    const [, shown] = blocks(readme, '');
    const example = blocks(readme, 'yaml')[0]!.replace(/^tried:.*\n/m, '');
    const { out } = await runCulprint(['diagnose', '--case', '-'], { input: example });
    expect(out.trim()).toBe(shown!.trim());
  });

  it('shows a local finding that loads as it stands', () => {
    const folder = scratchFolder('readme');
    const [, cause, fix] = blocks(readme, 'yaml');
    for (const [path, text] of [
      ['causes/room/stove_beside.yaml', cause],
      ['fixes/room/move_from_stove.yaml', fix],
    ] as const) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), text!);
    }
    const { knowledge, problems } = loadKnowledge({
      shipped: shippedFolder,
      local: [{ folder, name: folder }],
    });
    expect(problems).toEqual([]);
    expect(knowledge.causes).toHaveProperty('stove_beside');
  });

  it('links to files that are there', () => {
    const links = [...readme.matchAll(/\]\(([^)#]+)\)/g)].map((match) => match[1]!);
    expect(links.length).toBeGreaterThan(0);
    for (const link of links) expect(existsSync(link), link).toBe(true);
  });
});

describe('DEVELOPERS', () => {
  it('describes every layer of src', () => {
    const layers = readdirSync('src', { withFileTypes: true }).filter((entry) => entry.isDirectory());
    for (const { name } of layers) expect(developers).toContain(`\`${name}\``);
  });

  it('names the words of every scale with their values', () => {
    const { knowledge } = loadKnowledge({ shipped: shippedFolder, local: [] });
    for (const scale of [knowledge.words.links, knowledge.words.usual]) {
      for (const [word, value] of Object.entries(scale)) {
        const number = String(value).replace(/^0/, '');
        expect(developers).toMatch(new RegExp(`${word}\\s+${number.replace('.', '\\.')}0*\\b`));
      }
    }
  });

  it('mentions only paths that exist', () => {
    const paths = [...developers.matchAll(/`((?:src|test|knowledge)\/[A-Za-z0-9_./]+)`/g)].map(
      (match) => match[1]!,
    );
    expect(paths.length).toBeGreaterThan(5);
    for (const path of paths) expect(existsSync(path), path).toBe(true);
  });
});

describe('help', () => {
  it('lists every command and option, in a window of eighty columns', () => {
    const help = helpText();
    for (const name of commandNames.filter((word) => word !== 'help' && word !== 'version'))
      expect(help).toContain(name);
    for (const name of Object.keys(optionTable))
      expect(help).toContain(`--${['input', 'reading', 'color'].includes(name) ? `no-${name}` : name}`);
    expect(Math.max(...help.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });
});
