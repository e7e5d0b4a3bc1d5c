import { readsOf } from '../knowledge/evaluate.ts';
import type { Factor, KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { materialFact } from './situation.ts';

/** Asked facts that a name depends on, itself included; those behind a computed fact are followed to the end. */
export function factsBehind(knowledge: KnowledgeBase, names: Iterable<string>): Set<string> {
  const found = new Set<string>();
  const visit = (name: string) => {
    const fact = knowledge.facts[name];
    if (fact === undefined || found.has(name)) return;
    if (fact.kind === 'computed') for (const read of fact.value.reads) visit(read);
    else {
      found.add(name);
      const varies = fact.kind === 'number' ? fact.typicalFor : {};
      // Its alternatives are only known together with the material.
      if (Object.keys(varies).length > 0) found.add(materialFact);
    }
  };
  for (const name of names) visit(name);
  return found;
}

/** Names that a factor reads, as written. */
export function namesRead(factor: Factor): Iterable<string> {
  switch (factor.kind) {
    case 'answers':
      return [factor.fact];
    case 'limit':
      return [factor.fact, ...factor.limit.reads];
    case 'when':
      return readsOf(factor.when);
    default:
      return factor satisfies never;
  }
}
