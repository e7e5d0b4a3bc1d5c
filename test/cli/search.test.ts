import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCulprint, scratchFolder } from './run.ts';

const widest = (out: string) => Math.max(...out.split('\n').map((line) => line.length));

describe('culprint search', () => {
  it('groups by kind, best first, with the words that matched', async () => {
    const { code, out, err } = await runCulprint(['search', 'hairs', 'between', 'towers']);
    expect(err).toBe('');
    expect(code).toBe(0);
    const order = ['What is seen', 'Causes', 'Signs to look for', 'Changes'].map((heading) =>
      out.indexOf(heading),
    );
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(order[0]).toBe(0);
    expect(out.indexOf('stringing; matched: hairs')).toBeGreaterThan(0);
    expect(out).toContain('culprint show ID');
  });

  it('as JSON', async () => {
    const { code, out } = await runCulprint(['search', 'elephant foot', '--json']);
    expect(code).toBe(0);
    const { version, words, groups } = JSON.parse(out);
    expect([version, words]).toEqual([1, 'elephant foot']);
    expect(groups.map((group: { kind: string }) => group.kind)).toEqual(['symptom', 'cause', 'sign', 'fix']);
    expect(groups[0].hits[0]).toMatchObject({
      id: 'bulging_foot',
      score: expect.any(Number),
      because: ['elephant', 'foot'],
    });
  });

  it('nothing found is no error, and says how to go on', async () => {
    const { code, out, err } = await runCulprint(['search', 'qqqq']);
    expect([code, err]).toEqual([0, '']);
    expect(out).toMatch(/culprint\s+list\s+symptoms/);
  });

  it('without words it says what to type', async () => {
    const { code, err } = await runCulprint(['search']);
    expect(code).toBe(64);
    expect(err).toContain('culprint search');
  });

  it('puts the alarm first where the words speak of smoke', async () => {
    const { code, out } = await runCulprint(['search', 'smoke from the power box']);
    expect(code).toBe(0);
    expect(out).toMatch(/^STOP/);
    const { stop } = JSON.parse((await runCulprint(['search', 'smoke from the power box', '--json'])).out);
    expect(stop.length).toBeGreaterThan(0);
  });

  it('fits forty columns', async () => {
    const { out } = await runCulprint(['search', 'hairs'], { env: { COLUMNS: '40' } });
    expect(widest(out)).toBeLessThanOrEqual(40);
  });

  it('finds a local entry at once', async () => {
    const folder = scratchFolder('search');
    const before = await runCulprint(['search', 'marmalade', '--local', folder, '--json']);
    mkdirSync(join(folder, 'causes', 'room'), { recursive: true });
    mkdirSync(join(folder, 'fixes', 'room'), { recursive: true });
    writeFileSync(
      join(folder, 'causes', 'room', 'marmalade.yaml'),
      'name: Marmalade on the rails\nwhy: It drips from the breakfast table.\nusual: rare\nsigns: { stringing: usually }\nsources: [trade_practice]\n',
    );
    writeFileSync(
      join(folder, 'fixes', 'room', 'no_breakfast.yaml'),
      'do: Have breakfast elsewhere.\nno-number: It is there or it is not.\nhands-on-minutes: 5\nreprint: piece\nremoves: { marmalade: usually }\nseen-when-it-worked: The rails stay clean.\nsources: [trade_practice]\n',
    );
    const after = await runCulprint(['search', 'marmalade', '--local', folder, '--json']);
    const causes = (out: string): { id: string }[] => JSON.parse(out).groups[1].hits;
    expect(causes(before.out).map(({ id }) => id)).not.toContain('marmalade');
    expect(causes(after.out)[0]).toMatchObject({ id: 'marmalade', local: folder });
  });
});

describe('culprint show', () => {
  it.each([
    'stringing',
    'on_a_wall',
    'damp_filament',
    'dry_the_spool',
    'popping',
    'material',
    'nozzle_temperature',
    'PLA',
    'no_food_oven',
    'trade_practice',
  ])('reads %s in full, in forty columns', async (id) => {
    const { code, out, err } = await runCulprint(['show', id], { env: { COLUMNS: '40' } });
    expect([code, err]).toEqual([0, '']);
    expect(out).toContain(id);
    expect(widest(out)).toBeLessThanOrEqual(40);
    const { version, kind, entry } = JSON.parse((await runCulprint(['show', id, '--json'])).out);
    expect([version, entry.id]).toEqual([1, id]);
    expect(out).toContain(`${kind} ${id}`);
  });

  it('shows the cautions of a change before the change itself', async () => {
    const { out } = await runCulprint(['show', 'dry_the_spool']);
    expect(out.indexOf('Cautions')).toBeGreaterThan(0);
    expect(out.indexOf('Cautions')).toBeLessThan(out.indexOf('\nChange'));
  });

  it('an unknown name: the nearest ones, and exit code 64', async () => {
    const { code, out, err } = await runCulprint(['show', 'stringin']);
    expect([code, out]).toEqual([64, '']);
    expect(err).toMatch(/did you mean .*\bstringing\b/);
    expect((await runCulprint(['show', 'x'.repeat(5000)])).code).toBe(64);
    expect((await runCulprint(['show', '__proto__'])).code).toBe(64);
  });

  it('without a name, or with two, it says what to type', async () => {
    for (const args of [[], ['stringing', 'popping']]) {
      const { code, err } = await runCulprint(['show', ...args]);
      expect(code).toBe(64);
      expect(err).toContain('culprint');
    }
  });

  it('lists every name with --all', async () => {
    const ids = (await runCulprint(['show', '--all'])).out.trim().split('\n');
    expect(ids).toEqual(expect.arrayContaining(['stringing', 'damp_filament', 'dry_the_spool', 'PLA']));
    expect(new Set(ids).size).toBe(ids.length);
  });
});
