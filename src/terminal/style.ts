import stringWidth from 'fast-string-width';
import { wrapAnsi } from 'fast-wrap-ansi';
import { createColors } from 'picocolors';

/** How to draw on one stream. */
export interface Look {
  /** Columns to use. */
  readonly width: number;
  readonly colour: boolean;
  /** Sentences instead of drawings and bars; nothing depends on its place on the line. */
  readonly plain: boolean;
  /** Only ASCII characters. */
  readonly ascii: boolean;
}

export type Paint = ReturnType<typeof createColors>;

export function paintFor(look: Look): Paint {
  return createColors(look.colour);
}

/** Widest line that is comfortable to read, and the narrowest that makes sense. */
const widest = 80;
const narrowest = 24;

export function textWidth(columns: number): number {
  return Math.max(narrowest, Math.min(columns, widest) - 2);
}

/** Wraps by words to the width, each line after the first indented by `indent`, the first by `first`. */
export function wrap(text: string, width: number, indent = '', first = indent): string {
  const room = Math.max(10, width - stringWidth(indent));
  const lines = wrapAnsi(text.replace(/\s+/g, ' ').trim(), room, { hard: true, trim: true }).split('\n');
  return lines.map((line, index) => `${index === 0 ? first : indent}${line}`).join('\n');
}

/** Short items in a row with a gap between them, going on in the next line where the width ends; none is broken. */
export function flow(items: readonly string[], width: number, gap = '   '): string {
  const lines: string[] = [];
  for (const item of items) {
    const last = lines[lines.length - 1];
    if (last !== undefined && stringWidth(last) + gap.length + stringWidth(item) <= width)
      lines[lines.length - 1] = last + gap + item;
    else lines.push(item);
  }
  return lines.join('\n');
}

/** As many whole words as fit. */
export function clip(text: string, width: number): string {
  if (text.length <= width) return text;
  const cut = text.lastIndexOf(' ', width);
  return text.slice(0, cut > 0 ? cut : width);
}

export function padTo(text: string, width: number): string {
  return text + ' '.repeat(Math.max(0, width - stringWidth(text)));
}

/** Characters that have a plain stand-in where only ASCII can be shown. */
const standIns: readonly (readonly [RegExp, string])[] = [
  [/°C/g, 'C'],
  [/°/g, ' deg'],
  [/²/g, '2'],
  [/³/g, '3'],
  [/[^\x20-\x7e\n\x1b]/g, '?'],
];

/** The text as this stream can show it. */
export function forLook(text: string, look: Look): string {
  return look.ascii ? toAscii(text) : text;
}

function toAscii(text: string): string {
  return standIns.reduce((out, [from, to]) => out.replace(from, to), text);
}
