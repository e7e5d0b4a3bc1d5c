import Fuse from 'fuse.js';
import MiniSearch from 'minisearch';
import { openSearch } from '../intake/search.ts';
import { type SearchKind, searchEntries } from '../intake/searchEntries.ts';
import { allWords, saysLittle } from '../intake/words.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';

/** Ids of one kind for free words, best first. */
export type Ranker = (text: string, kind: SearchKind) => readonly string[];

const most = 100;
const keys = [
  { name: 'title', weight: 2 },
  { name: 'alsoCalled', weight: 2 },
  { name: 'sentence', weight: 1 },
];

/** The search of this program beside general libraries over the same entries, each as its own documentation advises. */
export function searchRankers(knowledge: KnowledgeBase): Readonly<Record<string, Ranker>> {
  const entries = searchEntries(knowledge);
  const of = (kind: SearchKind) => entries.filter((entry) => entry.kind === kind);
  const once = <T>(make: (kind: SearchKind) => T) => {
    const made = new Map<SearchKind, T>();
    return (kind: SearchKind): T => {
      const there = made.get(kind) ?? make(kind);
      made.set(kind, there);
      return there;
    };
  };
  const plain = once((kind) => new Fuse(of(kind), { keys, ignoreLocation: true, threshold: 0.6 }));
  const tokens = once(
    (kind) => new Fuse(of(kind), { keys, ignoreLocation: true, threshold: 0.2, useTokenSearch: true }),
  );
  const words = once((kind) => {
    const engine = new MiniSearch({ fields: ['title', 'names', 'sentence'] });
    engine.addAll(of(kind).map((entry) => ({ ...entry, names: entry.alsoCalled.join('. ') })));
    return engine;
  });
  const content = (text: string) =>
    [...new Set(allWords(text))].filter((word) => !saysLittle(word)).join(' ');
  return {
    'fuse.js plain': (text, kind) =>
      plain(kind)
        .search(text, { limit: most })
        .map((hit) => hit.item.id),
    'fuse.js tokens': (text, kind) =>
      tokens(kind)
        .search(content(text), { limit: most })
        .map((hit) => hit.item.id),
    'minisearch words': (text, kind) =>
      words(kind)
        .search(content(text), { prefix: true, fuzzy: 0.2, boost: { title: 2, names: 2 } })
        .map((hit) => String(hit.id)),
    ours: (text, kind) =>
      openSearch(knowledge)
        .find(text, { kinds: [kind], most })
        .map((hit) => hit.id),
  };
}
