import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { showQuantity } from './quantity.ts';
import { lowerFirst } from './question.ts';

/** One answer in a few words, as it stands in a list of reasons: "spool kept: open for weeks". */
export function labelAnswer(knowledge: KnowledgeBase, id: string, value: string | number | boolean): string {
  const fact = knowledge.facts[id];
  if (fact !== undefined) {
    if (typeof value === 'number')
      return `${fact.name} ${showQuantity(value, 'unit' in fact ? fact.unit : undefined)}`;
    const answer =
      fact.kind === 'computed' || fact.kind === 'number'
        ? undefined
        : fact.answers.find((a) => a.id === value);
    return `${fact.name}: ${answer?.text ?? value}`;
  }
  const sign = knowledge.signs[id];
  if (sign !== undefined) {
    const level = sign.levels.find((other) => other.id === value);
    return `${sign.name}: ${level?.text ?? value}`;
  }
  const title = lowerFirst(knowledge.symptoms[id]?.title ?? id);
  return value === false || value === 'no' ? `not seen: ${title}` : `also seen: ${title}`;
}

/** A name without its answer. */
export function labelName(knowledge: KnowledgeBase, id: string): string {
  return (
    knowledge.facts[id]?.name ?? knowledge.signs[id]?.name ?? lowerFirst(knowledge.symptoms[id]?.title ?? id)
  );
}
