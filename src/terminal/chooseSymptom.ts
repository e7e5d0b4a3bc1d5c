import type { KnowledgeBase, Symptom } from '../knowledge/knowledgeBase.ts';
import type { Asker, ListEntry } from './asker.ts';
import { type Look, wrap } from './style.ts';

/** A symptom that was chosen, with the person's own words where they gave some. */
export interface Chosen {
  readonly symptom: string;
  readonly words?: string;
}

/** Finds symptoms for free words; loaded only when words are typed. */
export type Finder = (text: string) => Promise<readonly Symptom[]>;

/** Walks from where on the print to what exactly is seen, or searches. Undefined: the person stopped. */
export async function chooseSymptom(
  knowledge: KnowledgeBase,
  asker: Asker,
  look: Look,
  find: Finder,
): Promise<Chosen | undefined> {
  let above: string | undefined;
  for (;;) {
    const here = under(knowledge, above);
    const title = above === undefined ? 'Where on the print do you see it?' : 'What exactly do you see?';
    const choice = await asker.pick(title, here.map(entryOf), true);
    if (choice.kind === 'stop') return undefined;
    if (choice.kind === 'back') above = above === undefined ? undefined : knowledge.symptoms[above]?.under;
    else if (choice.kind === 'words') {
      const found = await fromWords(asker, look, find, choice.text);
      if (found === 'stop') return undefined;
      if (found) return { symptom: found, words: choice.text };
    } else if (under(knowledge, choice.id).length === 0) return { symptom: choice.id };
    else above = choice.id;
  }
}

function under(knowledge: KnowledgeBase, above: string | undefined): Symptom[] {
  return Object.values(knowledge.symptoms)
    .filter((symptom) => symptom.under === above)
    .sort((a, b) => a.order - b.order || (a.id < b.id ? -1 : 1));
}

function entryOf(symptom: Symptom): ListEntry {
  return {
    id: symptom.id,
    text: symptom.title + (symptom.local === undefined ? '' : ' (local)'),
    ...(symptom.look === undefined ? {} : { hint: symptom.look }),
    ...(symptom.drawing === undefined ? {} : { drawing: symptom.drawing }),
  };
}

const noneOfThese = 'none';

async function fromWords(asker: Asker, look: Look, find: Finder, text: string): Promise<string | 'stop' | undefined> {
  const hits = await find(text);
  if (hits.length === 0) {
    asker.say(wrap('I find nothing like that. Go by the list, or say it in other words.', look.width));
    return undefined;
  }
  const entries = [...hits.map(entryOf), { id: noneOfThese, text: 'none of these' }];
  const choice = await asker.pick('Which of these is it?', entries, false);
  if (choice.kind === 'stop') return 'stop';
  return choice.kind === 'pick' && choice.id !== noneOfThese ? choice.id : undefined;
}
