import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { Likeness } from '../model/model.ts';
import { Wordings } from './wordings.ts';

/**
 * Share of the evidence of single words that is believed: words of one sentence say much the same, and part of what they
 * say is read as facts and signs besides. Chosen by the log loss on real cases and seen descriptions; the optimum is broad.
 */
const believed = 0.15;

const opened = new WeakMap<KnowledgeBase, Likeness>();

/**
 * How far a description is worded like the reports of people who had each cause without knowing it. Never throws; built
 * at the first description, and kept for the last one.
 */
export function openLikeness(knowledge: KnowledgeBase): Likeness {
  const there = opened.get(knowledge);
  if (there !== undefined) return there;
  let wordings: Wordings | undefined;
  let last: { words: string; likeness: Readonly<Record<string, number>> } | undefined;
  const likeness: Likeness = (words) => {
    if (last?.words === words) return last.likeness;
    wordings ??= causesAsTold(knowledge);
    const ratios = [...wordings.compare(words)].map(([id, ratio]) => [id, believed * ratio] as const);
    last = { words, likeness: Object.fromEntries(ratios) };
    return last.likeness;
  };
  opened.set(knowledge, likeness);
  return likeness;
}

function causesAsTold({ causes, wording }: KnowledgeBase): Wordings {
  const wordings = new Wordings(wording.synonyms);
  for (const id of Object.keys(causes)) {
    const told = Object.values(wording.told[id] ?? {}).flat();
    if (told.length === 0) continue;
    for (const text of [...told, ...(wording.peopleSay[id] ?? [])]) wordings.add(id, text);
  }
  return wordings;
}
