import { showQuantity } from '../dialogue/quantity.ts';
import type { Reading } from '../intake/readWords.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';

/** A reading as a person can check it: "spool kept: open for weeks". */
export function describeReading(knowledge: KnowledgeBase, { id, value }: Reading): string {
  const symptom = knowledge.symptoms[id];
  if (symptom) return `also seen: ${symptom.title}`;
  const fact = knowledge.facts[id];
  if (fact && typeof value === 'number')
    return `${fact.name}: ${showQuantity(value, fact.kind === 'number' ? fact.unit : undefined)}`;
  const fix = knowledge.fixes[id];
  if (fix) return `tried, ${value === 'better' ? 'got better' : 'no change'}: ${fix.do}`;
  const answers = fact === undefined ? knowledge.signs[id]?.levels : 'answers' in fact ? fact.answers : [];
  const name = fact?.name ?? knowledge.signs[id]?.name ?? id;
  return `${name}: ${answers?.find((answer) => answer.id === value)?.text ?? value}`;
}

/** Words of the person in quotes, short enough for a line. */
export function quoteWords({ words }: Reading): string {
  const longest = 70;
  return `"${words.length > longest ? `${words.slice(0, longest - 3)}...` : words}"`;
}
