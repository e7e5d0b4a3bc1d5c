import { readQuantity } from '../knowledge/readQuantity.ts';
import type { Token } from './cutClauses.ts';

/** A number of a description, with the unit written after it; a range is its middle. */
export interface WrittenNumber {
  readonly first: number;
  readonly end: number;
  readonly from: number;
  readonly to: number;
  readonly value: number;
  /** As `readQuantity` knows it; undefined where none was written. */
  readonly unit?: string;
}

/** What people write after a number, longest first; each as `readQuantity` knows it, with a factor. */
const written: readonly (readonly [RegExp, string, number])[] = [
  [/mm(?:2|²)/iy, 'mm2', 1],
  [/mm\s?\/\s?s(?:ec)?(?:2|²|\^2)/iy, 'mm/s2', 1],
  [/mm(?:3|³)\s?(?:\/|per)\s?s(?:ec(?:ond)?)?\b/iy, 'mm3/s', 1],
  [/mm\s?(?:\/|per |a )\s?s(?:ec(?:ond)?)?\b/iy, 'mm/s', 1],
  [/mm\s?(?:\/|per |a )\s?min(?:ute)?\b/iy, 'mm/min', 1],
  [/(?:mm|millimet(?:er|re)s?)\b/iy, 'mm', 1],
  [/(?:cm|centimet(?:er|re)s?)\b/iy, 'cm', 1],
  [/(?:microns?|um|µm)\b/iy, 'mm', 0.001],
  [/(?:inch(?:es)?\b|"|″)/iy, 'inch', 1],
  // Elsewhere "in" is a word of its own: 0.4 in the nozzle.
  [/in\b(?=\s*(?:$|[.,;)]))/iy, 'inch', 1],
  [/(?:°|º|deg(?:rees?)?\b)\s{0,2}(?:c|celsius|centigrade)\b/iy, 'degC', 1],
  [/(?:°|º|deg(?:rees?)?\b)\s{0,2}(?:f|fahrenheit)\b/iy, 'f', 1],
  [/(?:°|º|deg(?:rees?)?\b)/iy, 'deg', 1],
  [/(?:c|celsius|centigrade)\b/iy, 'degC', 1],
  [/(?:f|fahrenheit)\b/iy, 'f', 1],
  [/(?:%|percent\b|pct\b|per cent\b)/iy, 'percent', 1],
  [/(?:kg|kilos?|kilograms?)\b/iy, 'kg', 1],
  [/(?:g|grams?|gr)\b/iy, 'g', 1],
  [/(?:minutes?|mins?)\b/iy, 'min', 1],
  [/(?:hours?|hrs?|h)\b/iy, 'h', 1],
  [/(?:seconds?|secs?|s)\b/iy, 's', 1],
  [/days?\b/iy, 'h', 24],
  [/weeks?\b/iy, 'h', 168],
  // A year of hours is no unit that anything here is asked in; named so that the number is not taken for a bare one.
  [
    /(?:months?|years?|times?|prints?|pieces?|parts?|printers?|machines?|spools?|rolls?|of|out of|x|×|st|nd|rd|th|am|pm)\b/iy,
    'other',
    1,
  ],
  [/k\b/iy, 'thousand', 1],
  [/m\b/iy, 'm', 1],
];
const longestUnit = 24;

/** All numbers of the text with their units, ranges as one; linear in its length. */
export function findNumbers(text: string, tokens: readonly Token[]): WrittenNumber[] {
  const numbers: WrittenNumber[] = [];
  for (let index = 0; index < tokens.length; index++) {
    const one = numberAt(text, tokens, index);
    if (one === undefined) continue;
    const last = numbers[numbers.length - 1];
    const between = last && text.slice(last.to, Math.min(one.from, last.to + 12));
    const joins =
      last &&
      last.to + 12 > one.from &&
      (/^\s*(?:-|–|to|until|\.\.)\s*$/i.test(between!) ||
        (/^\s*and\s*$/i.test(between!) && tokens[last.first - 1]?.text === 'between'));
    const sameUnit = last && (last.unit === undefined || last.unit === one.unit);
    if (joins && sameUnit && last.value <= one.value) {
      numbers[numbers.length - 1] = {
        ...one,
        first: last.first,
        from: last.from,
        value: (last.value + one.value) / 2,
      };
    } else numbers.push(one);
    index = Math.max(index, one.end - 1);
  }
  return numbers;
}

function numberAt(text: string, tokens: readonly Token[], index: number): WrittenNumber | undefined {
  const token = tokens[index]!;
  if (token.value === undefined || Number.isNaN(token.value)) return undefined;
  const before = text.slice(Math.max(0, token.from - 2), token.from);
  // Part of a size such as 20x20x20, of a fraction, a version or a name.
  if (/[\p{L}\p{N}/.:_]$/u.test(before)) return undefined;
  let { value, to } = token;
  let end = index + 1;
  const fraction = /^\/(\d{1,3})/.exec(text.slice(to, to + 4));
  if (fraction) {
    value /= Number(fraction[1]);
    to += fraction[0].length;
    end += 1;
    if (!Number.isFinite(value)) return undefined;
  }
  if (/(?:^|[\s(])[-−]$/.test(before)) value = -value;
  const unit = unitAt(text, to);
  if (fraction && unit?.unit !== 'inch') return undefined;
  if (unit === undefined)
    // A letter that sticks to it makes it something else: 3d, 4x.
    return /^(?:[\p{L}\p{N}/:_]|[.,]\d)/u.test(text.slice(to, to + 2))
      ? undefined
      : { first: index, end, from: token.from, to, value };
  if (unit.unit === 'other') return undefined;
  while (tokens[end] !== undefined && tokens[end]!.from < unit.to) end += 1;
  const place = { first: index, end, from: token.from, to: unit.to };
  if (unit.unit === 'thousand') return { ...place, value: value * 1000 };
  return { ...place, value: value * unit.factor, unit: unit.unit };
}

function unitAt(text: string, at: number): { unit: string; factor: number; to: number } | undefined {
  const near = text.slice(at, at + longestUnit);
  const start = /^[ \t]?/.exec(near)![0].length;
  for (const [pattern, unit, factor] of written) {
    pattern.lastIndex = start;
    const found = pattern.exec(near);
    if (found) return { unit, factor, to: at + start + found[0].length };
  }
  return undefined;
}

/** The number in the unit asked for; undefined where its own unit measures something else. */
export function inUnit({ value, unit }: WrittenNumber, wanted: string): number | undefined {
  if (unit === undefined) return value;
  // Degrees without more are of an angle or of heat, as it fits.
  if (unit === 'deg' && wanted === 'degC') return value;
  const read = readQuantity(`${plain(value)} ${unit}`, wanted);
  return read.ok ? read.value : undefined;
}

/** Without an exponent, and within the digits that `readQuantity` takes. */
function plain(value: number): string {
  return String(Number(value.toFixed(6)));
}
