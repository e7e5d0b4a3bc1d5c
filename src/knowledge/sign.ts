import { checkSaidByAnswer } from './checkSaid.ts';
import type { Sign } from './knowledgeBase.ts';
import { entryOf, maybe, type Reading } from './reading.ts';
import type { Raw } from './schemas.ts';

const defaultLeak = 0.01;
const plainLevels = { no: 'no', yes: 'yes' };

export function readSign(reading: Reading, raw: Raw<'sign'>): Sign {
  const levels = Object.entries(raw.levels ?? plainLevels).map(([id, text]) => ({ id, text }));
  if (levels.length < 2) {
    reading.add('out-of-range', ['levels'], {
      message: 'one level cannot tell anything',
      help: 'Give two or more, the first for "absent".',
    });
  }
  checkSaidByAnswer(reading, raw.said, levels);
  return {
    ...entryOf(reading.draft),
    name: raw.name,
    ask: raw.ask,
    levels,
    topic: raw.topic,
    look: raw.look.trim(),
    ...maybe('confusedWith', raw['confused-with']),
    effortSeconds: raw['effort-seconds'],
    cannotTell: reading.word('links', raw['cannot-tell'], ['cannot-tell'], raw.because).value,
    leak: readLeak(reading, raw, levels.length - 1),
    ...maybe('test', raw.test),
    ...maybe('askWhen', raw['ask-when'] && reading.condition(raw['ask-when'], ['ask-when'], true)),
    alsoCalled: raw['also-called'] ?? [],
  };
}

/** For each level above "absent" the chance of it or a higher one; by default each is half of the one before. */
function readLeak(reading: Reading, raw: Raw<'sign'>, levels: number): number[] {
  const given = raw['shows-unexplained'];
  if (!Array.isArray(given)) return halving(given ?? defaultLeak, levels);
  const falls = given.every((chance, index) => index === 0 || chance <= given[index - 1]!);
  if (given.length !== levels || !falls) {
    reading.add('wrong-order', ['shows-unexplained'], {
      message: 'these do not fit the levels',
      help: `Give ${levels} numbers, each for its level or a higher one, so that they fall.`,
    });
    return halving(defaultLeak, levels);
  }
  return [...given];
}

function halving(first: number, levels: number): number[] {
  return Array.from({ length: levels }, (_, index) => first / 2 ** index);
}
