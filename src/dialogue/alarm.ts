import type { Caution, KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { Case } from '../model/case.ts';

/** "no smoke", "without any smell": what is said not to be there alarms nobody. */
const denial =
  /\b(?:no|not|never|without|nor|neither|isn't|wasn't|doesn't|didn't|don't)\b(?:\s+\S+){0,2}\s*$/i;

/**
 * Cautions that come before any question: for a symptom that stops everything, or for words of the person's own
 * description that speak of smoke, burning or heat that climbs by itself.
 */
export function alarmsFor(knowledge: KnowledgeBase, known: Case): Caution[] {
  const ids = new Set<string>();
  const seen = [known.complaint, ...Object.keys(known.symptoms).filter((id) => known.symptoms[id])];
  for (const id of seen) {
    const caution = id === undefined ? undefined : knowledge.symptoms[id]?.stopNow;
    if (caution !== undefined) ids.add(caution);
  }
  for (const caution of Object.values(knowledge.cautions)) {
    if (caution.stopNow && known.words !== undefined && speaksOf(known.words, caution.words))
      ids.add(caution.id);
  }
  return [...ids].sort().flatMap((id) => knowledge.cautions[id] ?? []);
}

function speaksOf(text: string, words: readonly string[]): boolean {
  const lower = text.toLowerCase();
  return words.some((word) => {
    const wanted = word.toLowerCase();
    for (let at = lower.indexOf(wanted); at >= 0; at = lower.indexOf(wanted, at + 1)) {
      const startsWord = at === 0 || !/[\p{L}\p{N}]/u.test(lower.charAt(at - 1));
      // Bounded look back: a long text must not make this slow.
      if (startsWord && !denial.test(lower.slice(Math.max(0, at - 60), at))) return true;
    }
    return false;
  });
}
