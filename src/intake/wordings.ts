import { type Concepts, readConcepts } from './concepts.ts';
import { allWords, stemOf } from './words.ts';

/** About as many terms as the reports of one cause have; chosen on real cases and seen descriptions, the optimum is broad. */
const usuallyLent = 400;
/** A term said over and over counts no more often. */
const mostTimes = 1.5;
/** Longer texts say no more in all: they repeat themselves, or speak of other things too. */
const mostTerms = 200;

/** How often each term stands in some texts. */
class Counts {
  readonly terms = new Map<string, number>();
  total = 0;

  add(terms: readonly string[]): void {
    for (const term of terms) this.terms.set(term, (this.terms.get(term) ?? 0) + 1);
    this.total += terms.length;
  }
}

/**
 * Texts by label, and how far another text is worded like those of each: naive Bayes over stems and groups of synonyms
 * (multinomial, McCallum & Nigam 1998; smoothed by all texts, Zhai & Lafferty 2001). Little words count as well: when,
 * after, only and not say much about failures.
 */
export class Wordings {
  private readonly concepts: Concepts;
  private readonly labels = new Map<string, Counts>();
  private readonly all = new Counts();

  /** @param lent terms that all texts together lend to those of a label: what few texts lack proves little */
  constructor(
    synonyms: Readonly<Record<string, readonly string[]>>,
    private readonly lent = usuallyLent,
  ) {
    this.concepts = readConcepts(synonyms);
  }

  add(label: string, text: string): void {
    const counts = this.labels.get(label) ?? new Counts();
    this.labels.set(label, counts);
    const terms = this.termsOf(text);
    counts.add(terms);
    this.all.add(terms);
  }

  /** For each label the natural logarithm of how much likelier its texts would say this than all texts together. */
  compare(text: string): Map<string, number> {
    const { all, lent } = this;
    const said = new Map<string, number>();
    for (const term of this.termsOf(text)) {
      if (all.terms.has(term)) said.set(term, Math.min(mostTimes, (said.get(term) ?? 0) + 1));
    }
    const count = [...said.values()].reduce((sum, times) => sum + times, 0);
    const share = Math.min(1, mostTerms / count);
    const ratios = new Map<string, number>();
    for (const [label, { terms, total }] of this.labels) {
      let sum = 0;
      for (const [term, times] of said) {
        const usual = all.terms.get(term)! / all.total;
        sum += times * Math.log(((terms.get(term) ?? 0) + lent * usual) / ((total + lent) * usual));
      }
      ratios.set(label, share * sum);
    }
    return ratios;
  }

  private termsOf(text: string): string[] {
    const words = allWords(text);
    const groups = this.concepts.at(words);
    return words.flatMap((word, at) => [
      stemOf(word),
      ...(groups.get(at) ?? []).map((group) => groupMark + group),
    ]);
  }
}

const groupMark = '~';
