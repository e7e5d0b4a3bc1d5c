import type { Answer } from './knowledgeBase.ts';
import type { Path } from './parse.ts';
import { cutPhrase } from './phrase.ts';
import { maybe, type Reading } from './reading.ts';
import { suggest } from './suggest.ts';

/** The phrases of an entry that has none by answer: a number fact or a fix. They stay text; only their form is checked. */
export function readSaid(
  reading: Reading,
  phrases: readonly string[] | undefined,
): { said?: readonly string[] } {
  if (phrases) checkPhrases(reading, phrases, ['said']);
  return maybe('said', phrases);
}

/** The phrases of a sign or choice, by answer; each answer must be one of its own. */
export function readSaidByAnswer(
  reading: Reading,
  said: Readonly<Record<string, readonly string[]>> | undefined,
  answers: readonly Answer[],
): { said?: Readonly<Record<string, readonly string[]>> } {
  const ids = answers.map(({ id }) => id);
  for (const [id, phrases] of Object.entries(said ?? {})) {
    checkPhrases(reading, phrases, ['said', id]);
    if (ids.includes(id)) continue;
    const near = suggest(id, ids);
    reading.add('unknown-answer', ['said', id], {
      message: 'this is not one of the answers',
      help: near ? `Did you mean \`${near}\`?` : `I know ${ids.map((known) => `\`${known}\``).join(', ')}.`,
      which: 'key',
    });
  }
  return maybe('said', said);
}

function checkPhrases(reading: Reading, phrases: readonly string[], path: Path): void {
  phrases.forEach((phrase, index) => {
    const cut = cutPhrase(phrase);
    if (!cut.ok)
      reading.add('bad-phrase', [...path, index], {
        message: `do not know how to read this: ${cut.message}`,
        help: cut.help,
      });
  });
}
