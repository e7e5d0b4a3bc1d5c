import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { listCases } from '../../src/cases/store.ts';
import { pause, Screen } from './screen.ts';

/** Down the tree to "corner lifts from the plate", the first of the first place. */
async function atFirstQuestion(screen: Screen): Promise<void> {
  await screen.until('Where on the print');
  await screen.keys('1', '1');
  await screen.until('Which plastic');
}

const stored = (data: string) => {
  const [newest] = listCases(data);
  if (newest?.kind !== 'open') throw new Error('no case was kept');
  return newest.stored;
};

describe.each([80, 40])('the main job in a terminal of %d columns', (cols) => {
  it('walks the tree, answers, explains, goes back, and ends in causes and a first change', async () => {
    const screen = new Screen({ cols, rows: 60 });
    await atFirstQuestion(screen);
    await screen.keys('w');
    expect(screen.text()).toContain('point');
    await screen.keys('l');
    expect(screen.text()).toContain('label');
    await screen.keys('r');
    expect(screen.text()).toContain('So far');
    await screen.keys('x');
    expect(screen.text()).toContain('does nothing here');
    await screen.keys('1', 'b');
    expect(screen.text()).toContain('Which plastic');
    await screen.keys('2');
    for (let turn = 0; turn < 16 && !screen.text().includes('Most likely'); turn++) {
      await screen.keys('0');
      // A number that may be nought takes 0 for itself; ? is "do not know" everywhere.
      if (/\? do not know/.test(screen.text().replace(/\s+/g, ' '))) await screen.keys('\u007f', '?');
      else if (screen.text().includes('0_')) await screen.keys('\r');
    }
    await screen.until('Expected to a good');
    const text = screen.text();
    for (const part of ['Most likely', 'First change', 'You will see:']) expect(text).toContain(part);
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(cols);
    await screen.until('Anything more?');
    await screen.keys('1');
    expect(screen.text()).toContain('If that does not help');
    await screen.keys('2');
    expect(await screen.ended()).toMatchObject({ exitCode: 0 });
    expect(screen.cursorShown()).toBe(true);
  });
});

describe('free words', () => {
  it('filter live and lead to the symptom', async () => {
    const screen = new Screen();
    await screen.until('Where on the print');
    await screen.keys('t');
    await screen.until('What do you see');
    screen.pty.write('stringing between posts');
    await screen.until(/hairs|strands/i);
    await screen.settled(500);
    screen.pty.write('\r');
    await screen.until('Which plastic');
    await screen.keys('q');
    await screen.until('Most likely');
  });
});

describe('leaving', () => {
  it.each([
    ['Ctrl-C', '\u0003', 130],
    ['Ctrl-D', '\u0004', 0],
  ])('%s keeps what was answered, says how to go on, and ends with the right code', async (_, key, code) => {
    const screen = new Screen();
    await atFirstQuestion(screen);
    await screen.keys('1');
    await screen.until(() => stored(screen.data).trail.length === 1);
    screen.pty.write(key);
    if (key === '\u0004') {
      await screen.until('Anything more?');
      await screen.keys('3');
    } else await screen.until('culprint resume');
    expect((await screen.ended()).exitCode).toBe(code);
    expect(screen.cursorShown()).toBe(true);
    expect(stored(screen.data).trail).toHaveLength(1);
  });

  it.each([
    ['SIGTERM', 143],
    ['SIGHUP', 129],
  ])('%s keeps what was answered and leaves the cursor visible', async (signal, code) => {
    const screen = new Screen();
    await atFirstQuestion(screen);
    await screen.keys('1');
    await screen.until(() => stored(screen.data).trail.length === 1);
    screen.pty.kill(signal);
    expect((await screen.ended()).exitCode).toBe(code);
    if (signal === 'SIGTERM') expect(screen.cursorShown()).toBe(true);
    expect(stored(screen.data).trail).toHaveLength(1);
  });

  it('goes on after Ctrl-Z and fg', async () => {
    const screen = new Screen({ shell: 'bash --norc -i' });
    await pause(500);
    screen.pty.write(`${process.execPath} dist/cli/main.js\r`);
    await atFirstQuestion(screen);
    screen.pty.write('\u001a');
    await screen.until(/Stopped/i);
    screen.pty.write('fg\r');
    await pause(400);
    await screen.keys('1');
    await screen.until(() => stored(screen.data).trail.length === 1);
    screen.pty.write('\u0003');
    await screen.until('culprint resume');
    screen.pty.kill('SIGKILL');
  });
});

describe('coming back', () => {
  it('shows when, what, the ranking and the change to be tried, and learns how it came out', async () => {
    const first = new Screen();
    await atFirstQuestion(first);
    await first.keys('1', 'q');
    await first.until('Anything more?');
    await first.keys('3');
    await first.ended();
    expect(stored(first.data).planned.length).toBeGreaterThan(0);
    const second = new Screen({ data: first.data, args: ['resume'] });
    await second.until('How did the print come out?');
    for (const part of ['So far', 'To be tried:', 'ABS']) expect(second.text()).toContain(part);
    const [planned] = stored(first.data).planned;
    await second.keys('3');
    await second.until(() => Object.keys(stored(first.data).case.tried).length > 0);
    expect(stored(first.data).case.tried).toHaveProperty(planned!, 'no_change');
    second.pty.kill('SIGKILL');
  });

  it('refuses a case that is open in another window, and takes it once that one is gone', async () => {
    const first = new Screen();
    await atFirstQuestion(first);
    await first.keys('1');
    const second = new Screen({ data: first.data, args: ['resume'] });
    expect((await second.ended()).exitCode).toBe(64);
    expect(second.text()).toContain('another window');
    first.pty.kill('SIGKILL');
    await first.ended();
    const third = new Screen({ data: first.data, args: ['resume'] });
    await third.until(/So far/);
    third.pty.kill('SIGKILL');
  });
});

describe('a key that is held', () => {
  it('answers one question at most', async () => {
    const screen = new Screen();
    await atFirstQuestion(screen);
    await pause(800);
    screen.pty.write('1');
    await pause(400);
    for (let repeat = 0; repeat < 40; repeat++) {
      screen.pty.write('1');
      await pause(33);
    }
    await screen.settled();
    expect(stored(screen.data).trail).toHaveLength(1);
    // Nor does it mark a line of the sheet that comes next.
    await screen.until('Which of these');
    expect(screen.text()).toMatch(/^> 1 {3}\? {3}/m);
    screen.pty.kill('SIGKILL');
  });
});

describe('a kill at any moment', () => {
  it('loses no answer that was given: two hundred times', async () => {
    // Eight programs side by side; each is killed without warning at a random moment of its interview.
    let seed = 7;
    const random = () => {
      seed = (seed * 1103515245 + 12345) % 2147483648;
      return seed / 2147483648;
    };
    const one = async () => {
      const screen = new Screen();
      await screen.until('Where on the print', 60_000);
      let sent = 0;
      let alive = true;
      const kill = pause(200 + random() * 2500).then(() => {
        alive = false;
        screen.pty.kill('SIGKILL');
      });
      await pause(160);
      const seen: number[] = [];
      // Keys alternate so that the held-key guard lets a fast hand through; Enter goes on from a sheet.
      for (const key of ['1', '2', '1', '2', '\r', '1', '\r', '2', '\r']) {
        if (!alive) break;
        screen.pty.write(key);
        sent += 1;
        await pause(220);
        if (alive) seen.push(keptAnswers(screen.data));
      }
      await kill;
      await screen.ended(60_000);
      expect(sent).toBeGreaterThan(0);
      // What had been written before the kill is still there, and every whole line can be read.
      expect(keptAnswers(screen.data)).toBeGreaterThanOrEqual(Math.max(0, ...seen));
    };
    for (let round = 0; round < 25; round++) await Promise.all(Array.from({ length: 8 }, one));
  }, 600_000);
});

/** Answers that can be read back after the fact; 0 where no case was begun. */
function keptAnswers(data: string): number {
  try {
    const folder = join(data, 'cases');
    const logs = readdirSync(folder).filter((name) => name.endsWith('.jsonl'));
    if (logs.length === 0) return 0;
    const [newest] = listCases(data);
    if (newest?.kind === 'open') return newest.stored.trail.length;
    return readFileSync(join(folder, logs[0]!), 'utf8') === '' ? 0 : -1;
  } catch {
    return 0;
  }
}
