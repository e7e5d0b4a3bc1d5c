import MiniSearch from 'minisearch';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { type Concepts, readConcepts } from './concepts.ts';
import { piecesOf } from './pieces.ts';
import { type SearchEntry, type SearchKind, searchEntries, searchKinds } from './searchEntries.ts';
import { readSpelling, type Spelling } from './spelling.ts';
import { allWords, saysLittle, stemOf } from './words.ts';

export interface Hit {
  readonly kind: SearchKind;
  readonly id: string;
  readonly title: string;
  /** Only for comparing hits of one search. */
  readonly score: number;
  /** The person's words that matched. */
  readonly because: readonly string[];
  /** Set where a local folder added or changed the entry. */
  readonly local?: string;
}

export interface Wanted {
  readonly kinds?: readonly SearchKind[];
  readonly most?: number;
}

export interface Search {
  /** Entries that fit free words, best first; none when nothing fits. Never throws. */
  readonly find: (text: string, wanted?: Wanted) => Hit[];
}

/** Measured on the odd-numbered half of `test/search/queries.yaml` and on the words of real cases; the optima are broad. */
const tuning = {
  boost: { title: 1.5, alsoCalled: 2, sentence: 1 },
  /** Weight of a group of synonyms beside the one of the word itself. */
  concept: 1,
  /** Power of the share of the words that matched. */
  coverage: 0.75,
  bm25: { k: 2, b: 0.7, d: 0.2 },
};

/** A word of the person's and what of the index it reaches. */
interface QueryWord {
  readonly word: string;
  readonly terms: readonly string[];
}

const opened = new WeakMap<KnowledgeBase, Search>();

/** The search over a knowledge base; its index is built once, at the first search. */
export function openSearch(knowledge: KnowledgeBase): Search {
  const there = opened.get(knowledge);
  if (there !== undefined) return there;
  let index: Index | undefined;
  const search: Search = {
    find: (text, wanted = {}) => {
      index ??= new Index(knowledge);
      return index.find(text, wanted);
    },
  };
  opened.set(knowledge, search);
  return search;
}

class Index {
  private readonly concepts: Concepts;
  private readonly spelling: Spelling;
  private readonly entries: readonly SearchEntry[];
  private readonly engines = new Map<SearchKind, MiniSearch>();

  constructor(knowledge: KnowledgeBase) {
    this.concepts = readConcepts(knowledge.wording.synonyms);
    this.entries = searchEntries(knowledge);
    const uses = new Map<string, number>();
    const texts = this.entries.flatMap((entry) => [namesOf(entry), entry.title, entry.sentence]);
    for (const word of [...texts, ...Object.values(knowledge.wording.synonyms).flat()].flatMap(allWords))
      uses.set(word, (uses.get(word) ?? 0) + 1);
    this.spelling = readSpelling(uses);
    for (const kind of searchKinds) this.engines.set(kind, this.buildEngine(kind));
  }

  find(text: string, { kinds = searchKinds, most = 10 }: Wanted): Hit[] {
    const query = this.read(text);
    if (query.length === 0) return [];
    return searchKinds
      .filter((kind) => kinds.includes(kind))
      .flatMap((kind) => this.findKind(kind, query))
      .sort((a, b) => b.score - a.score || (a.id < b.id ? -1 : 1))
      .slice(0, most);
  }

  private findKind(kind: SearchKind, query: readonly QueryWord[]): Hit[] {
    const weights = weightsOf(query);
    const results = this.engines.get(kind)!.search([...weights.keys()].join(' '), {
      tokenize: (joined) => joined.split(' '),
      boostTerm: (term) => weights.get(term) ?? 0,
      boost: tuning.boost,
      bm25: tuning.bm25,
    });
    return results.flatMap(({ id, score, match, queryTerms }) => {
      const entry = this.entries[id as number]!;
      const because = matchedWords(query, match);
      // A few letters in common are no reason.
      if (because.length === 0) return [];
      const hit = {
        kind,
        id: entry.id,
        title: entry.title,
        // The engine multiplies by the count of matching terms, which would let long words, of many pieces, rule.
        score: (score / (queryTerms.length || 1)) * (because.length / query.length) ** tuning.coverage,
        because,
        ...(entry.local === undefined ? {} : { local: entry.local }),
      };
      return [hit];
    });
  }

  /** One index for each kind: how much a word says depends on how many of that kind have it. */
  private buildEngine(kind: SearchKind): MiniSearch {
    const engine = new MiniSearch({
      fields: ['title', 'alsoCalled', 'sentence'],
      tokenize: (text) => this.termsOf(text),
      processTerm: (term) => term,
    });
    engine.addAll(
      this.entries.flatMap((entry, id) =>
        entry.kind === kind
          ? [{ id, title: entry.title, alsoCalled: namesOf(entry), sentence: entry.sentence }]
          : [],
      ),
    );
    return engine;
  }

  private termsOf(text: string): string[] {
    const words = allWords(text);
    const concepts = this.concepts.at(words);
    return words.flatMap((word, at) => [
      ...(saysLittle(word) ? [] : piecesOf(word)),
      ...(concepts.get(at) ?? []).map((group) => groupMark + group),
    ]);
  }

  private read(text: string): QueryWord[] {
    const typed = allWords(text);
    const words = typed.map((word) => this.correct(word));
    const concepts = this.concepts.at(words);
    const seen = new Map<string, Set<string>>();
    for (const [at, word] of typed.entries()) {
      const groups = (concepts.get(at) ?? []).map((group) => groupMark + group);
      if (saysLittle(word) && groups.length === 0) continue;
      const terms = seen.get(word) ?? new Set();
      for (const term of saysLittle(word) ? [] : piecesOf(word)) terms.add(term);
      if (words[at] !== word) for (const term of piecesOf(words[at]!)) terms.add(term);
      for (const group of groups) terms.add(group);
      seen.set(word, terms);
    }
    return [...seen].map(([word, terms]) => ({ word, terms: [...terms] }));
  }

  /** The word that was probably meant, where the word itself is used nowhere. */
  private correct(word: string): string {
    if (saysLittle(word) || this.spelling.knows(word)) return word;
    const near = this.spelling.near(word);
    return near.find((other) => stemOf(other) === stemOf(word)) ?? near[0] ?? word;
  }
}

/** Ids are words too, often the ones of the trade. */
function namesOf({ id, alsoCalled }: SearchEntry): string {
  return [id.replaceAll('_', ' '), ...alsoCalled].join('. ');
}

/** The pieces of a word share the weight of one word; its groups count beside them. */
function weightsOf(query: readonly QueryWord[]): Map<string, number> {
  const weights = new Map<string, number>();
  for (const { terms } of query) {
    const pieces = terms.filter(isPiece).length;
    for (const term of terms) {
      const weight = isPiece(term) ? 1 / pieces : tuning.concept;
      weights.set(term, Math.max(weight, weights.get(term) ?? 0));
    }
  }
  return weights;
}

const groupMark = '~';
const isPiece = (term: string): boolean => !term.startsWith(groupMark);

/** A word matched when at least half of its pieces did, or one of its groups. */
function matchedWords(query: readonly QueryWord[], match: Readonly<Record<string, unknown>>): string[] {
  const matched = (term: string) => Object.hasOwn(match, term);
  return query
    .filter(({ terms }) => {
      const pieces = terms.filter(isPiece);
      const hits = pieces.filter(matched).length;
      return (hits > 0 && hits * 2 >= pieces.length) || terms.some((term) => !isPiece(term) && matched(term));
    })
    .map(({ word }) => word);
}
