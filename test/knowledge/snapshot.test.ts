import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { loadKnowledge } from '../../src/knowledge/load.ts';
import { openKnowledge, verifySnapshot } from '../../src/knowledge/snapshot.ts';
import { base } from './smallBase.ts';

let root: string;
let shipped: string;
let cache: string;

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'culprint-snapshot-'));
  shipped = join(root, 'knowledge');
  cache = join(root, 'cache');
  for (const [path, text] of Object.entries(base)) write(path, text);
});
afterEach(() => rmSync(root, { recursive: true, force: true }));

function write(path: string, text: string): void {
  mkdirSync(dirname(join(shipped, path)), { recursive: true });
  writeFileSync(join(shipped, path), text);
}

const open = () => openKnowledge({ shipped, local: [] }, cache);
const snapshotFile = () => {
  const names = readdirSync(cache);
  expect(names).toHaveLength(1);
  return join(cache, names[0]!);
};
const cause = 'causes/filament/damp_filament.yaml';
const sign = 'signs/popping.yaml';

describe('the snapshot', () => {
  it('gives the same knowledge and problems as the files', async () => {
    write(sign, base[sign]!.replace('ask: Do', 'aks: Do'));
    const first = await open();
    const second = await open();
    expect([first.fromSnapshot, second.fromSnapshot]).toEqual([false, true]);
    const plain = loadKnowledge({ shipped, local: [] });
    expect(plain.problems.length).toBeGreaterThan(0);
    expect(second.knowledge).toEqual(plain.knowledge);
    expect(second.problems).toEqual(plain.problems);
  });

  it('is passed over when a file has changed, come or gone', async () => {
    await open();
    write(cause, base[cause]!.replace('usual: occasional', 'usual: common    '));
    const changed = await open();
    expect(changed.fromSnapshot).toBe(false);
    expect(changed.knowledge.causes['damp_filament']?.usual.word).toBe('common');
    write('signs/hiss.yaml', base[sign]!);
    expect((await open()).knowledge.signs).toHaveProperty('hiss');
    rmSync(join(shipped, 'signs/hiss.yaml'));
    expect((await open()).knowledge.signs).not.toHaveProperty('hiss');
    expect((await open()).fromSnapshot).toBe(true);
  });

  it('holds where only the times of the files have changed', async () => {
    await open();
    for (const path of Object.keys(base)) utimesSync(join(shipped, path), 1, 1);
    expect((await open()).fromSnapshot).toBe(true);
    expect((await open()).fromSnapshot).toBe(true);
  });

  it('can be held against the contents of the files', async () => {
    await open();
    expect(await verifySnapshot({ shipped, local: [] }, cache)).toBe(true);
    // As if a file had been exchanged without a trace: the stamp fits, the contents do not.
    const [kept, wording] = readFileSync(snapshotFile(), 'utf8').split('\n');
    const other = JSON.stringify({ ...JSON.parse(kept!), hash: 'other' });
    writeFileSync(snapshotFile(), `${other}\n${wording}`);
    expect((await open()).fromSnapshot).toBe(true);
    expect(await verifySnapshot({ shipped, local: [] }, cache)).toBe(false);
    expect(await verifySnapshot({ shipped, local: [] }, cache)).toBe(true);
  });

  it('knows its local folders apart', async () => {
    const shop = join(root, 'shop');
    mkdirSync(join(shop, 'changes'), { recursive: true });
    writeFileSync(join(shop, 'changes/a.yaml'), 'change: damp_filament\nset: {usual: rare}\nbecause: x\n');
    const local = { shipped, local: [{ folder: shop, name: 'shop' }] };
    expect((await open()).knowledge.causes['damp_filament']?.usual.word).toBe('occasional');
    expect((await openKnowledge(local, cache)).knowledge.causes['damp_filament']?.usual.word).toBe('rare');
    const again = await openKnowledge(local, cache);
    expect([again.fromSnapshot, again.knowledge.causes['damp_filament']?.usual.word]).toEqual([true, 'rare']);
    expect((await open()).fromSnapshot).toBe(true);
  });

  const edits: readonly (readonly [string, (text: string) => string])[] = [
    ['empty', () => ''],
    ['cut short', (text) => text.slice(0, text.length / 2)],
    ['no JSON', (text) => text.replace('{', '<')],
    [
      'of a newer form',
      (text) => text.replace(/"format":(\d+)/, (_, format) => `"format":${Number(format) + 1}`),
    ],
    ['a list', () => '[]'],
    ['null', () => 'null'],
    ['without a part', (text) => text.replace('"causes":', '"caauses":')],
    ['with a part that is null', (text) => text.replace(/"words":\{.*?\]\}/, '"words":null')],
    ['with an entry under another name', (text) => text.replace('"damp_filament":{', '"wet_filament":{')],
    [
      'reaching into prototypes',
      (text) => text.replace('"causes":{', '"causes":{"__proto__":{"id":"__proto__"},'),
    ],
    ['the same in disguise', (text) => text.replace('"causes":{', '"causes":{"\\u005f_proto__":{"id":"x"},')],
    ['with escapes for the terminal', (text) => text.replace('Damp filament', '\\u001b[2JDamp')],
    ['without its wording', (text) => text.slice(0, text.indexOf('\n'))],
    ['with its wording cut short', (text) => text.slice(0, -5)],
    ['with raw control characters', (text) => text.replace('Damp filament', '\u009b2JDamp')],
  ];
  it.each(edits)('that is %s is ignored and written anew', async (_, edit) => {
    await open();
    const file = snapshotFile();
    const text = readFileSync(file, 'utf8');
    expect(edit(text)).not.toBe(text);
    writeFileSync(file, edit(text));
    const opened = await open();
    expect(opened.fromSnapshot).toBe(false);
    expect(opened.knowledge).toEqual(loadKnowledge({ shipped, local: [] }).knowledge);
    expect((await open()).fromSnapshot).toBe(true);
    expect(Object.hasOwn(Object.prototype, 'id')).toBe(false);
  });

  it('says nothing of how people speak where that part was tampered with', async () => {
    write(sign, `${base[sign]!}said: {some: [crackle]}\n`);
    await open();
    const text = readFileSync(snapshotFile(), 'utf8');
    expect((await open()).knowledge.wording.saidByAnswer).toEqual({ popping: { some: ['crackle'] } });
    writeFileSync(snapshotFile(), text.replace('crackle', 'cackles'));
    const { fromSnapshot, knowledge } = await open();
    expect([fromSnapshot, knowledge.wording.saidByAnswer]).toEqual([true, {}]);
  });

  it('is not refused for the backslashes of a drawing', async () => {
    write('symptoms/blobs.yaml', 'title: Blobs\nunder: between_parts\ndrawing: |\n  \\b\\f\\u00/\n');
    await open();
    expect((await open()).fromSnapshot).toBe(true);
  });

  it('is nobody’s loss where it cannot be written', async () => {
    writeFileSync(cache, 'a file where the folder should be');
    const first = await open();
    const second = await open();
    expect([first.fromSnapshot, second.fromSnapshot]).toEqual([false, false]);
    expect(Object.keys(second.knowledge.causes)).toHaveLength(2);
  });

  it('is written whole or not at all, for its owner alone', async () => {
    await open();
    expect(readdirSync(cache).filter((name) => !name.endsWith('.json'))).toEqual([]);
    if (process.platform !== 'win32') expect(statSync(snapshotFile()).mode & 0o077).toBe(0);
  });
});

/** Modules that a module loads before anything is called. */
function loadedBy(file: string, seen = new Set<string>()): Set<string> {
  if (seen.has(file)) return seen;
  seen.add(file);
  for (const [, names, target] of readFileSync(file, 'utf8').matchAll(
    /^(?:import|export)\s+([^'"]*?)\s*from\s+'([^']+)'/gm,
  )) {
    if (/^type\b/.test(names!)) continue;
    if (target!.startsWith('.')) loadedBy(resolve(dirname(file), target!), seen);
    else seen.add(target!);
  }
  return seen;
}

it('is found without loading the YAML reader or the schemas', () => {
  const loaded = [
    ...loadedBy(resolve('src/knowledge/snapshot.ts')),
    ...loadedBy(resolve('src/knowledge/index.ts')),
  ];
  expect(loaded.filter((name) => !name.startsWith('/') && !name.startsWith('node:'))).toEqual([]);
  expect(loaded.length).toBeGreaterThan(4);
  expect([...loadedBy(resolve('src/knowledge/load.ts'))]).toEqual(expect.arrayContaining(['yaml', 'zod']));
});
