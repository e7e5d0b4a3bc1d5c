import { PassThrough } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { listCases } from '../../src/cases/store.ts';
import { type Question, questionFor } from '../../src/dialogue/question.ts';
import type { Marks, Sheet, SheetKind } from '../../src/dialogue/sheet.ts';
import { shippedFolder } from '../../src/knowledge/folders.ts';
import { loadKnowledge } from '../../src/knowledge/load.ts';
import { LineAsker } from '../../src/terminal/lineAsker.ts';
import { readMarks } from '../../src/terminal/readMarks.ts';
import { knowledgeOf, sign } from '../support/tinyKnowledge.ts';
import { Screen } from './screen.ts';

const small = knowledgeOf({ signs: ['first', 'second', 'third', 'fourth'].map((id) => sign(id)) });

function sheetOf(kind: SheetKind): Sheet {
  const items = Object.keys(small.signs).map((id) => questionFor(small, id)!);
  return { id: `#${kind}1`, kind, title: 'Which of these?', items };
}

describe('marks typed as numbers', () => {
  it.each<[string, Marks]>([
    ['1 4 -2', { first: 'yes', fourth: 'yes', second: 'no' }],
    ['1,4,-2', { first: 'yes', fourth: 'yes', second: 'no' }],
    ['', {}],
    ['-', { first: 'no', second: 'no', third: 'no', fourth: 'no' }],
    ['3 -', { first: 'no', second: 'no', third: 'yes', fourth: 'no' }],
  ])('of a look: %j', (typed, marks) => {
    expect(readMarks(sheetOf('look'), typed)).toEqual(marks);
  });

  it.each(['5', '0', '-5', '1 x', '--1', '1.5', '1e0'])('are not read from %j', (typed) => {
    expect(readMarks(sheetOf('look'), typed)).toBeUndefined();
  });

  it.each(['-', '-1', '1 -2'])('elsewhere there is no "surely not": %j', (typed) => {
    expect(readMarks(sheetOf('recall'), typed)).toBeUndefined();
    expect(readMarks(sheetOf('trial'), typed)).toBeUndefined();
  });
});

describe('a sheet by lines', () => {
  async function fill(kind: SheetKind, typed: readonly string[], before: Marks = {}) {
    const [input, output] = [new PassThrough(), new PassThrough()];
    const asker = new LineAsker(input, output, { width: 38, colour: false, plain: true, ascii: true });
    input.write(typed.map((line) => `${line}\n`).join(''));
    const panelsOf = ({ id }: Question) => ({
      why: () => `why ${id}`,
      look: () => `look ${id}`,
      ranking: () => 'ranking',
    });
    const choice = await asker.fill(sheetOf(kind), before, panelsOf);
    asker.close();
    return { choice, text: String(output.read() ?? '') };
  }

  it('takes numbers, a minus alone, an empty line', async () => {
    expect((await fill('look', ['1 4 -2'])).choice).toEqual({
      kind: 'marks',
      marks: { first: 'yes', fourth: 'yes', second: 'no' },
    });
    expect((await fill('look', ['-'])).choice).toMatchObject({ marks: { first: 'no', fourth: 'no' } });
    expect((await fill('look', [''])).choice).toEqual({ kind: 'marks', marks: {} });
    expect((await fill('recall', ['2'])).choice).toEqual({ kind: 'marks', marks: { second: 'yes' } });
  });

  it('says what to type where it cannot read the line, and asks on', async () => {
    const { choice, text } = await fill('look', ['perhaps', '9', '3']);
    expect(text.match(/Type numbers from 1 to 4, or nothing\./g)).toHaveLength(2);
    expect(choice).toEqual({ kind: 'marks', marks: { third: 'yes' } });
  });

  it('goes back and stops', async () => {
    expect((await fill('look', ['b'])).choice).toEqual({ kind: 'back' });
    expect((await fill('recall', ['q'])).choice).toEqual({ kind: 'stop' });
  });

  it('explains the line whose number is named', async () => {
    const { text } = await fill('look', ['w 3', 'l 2', 'r', 'q']);
    for (const panel of ['why third', 'look second', 'ranking']) expect(text).toContain(panel);
  });

  it('shows the marks made before, and is no wider than the window', async () => {
    const { text } = await fill('look', ['q'], { first: 'yes', second: 'no' });
    const rows = text.split('\n').filter((row) => /^ {2}\d/.test(row));
    expect(rows[0]).toMatch(/you said: yes/);
    expect(rows[1]).toMatch(/you said: no/);
    expect(rows[2]).not.toContain('you said');
    expect(Math.max(...text.split('\n').map((row) => row.length))).toBeLessThanOrEqual(38);
  });
});

const recallTitle = 'Which of these could you tell?';
const lookTitle = 'Which of these do you see?';

/** Down the tree to "corner lifts from the plate", the plastic, and the first sheet. */
async function atSheet(screen: Screen): Promise<void> {
  await screen.until('Where on the print');
  await screen.keys('1', '1');
  await screen.until('Which plastic');
  await screen.keys('1');
  await screen.until('Which of these');
}

/** On to a look, with nothing marked before it. */
async function atLook(screen: Screen): Promise<void> {
  await atSheet(screen);
  for (let turn = 0; turn < 6 && !screen.text().replace(/\s+/g, ' ').includes(lookTitle); turn++)
    await screen.keys(screen.text().includes('do not know') ? '0' : '\r');
  expect(screen.text().replace(/\s+/g, ' ')).toContain(lookTitle);
}

const markOf = (screen: Screen, line: number) =>
  new RegExp(`^[> ] ${line} {2}(yes|no | \\? ) {2}\\S`, 'm').exec(screen.text())?.[1]?.trim();

const widest = (screen: Screen) =>
  Math.max(
    ...screen
      .text()
      .split('\n')
      .map((line) => line.length),
  );

const stored = (data: string) => {
  const [newest] = listCases(data);
  if (newest?.kind !== 'open') throw new Error('no case was kept');
  return newest.stored;
};

describe.each([80, 40])('a look by keys in a terminal of %d columns', (cols) => {
  it('turns marks, marks the rest absent, goes on, back to its marks, and stops', async () => {
    const screen = new Screen({ cols, rows: 60 });
    await atLook(screen);
    expect(widest(screen)).toBeLessThanOrEqual(cols);
    expect(markOf(screen, 2)).toBe('?');
    const turned: (string | undefined)[] = [];
    for (let press = 0; press < 4; press++) {
      await screen.keys('2');
      turned.push(markOf(screen, 2));
    }
    expect(turned).toEqual(['yes', 'no', '?', 'yes']);
    await screen.keys('n');
    expect([1, 2, 3].map((line) => markOf(screen, line))).toEqual(['no', 'yes', 'no']);
    await screen.keys('l', 'x');
    expect(screen.text()).toContain('does nothing here');
    const before = stored(screen.data).trail.length;
    await screen.keys('\r');
    const { trail, sheets, case: known } = stored(screen.data);
    expect(trail).toHaveLength(before + 1);
    const { items, marks } = sheets![trail.at(-1)!]!;
    expect(items.map((id) => marks[id])).toEqual(items.map((_, place) => (place === 1 ? 'yes' : 'no')));
    expect(known.signs[items[1]!] ?? (known.symptoms[items[1]!] ? 'yes' : 'no')).toBe('yes');
    expect(screen.text()).toMatch(/^ {2}seen /m);
    expect(screen.text()).toMatch(/^ {2}not there /m);
    await screen.keys('b');
    expect(screen.text().replace(/\s+/g, ' ')).toContain(lookTitle);
    expect([1, 2, 3].map((line) => markOf(screen, line))).toEqual(['no', 'yes', 'no']);
    await screen.keys('q');
    await screen.until('Most likely');
    expect(widest(screen)).toBeLessThanOrEqual(cols);
    screen.pty.kill('SIGKILL');
  });
});

describe('a recall sheet by keys', () => {
  it('has a mark or none, asks what was marked next, and a resumed case asks it too', async () => {
    const screen = new Screen({ cols: 40, rows: 60 });
    await atSheet(screen);
    expect(screen.text().replace(/\s+/g, ' ')).toContain(recallTitle);
    expect(widest(screen)).toBeLessThanOrEqual(40);
    await screen.keys('2');
    expect(markOf(screen, 2)).toBe('yes');
    await screen.keys('2');
    expect(markOf(screen, 2)).toBe('?');
    await screen.keys('n');
    expect(screen.text()).toContain('does nothing here');
    await screen.keys('2', '\r');
    const { trail, sheets } = stored(screen.data);
    const { items, marks } = sheets![trail.at(-1)!]!;
    expect(marks).toEqual({ [items[1]!]: 'yes' });
    const { knowledge } = loadKnowledge({ shipped: shippedFolder, local: [] });
    const text = questionFor(knowledge, items[1]!)!.text;
    const asked = () => screen.text().replace(/\s+/g, ' ').includes(text);
    await screen.until(asked);
    screen.pty.kill('SIGKILL');
    await screen.ended();
    const again = new Screen({ data: screen.data, args: ['resume'] });
    await again.until(() => again.text().replace(/\s+/g, ' ').includes(text));
    await again.keys('b');
    expect(again.text()).toContain(recallTitle);
    expect([1, 2].map((line) => markOf(again, line))).toEqual(['?', 'yes']);
    again.pty.kill('SIGKILL');
  });
});

describe('a sheet in a short window', () => {
  it('ten rows hold it, and arrows leave nothing behind', async () => {
    const screen = new Screen({ rows: 10 });
    await atSheet(screen);
    for (let press = 0; press < 12; press++) screen.pty.write('\u001b[B');
    await screen.settled();
    expect(screen.text().match(/Which of these/g)).toHaveLength(1);
    screen.pty.kill('SIGKILL');
  });
});
