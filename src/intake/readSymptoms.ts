import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { cutClauses, type Span, type Token } from './cutClauses.ts';
import { denialOf, isSupposed } from './denied.ts';
import { type Meter, PhraseNet } from './phraseNet.ts';

interface Described {
  readonly id: string;
}

const compiled = new WeakMap<KnowledgeBase, PhraseNet<Described>>();

/** Symptoms that a description speaks of by the phrases that they list as `said`, each where it first does. */
export function readSymptoms(
  knowledge: KnowledgeBase,
  text: string,
  tokens: readonly Token[] = cutClauses(text),
  meter: Meter = { steps: 0 },
): ReadonlyMap<string, Span> {
  const found = new Map<string, Span>();
  for (const { what, first, end, parts } of netOf(knowledge).find(tokens, meter)) {
    if (found.has(what.id) || isSupposed(tokens, first) || denialOf(tokens, parts) !== undefined) continue;
    found.set(what.id, { first, end });
  }
  return found;
}

function netOf(knowledge: KnowledgeBase): PhraseNet<Described> {
  const known = compiled.get(knowledge);
  if (known) return known;
  const { phraseWords, said } = knowledge.wording;
  const net = new PhraseNet<Described>(phraseWords);
  for (const id of Object.keys(knowledge.symptoms))
    for (const phrase of said[id] ?? []) net.add(phrase, { id });
  compiled.set(knowledge, net);
  return net;
}
