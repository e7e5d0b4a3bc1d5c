import MiniSearch from 'minisearch';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { type Concepts, readConcepts } from './concepts.ts';
import { piecesOf } from './pieces.ts';
import { readSymptoms } from './readSymptoms.ts';
import { type SearchEntry, type SearchKind, searchEntries, searchKinds } from './searchEntries.ts';
import { Spelling } from './spelling.ts';
import { Wordings } from './wordings.ts';
import { allWords, plainText, saysLittle, stemOf } from './words.ts';

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
  /** Builds the index of a kind in small steps, while somebody is still reading the screen. */
  readonly prepare: (kind: SearchKind) => Promise<void>;
}

/** Measured on the odd-numbered half of `test/search/queries.yaml` and on the words of real cases; the optima are broad. */
const tuning = {
  boost: { title: 1.5, alsoCalled: 2, sentence: 1 },
  /** Weight of a group of synonyms beside the one of the word itself. */
  concept: 1,
  /** Power of the share of the words that matched. */
  coverage: 0.75,
  bm25: { k: 2, b: 0.7, d: 0.2 },
  /** Weight of a phrase that describes a symptom, beside the best hit. */
  described: 0.3,
  /** Power of how far a description is worded like the reports of a symptom. */
  told: 0.05,
};

/** A word of the person's and what of the index it reaches. */
interface QueryWord {
  readonly word: string;
  readonly terms: readonly string[];
}

const opened = new WeakMap<KnowledgeBase, Search>();

/** The search over a knowledge base; its indexes are built once, each when it is first needed. */
export function openSearch(knowledge: KnowledgeBase): Search {
  const there = opened.get(knowledge);
  if (there !== undefined) return there;
  let index: Index | undefined;
  const build = () => {
    index ??= new Index(knowledge);
    return index;
  };
  const search: Search = {
    find: (text, wanted = {}) => build().find(text, wanted),
    prepare: async (kind) => {
      await pause();
      for (const _ of build().build(kind)) await pause();
    },
  };
  opened.set(knowledge, search);
  return search;
}

const pause = () => new Promise<void>((resolve) => setImmediate(resolve));
/** Entries put into an index between two looks at the keyboard. */
const atOnce = 10;
/** Terms that more entries have say next to nothing, and cost the most; passed over where rarer ones are there. */
const mostHolders = 200;

interface KindIndex {
  readonly engine: MiniSearch;
  /** How many entries have each term. */
  readonly holders: ReadonlyMap<string, number>;
}

class Index {
  private readonly concepts: Concepts;
  private readonly entries: readonly SearchEntry[];
  private readonly synonyms: Readonly<Record<string, readonly string[]>>;
  /** One for each kind: how much a word says depends on how many of that kind have it. */
  private readonly indexes = new Map<SearchKind, KindIndex>();
  private spelling: Spelling | undefined;
  private told: Wordings | undefined;

  constructor(private readonly knowledge: KnowledgeBase) {
    this.synonyms = knowledge.wording.synonyms;
    this.concepts = readConcepts(this.synonyms);
    this.entries = searchEntries(knowledge);
  }

  /** Builds what a search of this kind needs; yields between small steps, so that keys can be seen to. */
  *build(kind: SearchKind): Generator<void, void> {
    yield* this.buildSpelling();
    if (this.indexes.has(kind)) return;
    const engine = new MiniSearch({
      fields: ['title', 'alsoCalled', 'sentence'],
      tokenize: (text) => this.termsOf(text),
      processTerm: (term) => term,
    });
    const entries = [...this.entries.entries()].filter(([, entry]) => entry.kind === kind);
    const holders = new Map<string, number>();
    for (const [step, [id, entry]] of entries.entries()) {
      if (step % atOnce === 0) yield;
      const { title, sentence } = entry;
      const alsoCalled = namesOf(entry);
      engine.add({ id, title, alsoCalled, sentence });
      for (const term of new Set([title, alsoCalled, sentence].flatMap((text) => this.termsOf(text))))
        holders.set(term, (holders.get(term) ?? 0) + 1);
    }
    if (kind === 'symptom') yield* this.buildTold();
    this.indexes.set(kind, { engine, holders });
  }

  private *buildTold(): Generator<void, void> {
    const { causes, symptoms, wording } = this.knowledge;
    const told = new Wordings(wording.synonyms);
    for (const id of Object.keys(symptoms)) {
      for (const text of wording.peopleSay[id] ?? []) told.add(id, text);
      yield;
    }
    for (const id of Object.keys(causes)) {
      for (const [symptom, reports] of Object.entries(wording.told[id] ?? {}))
        if (Object.hasOwn(symptoms, symptom)) for (const text of reports) told.add(symptom, text);
      yield;
    }
    this.told = told;
    // The phrases of symptoms are compiled when they are first looked for: not at the first key.
    yield;
    readSymptoms(this.knowledge, '');
  }

  private *buildSpelling(): Generator<void, void> {
    if (this.spelling !== undefined) return;
    const uses = new Map<string, number>();
    const count = (text: string) => {
      for (const word of allWords(text)) uses.set(word, (uses.get(word) ?? 0) + 1);
    };
    for (const [step, entry] of this.entries.entries()) {
      if (step % atOnce === 0) yield;
      for (const text of [namesOf(entry), entry.title, entry.sentence]) count(text);
    }
    for (const term of Object.values(this.synonyms).flat()) count(term);
    const spelling = new Spelling();
    for (const [step, word] of [...uses.keys()].entries()) {
      if (step % (10 * atOnce) === 0) yield;
      spelling.add(word, uses.get(word)!);
    }
    this.spelling = spelling;
  }

  find(text: string, { kinds = searchKinds, most = 10 }: Wanted): Hit[] {
    const wanted = searchKinds.filter((kind) => kinds.includes(kind));
    for (const kind of wanted) for (const _ of this.build(kind));
    const query = this.read(text);
    if (query.length === 0) return [];
    return wanted
      .flatMap((kind) => {
        const hits = this.findKind(kind, query);
        return kind === 'symptom' ? this.withDescribed(hits, text) : hits;
      })
      .sort((a, b) => b.score - a.score || (a.id < b.id ? -1 : 1))
      .slice(0, most);
  }

  private findKind(kind: SearchKind, query: readonly QueryWord[]): Hit[] {
    const { engine, holders } = this.indexes.get(kind)!;
    const weights = weightsOf(query);
    const results = engine.search(telling([...weights.keys()], holders).join(' '), {
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

  /** Symptoms that the text describes outright, or that are reported in such words, come before those it shares words with. */
  private withDescribed(hits: readonly Hit[], text: string): Hit[] {
    const described = readSymptoms(this.knowledge, plainText(text));
    const ratios = this.told!.compare(text);
    const most = Math.max(0, ...hits.map(({ score }) => score));
    // Beside the one most alike, so that symptoms stay comparable with hits of other kinds.
    const likest = Math.max(...hits.map(({ id }) => ratios.get(id) ?? 0));
    return hits.map((hit) => ({
      ...hit,
      score:
        (hit.score + (described.has(hit.id) ? tuning.described * most : 0)) *
        Math.exp(tuning.told * ((ratios.get(hit.id) ?? 0) - likest)),
    }));
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
    const { spelling } = this;
    if (spelling === undefined || saysLittle(word) || spelling.knows(word)) return word;
    const near = spelling.near(word);
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

/** The terms worth looking up; where all are in many entries, the rarest. */
function telling(terms: readonly string[], holders: ReadonlyMap<string, number>): string[] {
  const there = terms.filter((term) => holders.has(term));
  const rare = there.filter((term) => holders.get(term)! <= mostHolders);
  if (rare.length > 0 || there.length === 0) return rare;
  return [there.reduce((a, b) => (holders.get(b)! < holders.get(a)! ? b : a))];
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
