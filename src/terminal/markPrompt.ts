import {
  createPrompt,
  isDownKey,
  isEnterKey,
  isUpKey,
  useEffect,
  useKeypress,
  useState,
} from '@inquirer/core';
import type { Marks } from '../dialogue/sheet.ts';
import type { OnRedraw, PanelName, Panels, SheetChoice } from './asker.ts';
import { layOut } from './frame.ts';
import type { HeldKey } from './heldKey.ts';
import { type Look, paintFor, wrap } from './style.ts';

export type Mark = Marks[string];

export interface MarkLine {
  readonly id: string;
  readonly text: string;
  /** What the line stands for in full, shown below while it is highlighted. */
  readonly full?: string;
  readonly panels?: Panels;
}

export interface MarkConfig {
  readonly title: string;
  readonly lines: readonly MarkLine[];
  readonly before: Marks;
  /** What the digit of a line turns its mark through. */
  readonly turns: readonly (Mark | undefined)[];
  /** Whether n marks the rest as not there, and 0 goes on with the rest unmarked. */
  readonly mayLeaveRest: boolean;
  readonly footer: readonly string[];
  readonly look: () => Look;
  readonly rows: () => number;
  readonly held: HeldKey;
  readonly onRedraw: OnRedraw;
}

const panelKeys: Readonly<Record<string, PanelName>> = { w: 'why', l: 'look', r: 'ranking' };

/** A list with a mark on each line: its digit turns the mark, Enter goes on. */
export const markPrompt = createPrompt<SheetChoice, MarkConfig>((config, done) => {
  const { held, lines, turns } = config;
  const look = config.look();
  const [active, setActive] = useState(0);
  const [marks, setMarks] = useState<Marks>(config.before);
  const [panel, setPanel] = useState<PanelName | undefined>(undefined);
  const [hint, setHint] = useState('');
  const [, setDrawn] = useState(0);
  useEffect((rl) => {
    // Ctrl-D ends the line reader without a word; it means the same as q.
    (rl as unknown as NodeJS.EventEmitter).once('close', () => done({ kind: 'stop' }));
    return config.onRedraw(() => setDrawn(Date.now()));
  }, []);

  const turn = (index: number) => {
    const { id } = lines[index]!;
    const { [id]: now, ...others } = marks;
    const next = turns[(turns.indexOf(now) + 1) % turns.length];
    setActive(index);
    setMarks(next === undefined ? others : { ...others, [id]: next });
  };

  useKeypress((key, rl) => {
    rl.clearLine(0);
    const name = key.name ?? '';
    const typed = (key as { sequence?: string }).sequence ?? name;
    if (key.ctrl && name === 'd') return done({ kind: 'stop' });
    if (key.ctrl || held.swallows(name || typed)) return;
    setHint('');
    if (isEnterKey(key) || (typed === '0' && config.mayLeaveRest)) return done({ kind: 'marks', marks });
    if (isUpKey(key)) return setActive(active <= 0 ? lines.length - 1 : active - 1);
    if (isDownKey(key)) return setActive(active >= lines.length - 1 ? 0 : active + 1);
    if (name === 'space') return turn(active);
    if (/^[1-9]$/.test(typed) && Number(typed) <= lines.length) return turn(Number(typed) - 1);
    if (name === 'n' && config.mayLeaveRest && turns.includes('no')) {
      return setMarks({ ...Object.fromEntries(lines.map(({ id }) => [id, 'no' as const])), ...marks });
    }
    if (name === 'b' || name === 'escape') return done({ kind: 'back' });
    if (name === 'q') return done({ kind: 'stop' });
    const wanted = panelKeys[name];
    if (wanted && lines[active]!.panels) return setPanel(panel === wanted ? undefined : wanted);
    setHint('That key does nothing here.');
  });

  const { full, panels } = lines[active]!;
  const below = panel && panels ? panels[panel]() : full && wrap(full, look.width, '  ');
  const text = hint || below;
  const { drawn, first } = draw(lines, look, marks, active);
  const frame = { title: config.title, lines: drawn, active: first, footer: config.footer };
  return layOut(text ? { ...frame, panel: text } : frame, look, config.rows());
});

/** Marks keep their width, so that lines do not jump. */
const shown = { yes: 'yes', no: 'no ', open: ' ? ' };

function draw(lines: readonly MarkLine[], look: Look, marks: Marks, active: number) {
  const paint = paintFor(look);
  const drawn: string[] = [];
  let first = 0;
  lines.forEach(({ id, text }, index) => {
    const on = index === active;
    if (on) first = drawn.length;
    const digit = index < 9 ? String(index + 1) : ' ';
    const mark = shown[marks[id] ?? 'open'];
    const rows = wrap(text, look.width, ' '.repeat(10), `${on ? '>' : ' '} ${digit}  ${mark}  `);
    drawn.push(...rows.split('\n').map((row) => (on ? paint.bold(row) : row)));
  });
  return { drawn, first };
}
