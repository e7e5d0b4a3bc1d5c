import { flow, forLook, type Look, wrap } from './style.ts';

/** What a question looks like on the screen: its text, its lines, a panel and a footer, kept within the window. */
export interface Frame {
  readonly title: string;
  /** Lines of the answers; the highlighted one is kept in view. */
  readonly lines: readonly string[];
  readonly active: number;
  readonly panel?: string;
  /** Keys and what they do. */
  readonly footer: readonly string[];
}

/** Rows of the window that are left for the shell's own line. */
const spare = 1;
const fewestLines = 3;

/** Lays out a frame: answers, panel and footer in the rows there are; what does not fit is cut from the panel first. */
export function layOut({ title, lines, active, panel, footer }: Frame, look: Look, rows: number): string {
  const head = wrap(title, look.width).split('\n');
  const foot = flow(footer, look.width).split('\n');
  const room = Math.max(fewestLines, rows - spare - head.length - foot.length - 3);
  const shown = windowOf(lines, active, room);
  const rest = room - shown.length;
  const panelLines = panel === undefined ? [] : panel.split('\n');
  const cut = panelLines.length > rest - 1 ? panelLines.slice(0, Math.max(0, rest - 1)) : panelLines;
  const text = ['', ...head, '', ...shown, ...(cut.length > 0 ? ['', ...cut] : []), '', ...foot].join('\n');
  return forLook(text, look);
}

/** As many lines as fit, the active one among them. */
function windowOf(lines: readonly string[], active: number, room: number): readonly string[] {
  if (lines.length <= room) return lines;
  const from = Math.max(0, Math.min(active - Math.floor(room / 2), lines.length - room));
  return lines.slice(from, from + room);
}

/** Two blocks side by side, the right one beginning in the column given. */
export function beside(left: readonly string[], right: readonly string[], column: number): string[] {
  return Array.from({ length: Math.max(left.length, right.length) }, (_, row) => {
    const text = left[row] ?? '';
    const drawing = right[row];
    return drawing === undefined
      ? text
      : `${text}${' '.repeat(Math.max(1, column - plainLength(text)))}${drawing}`;
  });
}

function plainLength(text: string): number {
  return text.replace(/\u001b\[[0-9;]*m/g, '').length;
}
