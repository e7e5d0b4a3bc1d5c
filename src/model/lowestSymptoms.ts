import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';

/** What exactly is seen: the symptoms at the ends of the tree, by id. Places, which have others under them, are left out. */
export function lowestSymptoms(knowledge: KnowledgeBase): string[] {
  const above = new Set(Object.values(knowledge.symptoms).map((symptom) => symptom.under));
  return Object.keys(knowledge.symptoms)
    .filter((id) => !above.has(id) && knowledge.symptoms[id]!.under !== undefined)
    .sort();
}
