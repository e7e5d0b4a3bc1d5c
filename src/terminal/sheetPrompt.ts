import {
  createPrompt,
  isDownKey,
  isEnterKey,
  isUpKey,
  useEffect,
  useKeypress,
  useState,
} from '@inquirer/core';
import type { Question } from '../dialogue/question.ts';
import type { Marks, Sheet } from '../dialogue/sheet.ts';
import type { OnRedraw, PanelName, Panels, SheetChoice } from './asker.ts';
import { layOut } from './frame.ts';
import type { HeldKey } from './heldKey.ts';
import { type Look, paintFor, wrap } from './style.ts';

export interface SheetConfig {
  readonly sheet: Sheet;
  readonly before: Marks;
  readonly panelsOf: (item: Question) => Panels;
  readonly look: () => Look;
  readonly rows: () => number;
  readonly held: HeldKey;
  readonly onRedraw: OnRedraw;
}

const panelKeys: Readonly<Record<string, PanelName>> = { w: 'why', l: 'look', r: 'ranking' };

/** Each digit turns the mark of its line: seen, not there, not looked at. Enter goes on. */
export const sheetPrompt = createPrompt<SheetChoice, SheetConfig>((config, done) => {
  const { held, panelsOf, sheet } = config;
  const { items, kind } = sheet;
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
    const { id } = items[index]!;
    const { [id]: now, ...others } = marks;
    setActive(index);
    if (now === undefined) setMarks({ ...others, [id]: 'yes' });
    else if (now === 'yes' && kind === 'look') setMarks({ ...others, [id]: 'no' });
    else setMarks(others);
  };

  useKeypress((key, rl) => {
    rl.clearLine(0);
    const name = key.name ?? '';
    const typed = (key as { sequence?: string }).sequence ?? name;
    if (key.ctrl && name === 'd') return done({ kind: 'stop' });
    if (key.ctrl || held.swallows(name || typed)) return;
    setHint('');
    if (isEnterKey(key)) return done({ kind: 'marks', marks });
    if (isUpKey(key)) return setActive(active <= 0 ? items.length - 1 : active - 1);
    if (isDownKey(key)) return setActive(active >= items.length - 1 ? 0 : active + 1);
    if (name === 'space') return turn(active);
    if (/^[1-9]$/.test(typed) && Number(typed) <= items.length) return turn(Number(typed) - 1);
    if (typed === '0') return done({ kind: 'marks', marks });
    if (name === 'n' && kind === 'look') {
      return setMarks({ ...Object.fromEntries(items.map(({ id }) => [id, 'no' as const])), ...marks });
    }
    if (name === 'b' || name === 'escape') return done({ kind: 'back' });
    if (name === 'q') return done({ kind: 'stop' });
    const wanted = panelKeys[name];
    if (wanted) return setPanel(panel === wanted ? undefined : wanted);
    setHint('That key does nothing here.');
  });

  // The lines are short; what the highlighted one asks stands in full below.
  const asked = wrap(items[active]!.text, look.width, '  ');
  const text = hint || (panel ? panelsOf(items[active]!)[panel]() : asked);
  const { lines, first } = linesOf(config, look, marks, active);
  const frame = { title: sheet.title, lines, active: first, footer: footerOf(kind) };
  return layOut({ ...frame, panel: text }, look, config.rows());
});

/** Marks keep their width, so that lines do not jump. */
const shown = { yes: 'yes', no: 'no ', open: ' ? ' };

function linesOf({ sheet }: SheetConfig, look: Look, marks: Marks, active: number) {
  const paint = paintFor(look);
  const lines: string[] = [];
  let first = 0;
  sheet.items.forEach((item, index) => {
    const on = index === active;
    if (on) first = lines.length;
    const mark = shown[marks[item.id] ?? 'open'];
    const rows = wrap(item.short, look.width, ' '.repeat(10), `${on ? '>' : ' '} ${index + 1}  ${mark}  `);
    lines.push(...rows.split('\n').map((row) => (on ? paint.bold(row) : row)));
  });
  return { lines, first };
}

function footerOf(kind: Sheet['kind']): string[] {
  return [
    ...(kind === 'look' ? ['1-9 yes, no, not looked', 'n none of the others'] : ['1-9 mark']),
    'Enter go on',
    ...(kind === 'look' ? ['l how to look'] : []),
    'w why this',
    'r ranking',
    'b back',
    'q save and stop',
  ];
}
