import type { Case } from '../dialogue/engine.ts';
import { readWords } from '../intake/readWords.ts';
import { withReadings } from '../intake/withReadings.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { Asker } from '../terminal/asker.ts';
import { describeReading, quoteWords } from './describeReading.ts';

/** Shows what the person's words seem to say, each with those words; only what they leave standing enters the case. */
export async function confirmReadings(
  knowledge: KnowledgeBase,
  asker: Asker,
  known: Case,
  words: string,
): Promise<Case | 'back' | 'stop'> {
  const complaint = known.complaint === undefined ? {} : { [known.complaint]: true };
  const readings = readWords(knowledge, words, { ...known, symptoms: { ...known.symptoms, ...complaint } });
  const { used: plain } = withReadings(known, readings);
  const also = readings.symptoms.filter(({ id }) => id !== known.complaint && !(id in known.symptoms));
  // Last: these are read wrongly more often than the rest.
  const used = [...plain, ...also];
  if (used.length === 0) return known;
  const choice = await asker.confirm(
    'Read from your words. Strike out what is wrong.',
    used.map((reading) => ({
      id: reading.id,
      text: describeReading(knowledge, reading),
      hint: quoteWords(reading),
    })),
  );
  if (choice.kind !== 'kept') return choice.kind;
  const right = used.filter(({ id }) => choice.ids.includes(id));
  for (const reading of right) asker.note('your words', describeReading(knowledge, reading));
  const kept = <T extends { readonly id: string }>(list: readonly T[]) =>
    list.filter(({ id }) => choice.ids.includes(id));
  const symptoms = Object.fromEntries(kept(also).map(({ id }) => [id, true]));
  return withReadings(
    { ...known, symptoms: { ...symptoms, ...known.symptoms } },
    {
      symptoms: [],
      facts: kept(readings.facts),
      signs: kept(readings.signs),
      tried: kept(readings.tried),
    },
  ).case;
}
