import type { Cause, Factor, Link } from './knowledgeBase.ts';
import { entryOf, maybe, type Reading } from './reading.ts';
import type { Raw } from './schemas.ts';
import { suggest } from './suggest.ts';

export function readCause(reading: Reading, raw: Raw<'cause'>): Cause {
  const because = raw['usual-because'] ?? raw.because;
  return {
    ...entryOf(reading.draft),
    theme: reading.draft.theme,
    name: raw.name,
    why: raw.why.trim(),
    usual: reading.word('usual', raw.usual, ['usual'], because),
    links: Object.entries(raw.signs).map(([sign, value]) => readLink(reading, sign, value)),
    factors: [...readAnswers(reading, raw), ...readAlso(reading, raw)],
    mistakenFor: raw['mistaken-for'] ?? {},
    sources: raw.sources ?? [],
  };
}

function readLink(reading: Reading, sign: string, value: Raw<'cause'>['signs'][string]): Link {
  const path = ['signs', sign];
  if (typeof value !== 'object')
    return { sign, atLeast: strengths(reading, sign, { shows: value }, path, path, undefined), when: [] };
  return {
    sign,
    atLeast: strengths(reading, sign, value, path, [...path, 'shows'], value.because),
    when: (value.when ?? []).map((item, index) => {
      const at = [...path, 'when', index];
      return {
        when: reading.condition(item.if, [...at, 'if']),
        atLeast: strengths(reading, sign, item, at, [...at, 'shows'], item.because ?? value.because),
      };
    }),
    ...maybe('because', value.because),
  };
}

/** Chance of each level or a higher one. The highest is half of "shows" unless it is said; those between lie evenly. */
function strengths(
  reading: Reading,
  sign: string,
  { shows, much }: { readonly shows: string | number; readonly much?: string | number | undefined },
  path: (string | number)[],
  pathOfShows: (string | number)[],
  because: string | undefined,
): number[] {
  const first = reading.word('links', shows, pathOfShows, because).value;
  const named = reading.context.seenScope.facts.get(sign);
  const levels = named && 'answers' in named ? named.answers.length - 1 : 1;
  if (levels === 1) {
    if (much !== undefined) {
      reading.add('unknown-key', [...path, 'much'], {
        message: 'the sign has no degrees',
        help: 'Take `much` out, or give the sign levels.',
        which: 'key',
      });
    }
    return [first];
  }
  const last = much === undefined ? first / 2 : reading.word('links', much, [...path, 'much'], because).value;
  if (last > first) {
    reading.add('wrong-order', [...path, 'much'], {
      message: '`much` is more often than `shows`',
      help: '`shows` counts every degree, `much` only the highest.',
    });
  }
  return Array.from({ length: levels }, (_, index) => first + ((last - first) * index) / (levels - 1));
}

function readAlso(reading: Reading, raw: Raw<'cause'>): Factor[] {
  return (raw['also-when'] ?? []).map((item, index) => ({
    kind: 'when',
    when: reading.condition(item.if, ['also-when', index, 'if']),
    odds: reading.word('odds', item.odds, ['also-when', index, 'odds'], item.because),
    ...maybe('because', item.because),
  }));
}

function readAnswers(reading: Reading, raw: Raw<'cause'>): Factor[] {
  return Object.entries(raw['likelier-when'] ?? {}).flatMap(([fact, value]) => {
    const path = ['likelier-when', fact];
    const named = reading.context.scope.facts.get(fact);
    if (named === undefined && reading.context.absent.has(fact)) return [];
    if (named === undefined) {
      const near = suggest(fact, reading.context.scope.facts.keys());
      reading.add('unknown-name', path, {
        message: 'there is no fact of this name',
        help: near ? `Did you mean \`${near}\`?` : 'Facts are in the folder facts.',
        which: 'key',
      });
      return [];
    }
    return 'answers' in named
      ? readChoice(reading, fact, named.answers, value, path)
      : readLimit(reading, fact, named.unit, value, path);
  });
}

function readChoice(
  reading: Reading,
  fact: string,
  answers: readonly string[],
  value: Record<string, unknown>,
  path: string[],
): Factor[] {
  const because = typeof value['because'] === 'string' ? value['because'] : undefined;
  const odds: Record<string, { word: string; value: number }> = {};
  for (const [answer, given] of Object.entries(value)) {
    if (answer === 'because') continue;
    const at = [...path, answer];
    if (reading.context.absentMaterials.has(answer)) continue;
    if (!answers.includes(answer)) {
      const near = suggest(answer, answers);
      reading.add('unknown-answer', at, {
        message: `\`${fact}\` has no such answer`,
        help: near ? `Did you mean \`${near}\`?` : `I know ${answers.map((one) => `\`${one}\``).join(', ')}.`,
        which: 'key',
      });
    } else if (typeof given === 'string' || typeof given === 'number')
      odds[answer] = reading.word('odds', given, at, because);
    else reading.add('wrong-kind', at, { message: 'this must be a word', help: 'As in `favours`.' });
  }
  return [{ kind: 'answers', fact, odds, ...maybe('because', because) }];
}

const limitKeys = ['bad-above', 'bad-below', 'width', 'bad', 'good', 'because'];

function readLimit(
  reading: Reading,
  fact: string,
  unit: string,
  value: Record<string, unknown>,
  path: string[],
): Factor[] {
  for (const key of Object.keys(value)) {
    if (limitKeys.includes(key)) continue;
    const near = suggest(key, limitKeys);
    reading.add('unknown-key', [...path, key], {
      message: `\`${fact}\` is a number, and this means nothing for it`,
      help: near
        ? `Did you mean \`${near}\`?`
        : 'As in {bad-below: 30, width: 5, bad: favours, good: against}.',
      which: 'key',
    });
  }
  const above = value['bad-above'];
  const below = value['bad-below'];
  const side = above === undefined ? 'below' : 'above';
  const limit = above ?? below;
  if ((above === undefined) === (below === undefined) || !isValue(limit)) {
    reading.add('missing-key', [...path, 'bad-above'], {
      message: 'one of `bad-above` and `bad-below` is needed',
      help: 'As in {bad-below: 30, width: 5, bad: favours, good: against}.',
      which: 'key',
    });
    return [];
  }
  const because = typeof value['because'] === 'string' ? value['because'] : undefined;
  const width = readWidth(reading, value['width'], [...path, 'width'], unit);
  if (!(width > 0)) {
    reading.add(value['width'] === undefined ? 'missing-key' : 'out-of-range', [...path, 'width'], {
      message: '`width` says how sharp the limit is, and must be above 0',
      help: `In ${unit}: one standard deviation.`,
    });
    return [];
  }
  const word = (key: 'bad' | 'good') => {
    const given = value[key];
    if (isValue(given)) return reading.word('odds', given, [...path, key], because);
    reading.add('missing-key', [...path, key], {
      message: `\`${key}\` is missing`,
      help: 'A word of the odds, as in `favours`.',
      which: 'key',
    });
    return { word: 'neutral', value: 1 };
  };
  return [
    {
      kind: 'limit',
      fact,
      badSide: side,
      limit: reading.expression(limit, [...path, `bad-${side}`], unit),
      width,
      bad: word('bad'),
      good: word('good'),
      ...maybe('because', because),
    },
  ];
}

/** A number in the fact's unit, with or without it; 0 where it cannot be read. */
function readWidth(reading: Reading, value: unknown, path: string[], unit: string): number {
  if (!isValue(value)) return 0;
  // degC has its zero elsewhere: the width of a temperature limit is a difference.
  const { node } = reading.expression(value, path, unit === 'degC' ? 'K' : unit);
  return node.op === 'number' ? node.value : 0;
}

function isValue(value: unknown): value is string | number {
  return typeof value === 'string' || typeof value === 'number';
}
