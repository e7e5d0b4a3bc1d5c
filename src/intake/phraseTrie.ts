import { cutPhrase, type PhraseStep } from '../knowledge/phrase.ts';
import type { Token } from './cutClauses.ts';

export interface Match<T> {
  readonly what: T;
  /** Places in the list of tokens: the first word, and the one after the last. */
  readonly first: number;
  readonly end: number;
}

/** Counts the steps that reading took, for tests of how it grows. */
export interface Meter {
  steps: number;
}

interface Node<T> {
  readonly words: Map<string, Node<T>>;
  readonly beginnings: Map<string, Node<T>>;
  gap?: Node<T>;
  readonly found: T[];
}

const widestGap = 3;
const newNode = <T>(): Node<T> => ({ words: new Map(), beginnings: new Map(), found: [] });

/** Many phrases as one tree of words: what a text says is found in one walk from each of its words. */
export class PhraseTrie<T> {
  private readonly root = newNode<T>();

  /** A phrase that cannot be cut is passed over; `culprint check` names it. */
  add(phrase: string, what: T): void {
    const cut = cutPhrase(phrase);
    if (!cut.ok) return;
    for (const row of cut.rows) this.addRow(row, what);
  }

  private addRow(row: readonly PhraseStep[], what: T): void {
    let node = this.root;
    for (const step of row) {
      if (step.kind === 'gap') {
        node.gap ??= newNode<T>();
        node = node.gap;
        continue;
      }
      const edges = step.kind === 'word' ? node.words : node.beginnings;
      let next = edges.get(step.text);
      if (next === undefined) {
        next = newNode<T>();
        edges.set(step.text, next);
      }
      node = next;
    }
    if (!node.found.includes(what)) node.found.push(what);
  }

  /** All matches within clauses, in the order of their first words. A walk is never longer than the longest phrase. */
  find(tokens: readonly Token[], meter: Meter): Match<T>[] {
    const matches: Match<T>[] = [];
    const forms = new Map<string, readonly string[]>();
    const formsAt = (index: number): readonly string[] => {
      const { text } = tokens[index]!;
      let known = forms.get(text);
      if (known === undefined) {
        known = baseForms(text);
        forms.set(text, known);
      }
      return known;
    };
    for (let first = 0; first < tokens.length; first++) {
      const { clause } = tokens[first]!;
      let at = new Map<Node<T>, number>([[this.root, 0]]);
      for (let index = first; at.size > 0 && tokens[index]?.clause === clause; index++) {
        const next = new Map<Node<T>, number>();
        const arrive = (node: Node<T>, left: number) => {
          next.set(node, Math.max(left, next.get(node) ?? 0));
          if (node.gap) next.set(node.gap, widestGap);
        };
        for (const [node, left] of at) {
          for (const reached of this.follow(node, tokens[index]!.text, formsAt(index), meter)) {
            for (const what of reached.found) matches.push({ what, first, end: index + 1 });
            arrive(reached, 0);
          }
          if (left > 0) arrive(node, left - 1);
        }
        // A gap that is spent stays for one more word, which must then fit.
        at = next;
      }
    }
    return matches;
  }

  private follow(node: Node<T>, text: string, forms: readonly string[], meter: Meter): Set<Node<T>> {
    const reached = new Set<Node<T>>();
    meter.steps += 1;
    for (const form of forms) {
      const next = node.words.get(form);
      if (next) reached.add(next);
    }
    if (node.beginnings.size > 0) {
      for (let length = 1; length <= text.length; length++) {
        const next = node.beginnings.get(text.slice(0, length));
        if (next) reached.add(next);
      }
    }
    return reached;
  }
}

/** The words that a word may be a form of: "popping" of "pop", "dried" of "dry", "scraping" of "scrape". */
export function baseForms(word: string): readonly string[] {
  const forms = new Set([word]);
  for (const ending of ['s', 'es', 'ed', 'd', 'ing', 'er', 'ly']) {
    if (!word.endsWith(ending) || word.length - ending.length < 2) continue;
    const stem = word.slice(0, -ending.length);
    forms.add(stem);
    if (ending !== 'ed' && ending !== 'ing' && ending !== 'er' && ending !== 'es') continue;
    if (ending !== 'es') forms.add(`${stem}e`);
    if (/([bdfgklmnprtvz])\1$/.test(stem)) forms.add(stem.slice(0, -1));
    if (stem.endsWith('i')) forms.add(`${stem.slice(0, -1)}y`);
  }
  return [...forms];
}
