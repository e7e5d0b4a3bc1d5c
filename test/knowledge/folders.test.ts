import { execFileSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import { delimiter, dirname, join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { findPlaces } from '../../src/knowledge/folders.ts';
import { loadKnowledge } from '../../src/knowledge/load.ts';
import { base, type Files } from './smallBase.ts';

const made: string[] = [];
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

function folderWith(files: Files): string {
  const folder = mkdtempSync(join(tmpdir(), 'culprint-test-'));
  made.push(folder);
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  return folder;
}

const codes = (folder: string) =>
  loadKnowledge({ shipped: folder, local: [] }).problems.map(({ code, file }) => `${code} ${file}`);

describe('reading a knowledge folder', () => {
  it('reads what is there, and passes over templates, cases, hidden files and other things', () => {
    const folder = folderWith({
      ...base,
      'signs/_template.yaml': 'nonsense: [',
      'causes/filament/damp_filament.cases.yaml': 'nonsense: [',
      '.git/config.yaml': 'nonsense: [',
      'schema/cause.yaml': 'nonsense: [',
      'README.md': 'hello',
    });
    expect(codes(folder)).toEqual([]);
  });

  it('gives a result that nobody can change by accident', () => {
    const { knowledge } = loadKnowledge({ shipped: folderWith(base), local: [] });
    expect(Object.isFrozen(knowledge.causes['damp_filament']?.links[0])).toBe(true);
  });

  it('says so where a file is too large, not UTF-8, or not allowed to be read', () => {
    const folder = folderWith({ ...base, 'signs/large.yaml': `#${'x'.repeat(256 * 1024)}` });
    writeFileSync(join(folder, 'signs/latin.yaml'), Buffer.from([0x6e, 0x61, 0xe9]));
    expect(codes(folder)).toEqual([
      'too-big knowledge/signs/large.yaml',
      'bad-text knowledge/signs/latin.yaml',
    ]);
    if (process.getuid?.() !== 0) {
      const secret = folderWith(base);
      chmodSync(join(secret, 'signs/popping.yaml'), 0);
      expect(codes(secret)).toContain('unreadable knowledge/signs/popping.yaml');
    }
  });

  it('does not wait for a pipe, run round in a circle of links, or follow one into nothing', () => {
    const folder = folderWith(base);
    execFileSync('mkfifo', [join(folder, 'signs/pipe.yaml')]);
    symlinkSync(folder, join(folder, 'causes/heat/round'));
    symlinkSync(join(folder, 'nowhere'), join(folder, 'signs/gone.yaml'));
    expect(codes(folder)).toEqual([
      'unreadable knowledge/signs/gone.yaml',
      'unreadable knowledge/signs/pipe.yaml',
    ]);
  });

  it('says so where a folder is not there', () => {
    const { problems } = loadKnowledge({
      shipped: folderWith(base),
      local: [{ folder: '/no/such', name: '../shop' }],
    });
    expect(problems.map(({ code, file, message }) => `${code} ${file} ${message}`)).toEqual([
      'unreadable ../shop cannot open this folder: it is not there',
    ]);
  });

  it('reads at most 5000 files', () => {
    const many: Record<string, string> = {};
    for (let i = 0; i <= 5000; i++) many[`signs/s${i}.yaml`] = '';
    const problems = codes(folderWith(many));
    expect(problems.filter((line) => line.startsWith('too-big'))).toEqual(['too-big knowledge']);
    expect(problems.length).toBeLessThan(5010);
  });
});

describe('where things live', () => {
  const home = homedir();

  it.runIf(process.platform === 'linux')(
    'follows the XDG base directories, and ignores relative ones',
    () => {
      expect(findPlaces({}, {})).toMatchObject({
        data: join(home, '.local/share/culprint'),
        cache: join(home, '.cache/culprint'),
      });
      expect(findPlaces({}, { XDG_DATA_HOME: '/d', XDG_CACHE_HOME: '/c' })).toMatchObject({
        data: '/d/culprint',
        cache: '/c/culprint',
      });
      expect(findPlaces({}, { XDG_DATA_HOME: 'd', XDG_CACHE_HOME: '' })).toMatchObject({
        data: join(home, '.local/share/culprint'),
        cache: join(home, '.cache/culprint'),
      });
    },
  );

  it('lets the environment, and flags above it, say otherwise', () => {
    const env = {
      CULPRINT_DATA: '/d',
      CULPRINT_CACHE: '/c',
      CULPRINT_LOCAL: ['/a', '', 'b'].join(delimiter),
    };
    const named = (folders: readonly string[]) => folders.map((folder) => ({ folder, name: folder }));
    expect(findPlaces({}, env)).toMatchObject({ data: '/d', cache: '/c', local: named(['/a', 'b']) });
    expect(findPlaces({ local: ['x'], data: '/y', cache: '/z' }, env)).toMatchObject({
      data: '/y',
      cache: '/z',
      local: named(['x']),
    });
  });

  it('takes the local findings of the data folder only where there are some', () => {
    const data = folderWith({ 'knowledge/signs/x_y.yaml': '' });
    expect(findPlaces({ data }, {}).local).toEqual([
      { folder: join(data, 'knowledge'), name: join(data, 'knowledge') },
    ]);
    expect(findPlaces({ data: '/no/such' }, {}).local).toEqual([]);
  });
});
