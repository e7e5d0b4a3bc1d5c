import { allWords, stemOf } from './words.ts';

/** Finds which groups of synonyms the words of a text belong to. */
export interface Concepts {
  /** For each place in the words, the groups that a term beginning there belongs to. */
  readonly at: (words: readonly string[]) => ReadonlyMap<number, readonly string[]>;
}

/** Longest term of a group, in words. */
const longest = 4;

export function readConcepts(synonyms: Readonly<Record<string, readonly string[]>>): Concepts {
  const groupsOf = new Map<string, string[]>();
  for (const [group, terms] of Object.entries(synonyms)) {
    for (const term of terms) {
      const key = allWords(term).map(stemOf).join(' ');
      const groups = groupsOf.get(key) ?? [];
      if (!groups.includes(group)) groupsOf.set(key, [...groups, group]);
    }
  }
  return {
    at: (words) => {
      const stems = words.map(stemOf);
      const found = new Map<number, readonly string[]>();
      for (const start of stems.keys()) {
        const groups = new Set<string>();
        for (let count = 1; count <= longest && start + count <= stems.length; count++) {
          for (const group of groupsOf.get(stems.slice(start, start + count).join(' ')) ?? [])
            groups.add(group);
        }
        if (groups.size > 0) found.set(start, [...groups]);
      }
      return found;
    },
  };
}
