import { evaluate } from '../knowledge/evaluate.ts';
import type { Fix, KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { Case } from '../model/case.ts';
import { Situation } from '../model/situation.ts';
import { showQuantity } from './quantity.ts';

/**
 * The sentence that says why a fix has this number, with the person's own numbers in its places; undefined where the fix
 * has none, or one of the numbers is not known.
 */
export function fillPlaces(knowledge: KnowledgeBase, fix: Fix, known: Case): string | undefined {
  if (fix.whyNumber === undefined) return undefined;
  const situation = new Situation(knowledge, known.facts, known.signs);
  let text = '';
  for (const part of fix.whyNumber) {
    if (typeof part === 'string') text += part;
    else {
      const value = evaluate(part, situation);
      if (value === undefined) return undefined;
      text += showQuantity(value, part.unit);
    }
  }
  return text;
}
