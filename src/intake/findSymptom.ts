import Fuse from 'fuse.js';
import type { KnowledgeBase, Symptom } from '../knowledge/knowledgeBase.ts';
import { lowestSymptoms } from '../model/lowestSymptoms.ts';

/** Words too common to say which symptom is meant. */
const stopWords = new Set(
  'a an the i my it its is are was were be been and or of on in at to for from with that this there then when where which what some any all not no but so as by do does did have has had they them very just only into out up after before'.split(
    ' ',
  ),
);

export function wordsOf(text: string): string[] {
  return text
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word.length > 1 && !stopWords.has(word));
}

/** Symptoms that fit a free description, best first; none when nothing fits. */
export function findSymptoms(knowledge: KnowledgeBase, text: string, most: number): Symptom[] {
  const entries = lowestSymptoms(knowledge).map((id) => knowledge.symptoms[id]!);
  const query = [...new Set(wordsOf(text.slice(0, 2000)))].join(' ');
  if (query === '') return [];
  const fuse = new Fuse(entries, {
    keys: [
      { name: 'title', weight: 2 },
      { name: 'alsoCalled', weight: 2 },
      { name: 'look', weight: 1 },
    ],
    useTokenSearch: true,
    ignoreLocation: true,
    threshold: 0.2,
  });
  return fuse.search(query, { limit: most }).map((hit) => hit.item);
}
