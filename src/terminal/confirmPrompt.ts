import {
  createPrompt,
  isDownKey,
  isEnterKey,
  isUpKey,
  useEffect,
  useKeypress,
  useState,
} from '@inquirer/core';
import type { ConfirmChoice, ListEntry, OnRedraw } from './asker.ts';
import { layOut } from './frame.ts';
import type { HeldKey } from './heldKey.ts';
import { type Look, paintFor, wrap } from './style.ts';

export interface ConfirmConfig {
  readonly title: string;
  readonly lines: readonly ListEntry[];
  readonly look: () => Look;
  readonly rows: () => number;
  readonly held: HeldKey;
  readonly onRedraw: OnRedraw;
}

/** Every line stands as right; its digit strikes it out and brings it back. Enter goes on with what is left. */
export const confirmPrompt = createPrompt<ConfirmChoice, ConfirmConfig>((config, done) => {
  const { held, lines, title } = config;
  const look = config.look();
  const [active, setActive] = useState(0);
  const [struck, setStruck] = useState<readonly string[]>([]);
  const [hint, setHint] = useState('');
  const [, setDrawn] = useState(0);
  useEffect((rl) => {
    // Ctrl-D ends the line reader without a word; it means the same as q.
    (rl as unknown as NodeJS.EventEmitter).once('close', () => done({ kind: 'stop' }));
    return config.onRedraw(() => setDrawn(Date.now()));
  }, []);

  const turn = (index: number) => {
    const { id } = lines[index]!;
    setActive(index);
    setStruck(struck.includes(id) ? struck.filter((other) => other !== id) : [...struck, id]);
  };

  useKeypress((key, rl) => {
    rl.clearLine(0);
    const name = key.name ?? '';
    const typed = (key as { sequence?: string }).sequence ?? name;
    if (key.ctrl && name === 'd') return done({ kind: 'stop' });
    if (key.ctrl || held.swallows(name || typed)) return;
    setHint('');
    if (isEnterKey(key))
      return done({
        kind: 'kept',
        ids: lines.map(({ id }) => id).filter((id) => !struck.includes(id)),
      });
    if (isUpKey(key)) return setActive(active <= 0 ? lines.length - 1 : active - 1);
    if (isDownKey(key)) return setActive(active >= lines.length - 1 ? 0 : active + 1);
    if (name === 'space') return turn(active);
    if (/^[1-9]$/.test(typed) && Number(typed) <= lines.length) return turn(Number(typed) - 1);
    if (name === 'b' || name === 'escape') return done({ kind: 'back' });
    if (name === 'q') return done({ kind: 'stop' });
    setHint('That key does nothing here.');
  });

  const { drawn, first } = draw(config, look, struck, active);
  const footer = ['1-9 strike out, bring back', 'Enter go on', 'b back', 'q stop'];
  const frame = { title, lines: drawn, active: first, footer };
  return layOut(hint === '' ? frame : { ...frame, panel: hint }, look, config.rows());
});

/** Marks keep their width, so that lines do not jump. */
const shown = { right: 'yes', struck: 'no ' };

function draw({ lines }: ConfirmConfig, look: Look, struck: readonly string[], active: number) {
  const paint = paintFor(look);
  const drawn: string[] = [];
  let first = 0;
  lines.forEach(({ id, text, hint }, index) => {
    const on = index === active;
    if (on) first = drawn.length;
    const mark = struck.includes(id) ? shown.struck : shown.right;
    const digit = index < 9 ? String(index + 1) : ' ';
    const full = hint === undefined ? text : `${text} (${hint})`;
    const rows = wrap(full, look.width, ' '.repeat(10), `${on ? '>' : ' '} ${digit}  ${mark}  `);
    drawn.push(...rows.split('\n').map((row) => (on ? paint.bold(row) : row)));
  });
  return { drawn, first };
}
