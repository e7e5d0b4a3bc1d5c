import { checkSaid } from './checkSaid.ts';
import type { Expression, Fix } from './knowledgeBase.ts';
import { entryOf, maybe, type Reading } from './reading.ts';
import type { Raw } from './schemas.ts';
import { suggest } from './suggest.ts';
import { convert, isUnit } from './units.ts';

export function readFix(reading: Reading, raw: Raw<'fix'>): Fix {
  checkSaid(reading, raw.said);
  const unit = readUnit(reading, raw);
  const to = raw.to === undefined ? [] : Array.isArray(raw.to) ? raw.to : [raw.to];
  if (to.length === 0 && raw['no-number'] === undefined) {
    reading.add('no-number', [], {
      message: 'there is neither `to` nor `no-number`',
      help: 'Say the value to change to, or why there is none.',
    });
  }
  return {
    ...entryOf(reading.draft),
    theme: reading.draft.theme,
    do: raw.do.trim(),
    ...maybe('set', raw.set),
    ...maybe('from', raw.from === undefined ? undefined : reading.expression(raw.from, ['from'], unit)),
    to: to.map((value, index) => reading.expression(value, to.length === 1 ? ['to'] : ['to', index], unit)),
    ...maybe('unit', unit),
    ...maybe(
      'whyNumber',
      raw['why-this-number'] === undefined ? undefined : readPlaces(reading, raw['why-this-number'].trim()),
    ),
    ...maybe('noNumber', raw['no-number']),
    handsOnMinutes: reading.expression(raw['hands-on-minutes'], ['hands-on-minutes'], 'min'),
    waitingMinutes: reading.expression(raw['waiting-minutes'] ?? 0, ['waiting-minutes'], 'min'),
    grams: reading.expression(raw.grams ?? 0, ['grams'], 'g'),
    reprint: raw.reprint,
    removes: Object.fromEntries(
      Object.entries(raw.removes).map(([cause, word]) => [
        cause,
        reading.word('links', word, ['removes', cause], raw.because),
      ]),
    ),
    worsens: raw.worsens ?? {},
    sideEffects: raw['side-effects'] ?? [],
    seenWhenItWorked: raw['seen-when-it-worked'].trim(),
    cautions: raw.cautions ?? [],
    ...maybe('when', raw.when && reading.condition(raw.when, ['when'], true)),
    caps: (raw.caps ?? []).map((cap, index) => {
      const path = ['caps', index];
      return {
        ...maybe('when', cap.if && reading.condition(cap.if, [...path, 'if'], true)),
        ...maybe(
          'atMost',
          cap['at-most'] === undefined
            ? undefined
            : reading.expression(cap['at-most'], [...path, 'at-most'], unit),
        ),
        ...maybe(
          'atLeast',
          cap['at-least'] === undefined
            ? undefined
            : reading.expression(cap['at-least'], [...path, 'at-least'], unit),
        ),
        because: cap.because,
      };
    }),
    alsoCalled: raw['also-called'] ?? [],
    sources: raw.sources ?? [],
  };
}

/** The unit of a fact that is set is the fact's; other settings name their own. */
function readUnit(reading: Reading, raw: Raw<'fix'>): string | undefined {
  const fact = raw.set === undefined ? undefined : reading.context.scope.facts.get(raw.set);
  const own = fact && 'unit' in fact ? fact.unit : undefined;
  // Words of the trade may stand here, so only what looks like the id of a fact, and nearly is one, is a slip.
  const near =
    fact || !raw.set?.includes('_') ? undefined : suggest(raw.set, reading.context.scope.facts.keys());
  if (near && near !== raw.set) {
    reading.add('unknown-name', ['set'], {
      message: 'there is no fact of this name',
      help: `Did you mean \`${near}\`? Words of the trade are written with spaces.`,
    });
  }
  if (raw.unit === undefined) return own;
  if (isUnit(raw.unit)) {
    if (own !== undefined && convert(1, raw.unit, own) === undefined) {
      reading.add('unit-mismatch', ['unit'], {
        message: `\`${raw.set}\` is in ${own}`,
        help: 'Take the line out; the unit of the fact holds.',
      });
    }
    return raw.unit;
  }
  reading.add('unit-mismatch', ['unit'], {
    message: 'do not know this unit',
    help: 'Units are mm, deg, degC, K, mm/s, mm3/s, s, min, h, g, percent, ratio and their like.',
  });
  return own;
}

/** Text with `{expression}` places, cut at them. */
function readPlaces(reading: Reading, text: string): (string | Expression)[] {
  const parts: (string | Expression)[] = [];
  let end = 0;
  for (const match of text.matchAll(/\{([^{}]*)\}/g)) {
    if (match.index > end) parts.push(text.slice(end, match.index));
    parts.push(reading.expression(match[1]!, ['why-this-number'], undefined, match.index + 1));
    end = match.index + match[0].length;
  }
  return end < text.length ? [...parts, text.slice(end)] : parts;
}
