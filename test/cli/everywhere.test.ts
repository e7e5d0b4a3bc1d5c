import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findPlaces } from '../../src/knowledge/folders.ts';
import { Screen } from '../terminal/screen.ts';
import { runCulprint, scratchFolder } from './run.ts';

const known = join(scratchFolder('case'), 'case.yaml');
writeFileSync(
  known,
  'complaint: stringing\nfacts: {material: PA6, spool_open: weeks, nozzle_temperature: 260}\n',
);
const controlCode = '\u001b';

describe('colour', () => {
  const show = (env: Record<string, string>, ...args: string[]) =>
    runCulprint(['diagnose', '--case', known, ...args], { env }).then(({ out }) => out.includes(controlCode));

  // NO_COLOR and FORCE_COLOR as published by their own pages; an empty value counts as not set.
  it.each([
    ['none in a pipe', {}, [], false],
    ['FORCE_COLOR in a pipe', { FORCE_COLOR: '1' }, [], true],
    ['FORCE_COLOR=0', { FORCE_COLOR: '0' }, [], false],
    ['FORCE_COLOR before NO_COLOR', { FORCE_COLOR: '1', NO_COLOR: '1' }, [], true],
    ['the flag before all', { FORCE_COLOR: '1' }, ['--no-color'], false],
    ['--color in a pipe', { NO_COLOR: '1' }, ['--color'], true],
  ])('%s', async (_, env, args, expected) => {
    expect(await show(env as Record<string, string>, ...args)).toBe(expected);
  });

  it('only repeats what the words say', async () => {
    const plain = await runCulprint(['diagnose', '--case', known, '--no-color']);
    const coloured = await runCulprint(['diagnose', '--case', known, '--color']);
    expect(coloured.out.replace(/\u001b\[[0-9;]*m/g, '')).toBe(plain.out);
  });
});

describe('letters and widths', () => {
  it.each([{ LC_ALL: 'C' }, { TERM: 'linux', LC_ALL: '' }])('only ASCII under %j', async (env) => {
    const { out } = await runCulprint(['diagnose', '--case', known, '--all'], {
      env: env as Record<string, string>,
    });
    expect(out).toMatch(/^[\x20-\x7e\n]*$/);
    expect(out).toContain('260 C');
  });

  it.each([40, 60, 80, 120, 200])(
    'no line is wider than a window of %d, nor than eighty',
    async (columns) => {
      for (const args of [['--all'], ['--all', '--plain']]) {
        const { out } = await runCulprint(['diagnose', '--case', known, ...args], {
          env: { COLUMNS: String(columns) },
        });
        expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(
          Math.min(80, columns),
        );
      }
    },
  );

  it('speaks in sentences for a screen reader: no bar, no column', async () => {
    const { out } = await runCulprint(['diagnose', '--case', known, '--plain']);
    expect(out).toContain('1. Damp filament:');
    expect(out).not.toMatch(/#{2}|\.{4}/);
  });
});

describe('a report', () => {
  it('is written where it is asked for, and not over another unless forced', async () => {
    const file = join(scratchFolder('report'), 'bad-print.md');
    const first = await runCulprint(['diagnose', '--case', known, '--report', file]);
    expect(first.code).toBe(0);
    const text = readFileSync(file, 'utf8');
    for (const part of [
      '# Failed print',
      '## What was known',
      '## Causes',
      '## Plan',
      '## Cautions',
      '## Notes',
      'nylon 6',
    ])
      expect(text).toContain(part);
    const second = await runCulprint(['diagnose', '--case', known, '--report', file]);
    expect(second.code).toBe(73);
    expect(second.err).toContain('--force');
    expect((await runCulprint(['diagnose', '--case', known, '--report', file, '--force'])).code).toBe(0);
    expect((await runCulprint(['diagnose', '--case', known, '--report', '/nosuch/x.md'])).code).toBe(73);
  });
});

describe('places', () => {
  it('follow the flag, then the environment, then XDG, of which a relative value is ignored', () => {
    const env = { XDG_DATA_HOME: '/x/data', XDG_CACHE_HOME: 'relative' };
    if (process.platform === 'linux') {
      expect(findPlaces({}, env).data).toBe('/x/data/culprint');
      expect(findPlaces({}, env).cache).toMatch(/\/\.cache\/culprint$/);
    }
    expect(findPlaces({}, { ...env, CULPRINT_DATA: '/y' }).data).toBe('/y');
    expect(findPlaces({ data: '/z' }, { ...env, CULPRINT_DATA: '/y' }).data).toBe('/z');
  });

  it('a home that cannot be written is said once, and the interview goes on', async () => {
    const screen = new Screen({ data: '/proc/nowhere', env: { CULPRINT_CACHE: '/proc/nowhere' } });
    await screen.until('Where on the print');
    await screen.keys('1', '1');
    await screen.until('Which plastic');
    expect(screen.text().match(/not\s+kept/g)).toHaveLength(1);
    screen.pty.kill('SIGKILL');
  });
});

describe('completion', () => {
  it.each(['bash', 'zsh', 'fish'])('prints a script for %s and writes nothing', async (shell) => {
    const home = mkdtempSync(join(tmpdir(), 'culprint-home-'));
    const { code, out } = await runCulprint(['completion', shell], { env: { HOME: home } });
    expect(code).toBe(0);
    for (const word of ['diagnose', 'resume', 'symptoms']) expect(out).toContain(word);
    expect(existsSync(join(home, '.bashrc'))).toBe(false);
  });

  it('completes in bash', async () => {
    const { execFileSync } = await import('node:child_process');
    const { out } = await runCulprint(['completion', 'bash']);
    const script = `${out}\nCOMP_WORDS=(culprint dia); COMP_CWORD=1; _culprint; echo "\${COMPREPLY[@]}"\nCOMP_WORDS=(culprint list fi); COMP_CWORD=2; _culprint; echo "\${COMPREPLY[@]}"`;
    expect(execFileSync('bash', ['--norc', '-c', script], { encoding: 'utf8' })).toBe('diagnose\nfixes\n');
  });
});

describe('a dumb terminal', () => {
  it('gets lines without any cursor code', async () => {
    const screen = new Screen({ env: { TERM: 'dumb' } });
    await screen.until('Where on the print');
    screen.pty.write('1\n');
    await screen.until('What exactly');
    screen.pty.write('q\n');
    expect((await screen.ended()).exitCode).toBe(0);
    expect(screen.text()).toContain('or your own words');
  });
});

describe('short windows', () => {
  it('ten rows hold the longest question, and arrows leave nothing behind', async () => {
    const screen = new Screen({ rows: 10 });
    await screen.until('Where on the print');
    await screen.keys('1', '1');
    await screen.until('Which plastic');
    for (let press = 0; press < 12; press++) screen.pty.write('\u001b[B');
    await screen.settled();
    expect(screen.text().match(/Which plastic/g)).toHaveLength(1);
    screen.pty.kill('SIGKILL');
  });
});
