import type { KnowledgeBase, Symptom } from '../knowledge/knowledgeBase.ts';
import type { Asker, ListEntry, LiveSearch } from './asker.ts';

/** The complaint that was chosen, and the person's own words where they gave some. */
export interface Chosen {
  readonly complaint: string;
  readonly words?: string;
}

/** Finds symptoms for free words; loaded only when words are typed. */
export type Finder = (text: string) => Promise<readonly Symptom[]>;

/** Walks from where on the print to what exactly is seen, or searches. Undefined: the person stopped. */
export async function chooseSymptom(
  knowledge: KnowledgeBase,
  asker: Asker,
  find: Finder,
): Promise<Chosen | undefined> {
  let above: string | undefined;
  const live: LiveSearch = async (text) => (await find(text)).map(entryOf);
  for (;;) {
    const here = under(knowledge, above);
    const title = above === undefined ? 'Where on the print do you see it?' : 'What exactly do you see?';
    const choice = await asker.pick(title, here.map(entryOf), live);
    if (choice.kind === 'stop') return undefined;
    if (choice.kind === 'back') above = above === undefined ? undefined : knowledge.symptoms[above]?.under;
    else if (choice.kind === 'words') {
      const found = await fromWords(asker, live, choice.text);
      if (found === 'stop') return undefined;
      if (found) return { complaint: found, words: choice.text };
    } else if (under(knowledge, choice.id).length === 0)
      return { complaint: choice.id, ...(choice.words === undefined ? {} : { words: choice.words }) };
    else above = choice.id;
  }
}

function under(knowledge: KnowledgeBase, above: string | undefined): Symptom[] {
  return Object.values(knowledge.symptoms)
    .filter((symptom) => symptom.under === above)
    .sort((a, b) => a.order - b.order || (a.id < b.id ? -1 : 1));
}

function entryOf(symptom: Symptom): ListEntry {
  // What tells a place from another is one short line; how to look at a symptom is the drawing's business.
  const hint = symptom.under === undefined ? symptom.look : undefined;
  return {
    id: symptom.id,
    text: symptom.title + (symptom.local === undefined ? '' : ' (local)'),
    ...(hint === undefined || hint.length > 60 ? {} : { hint }),
    ...(symptom.drawing === undefined ? {} : { drawing: symptom.drawing }),
  };
}

const noneOfThese = 'none';

async function fromWords(asker: Asker, live: LiveSearch, text: string): Promise<string | 'stop' | undefined> {
  const hits = await live(text);
  if (hits.length === 0) {
    asker.say('I find nothing like that. Go by the list, or say it in other words.');
    return undefined;
  }
  const choice = await asker.pick('Which of these is it?', [
    ...hits,
    { id: noneOfThese, text: 'none of these' },
  ]);
  if (choice.kind === 'stop') return 'stop';
  return choice.kind === 'pick' && choice.id !== noneOfThese ? choice.id : undefined;
}
