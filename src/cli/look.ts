import { type Look, textWidth } from '../terminal/style.ts';
import type { Options } from './options.ts';

/** Flag, then FORCE_COLOR, then NO_COLOR, then what the stream is. An empty variable counts as not set. */
function wantsColour(stream: { isTTY?: boolean }, options: Options): boolean {
  if (options.color !== undefined) return options.color;
  const { FORCE_COLOR: force, NO_COLOR: no, TERM: term } = process.env;
  if (force) return force !== '0' && force !== 'false';
  if (no) return false;
  return stream.isTTY === true && term !== 'dumb' && !process.env['CI'];
}

function speaksUtf8(): boolean {
  if (process.platform === 'win32') return Boolean(process.env['WT_SESSION']);
  const { LC_ALL, LC_CTYPE, LANG, TERM } = process.env;
  if (TERM === 'linux' || TERM === 'dumb') return false;
  return /utf-?8/i.test(LC_ALL || LC_CTYPE || LANG || '');
}

/** How to draw on a stream: its own width, else the other's, else COLUMNS, else 80. */
export function lookFor(stream: NodeJS.WriteStream, options: Options): Look {
  const fromEnv = Number(process.env['COLUMNS']);
  const columns = stream.columns ?? process.stderr.columns ?? (fromEnv > 0 ? fromEnv : 80);
  return {
    width: textWidth(columns),
    colour: wantsColour(stream, options),
    plain: options.plain,
    ascii: !speaksUtf8(),
  };
}
