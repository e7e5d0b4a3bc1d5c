import type { Caution, Material, Source, Weights, Words } from './knowledgeBase.ts';
import { entryOf, isYes, maybe, type Reading } from './reading.ts';
import type { Raw } from './schemas.ts';
import { suggest } from './suggest.ts';
import { materialUnits } from './units.ts';

export function readCaution(reading: Reading, raw: Raw<'caution'>): Caution {
  return {
    ...entryOf(reading.draft),
    text: raw.text.trim(),
    ...maybe('when', raw.when && reading.condition(raw.when, ['when'], true)),
    longPrints: isYes(raw['long-prints']),
    stopNow: isYes(raw['stop-now']),
    words: raw.words ?? [],
    sources: raw.sources ?? [],
  };
}

export function readMaterial(reading: Reading, raw: Raw<'material'>): Material {
  const properties = Object.entries(raw.properties).map(([name, { low, high, mid, known }]) => {
    const path = ['properties', name];
    if (!Object.hasOwn(materialUnits, name)) {
      const near = suggest(name, Object.keys(materialUnits));
      reading.add('unknown-name', path, {
        message: 'there is no property of this name',
        help: near ? `Did you mean \`${near}\`?` : `I know ${Object.keys(materialUnits).join(', ')}.`,
        which: 'key',
      });
    }
    // Spread over powers of ten, the middle of a range is the middle of its logarithm.
    const middle = mid ?? (name === 'diffusion' ? Math.sqrt(low * high) : (low + high) / 2);
    if (!(low <= middle && middle <= high)) {
      reading.add('wrong-order', path, {
        message: 'low, mid and high must rise',
        help: 'As in {low: 190, high: 225, known: common practice}.',
      });
    }
    return [name, { low, high, mid: middle, known }] as const;
  });
  return {
    ...entryOf(reading.draft),
    name: raw.name,
    family: raw.family,
    alsoCalled: raw['also-called'] ?? [],
    usual: raw.usual,
    properties: Object.fromEntries(properties),
    ...maybe('chamber', raw.chamber?.trim()),
    ...maybe('fumes', raw.fumes?.trim()),
    sources: raw.sources ?? [],
  };
}

export function readSources(reading: Reading, raw: Raw<'sources'>): Record<string, Source> {
  const { draft } = reading;
  const from = (id: string) =>
    draft.parsed.has([id]) ? draft : (draft.additions?.find(({ parsed }) => parsed.has([id])) ?? draft);
  return Object.fromEntries(
    Object.entries(raw).map(([id, source]) => [id, { ...entryOf(from(id)), id, ...source }]),
  );
}

export function readWeights(raw: Raw<'weights'>): Weights {
  return {
    waitingShare: raw['waiting-share'],
    minutesPerGram: raw['minutes-per-gram'],
    reprintMinutes: raw['reprint-minutes'],
    reprintGrams: raw['reprint-grams'],
    pieceMinutes: raw['piece-minutes'],
    pieceGrams: raw['piece-grams'],
    callMinutes: raw['call-minutes'],
    bundleMinutes: raw['bundle-minutes'],
    sharpness: raw['sharpness'],
    questions: raw.questions,
    moreQuestions: raw['more-questions'],
  };
}

export function readWords(raw: Raw<'words'>): Words {
  const chances = Object.entries(raw.chances)
    .map(([word, from]) => ({ word, from }))
    .sort((a, b) => b.from - a.from);
  return { links: raw.links, usual: raw.usual, odds: raw.odds, chances };
}

/** The scales as the project ships them, for when words.yaml itself is broken: the other files can then still be checked. */
export const standInWords: Words = {
  links: {
    'almost never': 0.02,
    rarely: 0.1,
    sometimes: 0.25,
    'half the time': 0.5,
    usually: 0.75,
    'nearly always': 0.9,
    'practically always': 0.98,
  },
  usual: { 'very rare': 0.005, rare: 0.01, occasional: 0.02, common: 0.04, 'very common': 0.08 },
  odds: {
    'all but excludes': 0.05,
    'strongly against': 0.2,
    against: 0.5,
    neutral: 1,
    favours: 2,
    'strongly favours': 5,
    'all but implies': 20,
  },
  chances: [
    { word: 'almost certain', from: 0.95 },
    { word: 'very likely', from: 0.85 },
    { word: 'likely', from: 0.65 },
    { word: 'about even', from: 0.35 },
    { word: 'unlikely', from: 0.1 },
    { word: 'very unlikely', from: 0 },
  ],
};

export const standInWeights: Weights = {
  waitingShare: 0.1,
  minutesPerGram: 0.5,
  reprintMinutes: 120,
  reprintGrams: 30,
  pieceMinutes: 20,
  pieceGrams: 3,
  callMinutes: 480,
  bundleMinutes: 20,
  sharpness: 1.4,
  questions: 8,
  moreQuestions: 12,
};
