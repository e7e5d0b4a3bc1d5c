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
import { type Look, paintFor, wrap } from './style.ts';

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
  useEffect(() => config.onRedraw(() => setDrawn(Date.now())), []);
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

function linesOf({ items, unknown }: ChoiceConfig, look: Look, active: number, page: number): string[] {
  const paint = paintFor(look);
  const from = page * perPage;
  const shown = items.slice(from, from + perPage);
  const drawing = items[active]?.drawing;
  const side = drawing !== undefined && look.width >= 72;
  const width = side ? 34 : look.width;
  const lines = shown.map((item, index) => {
    const on = from + index === active;
    const text = item.hint === undefined || side ? item.text : `${item.text}  ${paint.dim(item.hint)}`;
    const row = wrap(text, width, '     ', `${on ? '>' : ' '} ${index + 1}  `);
    return on ? paint.bold(row) : row;
  });
  if (unknown) {
    const on = active === items.length;
    lines.push(`${on ? '>' : ' '} 0  ${on ? paint.bold('do not know') : 'do not know'}`);
  }
  if (drawing === undefined || look.plain) return lines;
  const picture = drawing.split('\n');
  const flat = lines.flatMap((line) => line.split('\n'));
  return side
    ? beside(flat, picture, 38)
    : [...flat, '', ...picture.filter((line) => line.length <= look.width)];
}

function footerOf({ panels, words, unknown }: ChoiceConfig, pages: number): string {
  const keys = [
    ...(pages > 1 ? ['9 more'] : []),
    ...(words ? ['t your own words'] : []),
    ...(panels ? ['l how to look', 'w why this', 'r ranking'] : []),
    'b back',
    unknown ? 'q save and stop' : 'q stop',
  ];
  return keys.map((key) => key.replace(/ /g, '\u00a0')).join('   ');
}
