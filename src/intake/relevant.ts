import { readsOf } from '../knowledge/evaluate.ts';
import type { Cause, Fix, KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { factsBehind, namesRead } from '../model/reads.ts';
import { materialFact } from '../model/situation.ts';

/**
 * Facts, signs and changes that bear on what is complained of: those of the causes that show any of the symptoms, and what
 * is asked of every print. What bears on nothing is not worth confirming, and is read wrongly more often than rightly.
 */
export function relevantTo(knowledge: KnowledgeBase, symptoms: Iterable<string>): Set<string> {
  const shown = new Set(symptoms);
  const causes = Object.values(knowledge.causes).filter(({ links }) =>
    links.some(({ sign }) => shown.has(sign)),
  );
  const ids = new Set(causes.map(({ id }) => id));
  const fixes = Object.values(knowledge.fixes).filter((fix) =>
    Object.keys(fix.removes).some((cause) => ids.has(cause)),
  );
  const always = Object.values(knowledge.facts).filter(
    (fact) => fact.kind !== 'computed' && (fact.onset || fact.first || fact.id === materialFact),
  );
  const named = new Set([...causes.flatMap(readByCause), ...fixes.flatMap(readByFix)]);
  // What decides whether a question is asked is worth knowing too.
  for (const id of named) {
    const asked = knowledge.facts[id] ?? knowledge.signs[id];
    if (asked && 'askWhen' in asked && asked.askWhen)
      for (const name of readsOf(asked.askWhen)) named.add(name);
  }
  return new Set([
    ...always.map(({ id }) => id),
    ...fixes.map(({ id }) => id),
    ...[...named].filter((id) => Object.hasOwn(knowledge.signs, id)),
    ...factsBehind(knowledge, named),
  ]);
}

function readByCause({ links, factors }: Cause): string[] {
  return [
    ...links.flatMap(({ sign, when }) => [sign, ...when.flatMap((one) => [...readsOf(one.when)])]),
    ...factors.flatMap((factor) => [...namesRead(factor)]),
  ];
}

function readByFix({ set, from, to, when }: Fix): string[] {
  return [
    ...(set === undefined ? [] : [set]),
    ...[...to, ...(from ? [from] : [])].flatMap(({ reads }) => reads),
    ...(when ? readsOf(when) : []),
  ];
}
