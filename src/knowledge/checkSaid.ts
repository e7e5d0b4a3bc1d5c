import type { Answer } from './knowledgeBase.ts';
import type { Path } from './parse.ts';
import { cutNumberPhrase, cutPhrase } from './phrase.ts';
import type { Reading } from './reading.ts';
import { suggest } from './suggest.ts';

/** Checks the phrases of a symptom or a change. */
export function checkSaid(reading: Reading, phrases: readonly string[] = []): void {
  checkPhrases(reading, phrases, ['said']);
}

/** Checks the phrases of a number; a value that one of them gives must be a plausible one. */
export function checkSaidNumber(
  reading: Reading,
  phrases: readonly string[] = [],
  [low, high]: readonly [number, number],
): void {
  const cut = phrases.map(cutNumberPhrase);
  checkPhrases(
    reading,
    cut.map(({ phrase }) => phrase),
    ['said'],
  );
  for (const [index, { value }] of cut.entries()) {
    if (typeof value !== 'number' || (value >= low && value <= high)) continue;
    reading.add('out-of-range', ['said', index], {
      message: `${value} lies outside of its range`,
      help: `Give a value from ${low} to ${high}, or \`= other\` where the number is another one.`,
    });
  }
}

/** Checks the phrases of a sign or choice, by answer; each answer must be one of its own. */
export function checkSaidByAnswer(
  reading: Reading,
  said: Readonly<Record<string, readonly string[]>> = {},
  answers: readonly Answer[],
): void {
  const ids = answers.map(({ id }) => id);
  for (const [id, phrases] of Object.entries(said)) {
    checkPhrases(reading, phrases, ['said', id]);
    if (ids.includes(id)) continue;
    const near = suggest(id, ids);
    reading.add('unknown-answer', ['said', id], {
      message: 'this is not one of the answers',
      help: near ? `Did you mean \`${near}\`?` : `I know ${ids.map((known) => `\`${known}\``).join(', ')}.`,
      which: 'key',
    });
  }
}

function checkPhrases(reading: Reading, phrases: readonly string[], path: Path): void {
  const { phraseWords } = reading.context;
  phrases.forEach((phrase, index) => {
    const cut = cutPhrase(phrase);
    const unknown = cut.ok ? cut.groups.find((group) => !phraseWords.includes(group)) : undefined;
    if (!cut.ok)
      reading.add('bad-phrase', [...path, index], {
        message: `do not know how to read this: ${cut.message}`,
        help: cut.help,
      });
    else if (unknown !== undefined) {
      const near = suggest(unknown, phraseWords);
      reading.add('bad-phrase', [...path, index], {
        message: `there is no group of words \`~${unknown}\``,
        help: near ? `Did you mean \`~${near}\`?` : 'The groups stand in phrase_words.yaml.',
      });
    }
  });
}
