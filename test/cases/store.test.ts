import { appendFileSync, mkdtempSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CaseLog, listCases, nothingYet, openCase, writeCase } from '../../src/cases/store.ts';

const fresh = () => mkdtempSync(join(tmpdir(), 'culprint-store-'));
const progress = (trail: readonly string[]) => ({ ...nothingYet, trail });
const file = (data: string, id: string) => join(data, 'cases', `${id}.jsonl`);

function begin(data: string): CaseLog {
  const log = writeCase(data);
  if (log === undefined || log === 'busy') throw new Error('not begun');
  return log;
}

describe('a case log', () => {
  it('gives back what was saved last, newest case first, readable by its owner alone', () => {
    const data = fresh();
    const one = begin(data);
    one.save(progress(['a']));
    one.save(progress(['a', 'b']));
    one.close();
    const opening = openCase(data, one.id);
    expect(opening).toMatchObject({ kind: 'open', stored: { trail: ['a', 'b'] } });
    expect(statSync(file(data, one.id)).mode & 0o777).toBe(0o600);
    expect(listCases(data)).toHaveLength(1);
  });

  it('keeps sheets as they were filled in; a log from before there were any has none', () => {
    const data = fresh();
    const log = begin(data);
    log.save(progress(['a']));
    const before = openCase(data, log.id);
    if (before.kind !== 'open') throw new Error('not open');
    expect(before.stored.sheets).toBeUndefined();
    const sheets = { '#look1': { items: ['b', 'c', 'd'], marks: { b: 'yes', d: 'no' } as const } };
    log.save({ ...progress(['a', '#look1']), sheets });
    expect(openCase(data, log.id)).toMatchObject({ stored: { trail: ['a', '#look1'], sheets } });
  });

  it.each([
    { '#look1': { items: ['b'], marks: { b: 'perhaps' } } },
    { '#look1': { items: 'b', marks: {} } },
    { '#look1': { items: ['b'] } },
    ['#look1'],
  ])('does not take a line whose sheets are damaged: %j', (sheets) => {
    const data = fresh();
    const log = begin(data);
    log.save(progress(['a']));
    const line = { format: 1, at: 5, ...progress(['a', '#look1']), sheets };
    appendFileSync(file(data, log.id), `${JSON.stringify(line)}\n`);
    expect(openCase(data, log.id)).toMatchObject({ kind: 'open', stored: { trail: ['a'] } });
  });

  it('passes over a torn last line, and writes the next one whole', () => {
    const data = fresh();
    const log = begin(data);
    log.save(progress(['a']));
    appendFileSync(file(data, log.id), '{"format":1,"at":12,"case":{"sym');
    expect(openCase(data, log.id)).toMatchObject({ kind: 'open', stored: { trail: ['a'] } });
    log.save(progress(['a', 'b']));
    expect(openCase(data, log.id)).toMatchObject({ kind: 'open', stored: { trail: ['a', 'b'] } });
  });

  it('keeps what it cannot read, and leaves alone what a newer program wrote', () => {
    const data = fresh();
    const log = begin(data);
    log.save(progress(['a']));
    writeFileSync(file(data, log.id), '{');
    expect(openCase(data, log.id)).toEqual({ kind: 'damaged', id: log.id });
    expect(readFileSync(file(data, log.id), 'utf8')).toBe('{');
    writeFileSync(file(data, log.id), '{"format":99}\n');
    expect(openCase(data, log.id)).toEqual({ kind: 'newer', id: log.id });
  });

  it('is written by one program at a time; one that is gone holds nothing', () => {
    const data = fresh();
    const log = begin(data);
    // The lock of a process that runs: our parent.
    writeFileSync(join(data, 'cases', `${log.id}.lock`), String(process.ppid));
    expect(writeCase(data, log.id)).toBe('busy');
    // No process has this number: it lies above the largest that the system gives.
    writeFileSync(join(data, 'cases', `${log.id}.lock`), '99999999');
    expect(writeCase(data, log.id)).not.toBe('busy');
  });

  it('says so where the folder cannot be made', () => {
    expect(writeCase('/dev/null/nowhere')).toBeUndefined();
  });

  it('never throws on any damage', () => {
    const data = fresh();
    const log = begin(data);
    log.save(progress(['a', 'b']));
    const whole = readFileSync(file(data, log.id), 'utf8');
    fc.assert(
      fc.property(fc.nat(whole.length), fc.nat(40), fc.string({ maxLength: 10 }), (at, remove, insert) => {
        writeFileSync(file(data, log.id), whole.slice(0, at) + insert + whole.slice(at + remove));
        expect(['open', 'damaged', 'newer']).toContain(openCase(data, log.id).kind);
      }),
      { numRuns: 300 },
    );
    expect(readdirSync(join(data, 'cases')).length).toBeGreaterThan(0);
  });
});
