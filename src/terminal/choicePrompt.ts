import {
  createPrompt,
  isDownKey,
  isEnterKey,
  isUpKey,
  useEffect,
  useKeypress,
  useState,
} from '@inquirer/core';
import type { OnRedraw, PanelName, Panels } from './asker.ts';
import { beside, layOut } from './frame.ts';
import type { HeldKey } from './heldKey.ts';
import { type Look, padTo, paintFor, wrap } from './style.ts';

export interface ChoiceItem {
  readonly id: string;
  readonly text: string;
  readonly hint?: string;
  readonly drawing?: string;
}

export interface ChoiceConfig {
  readonly title: string;
  readonly items: readonly ChoiceItem[];
  /** Highlighted at first. */
  readonly before?: string;
  /** Whether 0 stands for "do not know". */
  readonly unknown: boolean;
  /** Whether t leads to free words. */
  readonly words: boolean;
  readonly panels?: Panels;
  readonly look: () => Look;
  readonly rows: () => number;
  readonly held: HeldKey;
  readonly onRedraw: OnRedraw;
}

export type ChoiceResult =
  | { readonly kind: 'item'; readonly id: string }
  | { readonly kind: 'unknown' }
  | { readonly kind: 'back' }
  | { readonly kind: 'stop' }
  | { readonly kind: 'words' };

/** Answers that have a digit of their own; 9 turns to the next ones. */
const perPage = 8;

const panelKeys: Readonly<Record<string, PanelName>> = { w: 'why', l: 'look', r: 'ranking' };

/** One key answers: a digit chooses at once, 0 is "do not know", Enter takes the highlighted line. */
export const choicePrompt = createPrompt<ChoiceResult, ChoiceConfig>((config, done) => {
  const { items, held, panels } = config;
  const look = config.look();
  const known =
    config.before === 'unknown' ? items.length : items.findIndex((item) => item.id === config.before);
  const last = items.length - 1 + (config.unknown ? 1 : 0);
  const [active, setActive] = useState(Math.max(0, known));
  const [panel, setPanel] = useState<PanelName | undefined>(undefined);
  const [hint, setHint] = useState('');
  const [, setDrawn] = useState(0);
  useEffect((rl) => {
    // Ctrl-D ends the line reader without a word; it means the same as q.
    (rl as unknown as NodeJS.EventEmitter).once('close', () => done({ kind: 'stop' }));
    return config.onRedraw(() => setDrawn(Date.now()));
  }, []);
  const page = Math.floor(Math.min(active, items.length - 1) / perPage);
  const pages = Math.ceil(items.length / perPage);

  const choose = (index: number) => {
    const item = items[index];
    if (item) done({ kind: 'item', id: item.id });
    else if (config.unknown && index === items.length) done({ kind: 'unknown' });
  };

  useKeypress((key, rl) => {
    // What readline collected is not ours to keep: every key means something by itself.
    rl.clearLine(0);
    const name = key.name ?? '';
    const typed = (key as { sequence?: string }).sequence ?? name;
    if (key.ctrl && name === 'd') return done({ kind: 'stop' });
    if (key.ctrl || held.swallows(name || typed)) return;
    setHint('');
    if (isEnterKey(key)) return choose(active);
    if (isUpKey(key)) return setActive(active <= 0 ? last : active - 1);
    if (isDownKey(key)) return setActive(active >= last ? 0 : active + 1);
    if (/^[1-8]$/.test(typed)) {
      const index = page * perPage + Number(typed) - 1;
      if (index < items.length) return choose(index);
    }
    if (typed === '9' && pages > 1) return setActive(((page + 1) % pages) * perPage);
    if (typed === '0' && config.unknown) return done({ kind: 'unknown' });
    if (name === 'b' || name === 'escape') return done({ kind: 'back' });
    if (name === 'q') return done({ kind: 'stop' });
    if (name === 't' && config.words) return done({ kind: 'words' });
    const wanted = panelKeys[name];
    if (wanted && panels) return setPanel(panel === wanted ? undefined : wanted);
    setHint('That key does nothing here.');
  });

  const lines = linesOf(config, look, active, page);
  const text = hint || (panel && panels ? panels[panel]() : undefined);
  const frame = {
    title: config.title,
    lines,
    active: active - page * perPage,
    footer: footerOf(config, pages),
  };
  return layOut(text === undefined ? frame : { ...frame, panel: text }, look, config.rows());
});

/** Room for the list where a drawing stands beside it. */
const listWidth = 36;
const hintColumn = 28;

function linesOf({ items, unknown }: ChoiceConfig, look: Look, active: number, page: number): string[] {
  const paint = paintFor(look);
  const from = page * perPage;
  const shown = items.slice(from, from + perPage);
  const picture = look.plain ? [] : (items[active]?.drawing?.split('\n') ?? []);
  const side = picture.length > 0 && picture.every((line) => listWidth + 2 + line.length <= look.width);
  const width = side ? listWidth : look.width;
  const lines = shown.flatMap((item, index) => {
    const on = from + index === active;
    const rows = wrap(item.text, width, '     ', `${on ? '>' : ' '} ${index + 1}  `).split('\n');
    const hinted = withHint(rows, item.hint, look);
    return on ? hinted.map((row) => paint.bold(row)) : hinted;
  });
  if (unknown) {
    const on = active === items.length;
    lines.push(`${on ? '>' : ' '} 0  ${on ? paint.bold('do not know') : 'do not know'}`);
  }
  if (picture.length === 0) return lines;
  if (side) return beside(lines, picture, listWidth + 2);
  return [...lines, '', ...picture.filter((line) => line.length <= look.width)];
}

/** Beside a short entry where there is room, else under it. */
function withHint(rows: readonly string[], hint: string | undefined, look: Look): string[] {
  if (hint === undefined) return [...rows];
  const paint = paintFor(look);
  const [first] = rows;
  if (rows.length === 1 && first!.length < hintColumn && hintColumn + hint.length <= look.width) {
    return [padTo(first!, hintColumn) + paint.dim(hint)];
  }
  return [
    ...rows,
    ...wrap(hint, look.width, '     ')
      .split('\n')
      .map((row) => paint.dim(row)),
  ];
}

function footerOf({ panels, words, unknown }: ChoiceConfig, pages: number): string[] {
  return [
    ...(pages > 1 ? ['9 more'] : []),
    ...(words ? ['t your own words'] : []),
    ...(panels ? ['l how to look', 'w why this', 'r ranking'] : []),
    'b back',
    unknown ? 'q save and stop' : 'q stop',
  ];
}
