import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { listCases } from '../../src/cases/store.ts';
import { Screen } from '../terminal/screen.ts';
import { runCulprint, scratchFolder } from './run.ts';

/** Phrases of a local folder: what is tested does not hang on which ones are shipped. */
const local = scratchFolder('said');
mkdirSync(join(local, 'changes'));
writeFileSync(
  join(local, 'changes', 'spool.yaml'),
  'change: spool_open\nset: {said: {weeks: [quux * shelf]}}\nbecause: A test.\n',
);
writeFileSync(
  join(local, 'changes', 'nozzle.yaml'),
  'change: nozzle_temperature\nset: {said: [quuxhead]}\nbecause: A test.\n',
);

const words = 'Stringing between two posts. Nylon, it sat quux on the shelf, quuxhead at 500 F.';
const file = join(scratchFolder('case'), 'case.yaml');
writeFileSync(file, `words: "${words}"\n`);
const diagnose = (...args: string[]) => runCulprint(['diagnose', '--case', file, '--local', local, ...args]);

describe('a case that has only words', () => {
  it('is read, and says what was read', async () => {
    const { code, out, err } = await diagnose('--json');
    expect(err).toBe('');
    expect(code).toBe(0);
    const result = JSON.parse(out);
    expect(result.complaint).toBe('stringing');
    expect(result.complaintFromWords[0].id).toBe('stringing');
    const chances = result.complaintFromWords.map(({ chance }: { chance: number }) => chance);
    expect(chances.reduce((sum: number, chance: number) => sum + chance, 0)).toBeCloseTo(1, 9);
    expect([...chances].sort((a, b) => b - a)).toEqual(chances);
    expect(result.read).toEqual([
      { id: 'material', value: 'PA6', words: 'Nylon' },
      { id: 'spool_open', value: 'weeks', words: 'quux on the shelf' },
      { id: 'nozzle_temperature', value: 260, words: 'quuxhead at 500 F' },
    ]);
  });

  it('comes out like the case that states the same', async () => {
    const stated = join(scratchFolder('case'), 'case.yaml');
    writeFileSync(
      stated,
      `words: "${words}"\ncomplaint: stringing\nfacts: {material: PA6, spool_open: weeks, nozzle_temperature: 260}\n`,
    );
    const other = await runCulprint(['diagnose', '--case', stated, '--local', local, '--json']);
    const { read, complaintFromWords, ...rest } = JSON.parse((await diagnose('--json')).out);
    const { read: readToo, complaintFromWords: given, ...same } = JSON.parse(other.out);
    expect(rest).toEqual(same);
    expect(read).toHaveLength(3);
    expect(complaintFromWords.length).toBeGreaterThan(1);
    expect(given).toEqual([]);
    // The case itself comes first: nothing is left for its words to say.
    expect(readToo).toEqual([]);
  });

  it('says so in the text', async () => {
    const { out } = await diagnose();
    expect(out.replace(/\s+/g, ' ')).toContain(
      'Read from your words: filament: nylon 6 ("Nylon"); spool kept: weeks or longer ("quux on the shelf");',
    );
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  it('names other symptoms that the words speak of, and does not take them for granted', async () => {
    const other = join(scratchFolder('case'), 'case.yaml');
    writeFileSync(other, 'words: "stringing all over, and the corners lift"\ncomplaint: stringing\n');
    const { out } = await runCulprint(['diagnose', '--case', other, '--json']);
    const result = JSON.parse(out);
    expect(result.alsoDescribed).toEqual([{ id: 'lifted_corner', words: 'corners lift' }]);
    const reasons = result.causes.flatMap(({ reasons: list }: { reasons: { id: string }[] }) => list);
    expect(reasons.map(({ id }: { id: string }) => id)).toContain('words');
    expect(reasons.map(({ id }: { id: string }) => id)).not.toContain('lifted_corner');
  });

  it('is not read with --no-reading', async () => {
    const { code, out } = await diagnose('--json', '--no-reading');
    expect(code).toBe(0);
    expect(JSON.parse(out).read).toEqual([]);
    // Nor does their wording count.
    expect(out).not.toContain('"id": "words"');
    expect((await diagnose('--json')).out).toContain('"id": "words"');
    expect((await diagnose('--no-reading')).out).not.toContain('Read from');
  });
});

const facts = (data: string) => {
  const [newest] = listCases(data);
  if (newest?.kind !== 'open') throw new Error('no case was kept');
  return newest.stored.case.facts;
};

describe('own words at the first question', () => {
  const typed = 'stringing between posts, nylon, quux on the shelf';

  it('are shown by lines, and what is struck out is not taken', async () => {
    const data = scratchFolder('data');
    const { err } = await runCulprint(['--plain', '--local', local, '--data', data], {
      input: `${typed}\n1\n9\n1\n`,
    });
    expect(err).toContain('Read from your words');
    expect(err).toContain('"quux on the shelf"');
    expect(err).toContain('Type numbers from 1 to 2');
    expect(facts(data)).toEqual({ spool_open: 'weeks' });
  });

  it('are all taken where nothing is struck out, and none before that', async () => {
    const data = scratchFolder('data');
    await runCulprint(['--plain', '--local', local, '--data', data], { input: `${typed}\n1\n\n` });
    expect(facts(data)).toEqual({ material: 'PA6', spool_open: 'weeks' });
    const unsure = scratchFolder('data');
    await runCulprint(['--plain', '--local', local, '--data', unsure], { input: `${typed}\n1\n` });
    expect(listCases(unsure)).toEqual([]);
  });

  it('are shown by keys, a digit striking out and bringing back', async () => {
    const screen = new Screen({ rows: 60, args: ['--local', local] });
    await screen.until('Where on the print');
    await screen.keys('t');
    await screen.until('What do you see');
    screen.pty.write(typed);
    await screen.until('Hairs');
    await screen.settled(400);
    await screen.keys('\r');
    await screen.until('Read from your words');
    await screen.keys('1', '2', '1');
    expect(screen.text()).toMatch(/1 {2}yes/);
    expect(screen.text()).toMatch(/2 {2}no/);
    await screen.keys('\r');
    await screen.settled(400);
    expect(facts(screen.data)).toEqual({ material: 'PA6' });
    screen.pty.kill('SIGKILL');
  });
});
