/** Finds the known words that one slip of the finger away: a letter left out, put in, exchanged or swapped with its neighbour. */
export interface Spelling {
  readonly knows: (word: string) => boolean;
  /** The known words near to an unknown one, the most used first. */
  readonly near: (word: string) => readonly string[];
}

/** Shorter words are one slip away from too many others. */
const shortest = 4;

/** `uses`: how often each known word is used. Each word is filed under itself and under each of its forms with a letter left out. */
export function readSpelling(uses: ReadonlyMap<string, number>): Spelling {
  const filed = new Map<string, string[]>();
  for (const word of uses.keys()) {
    if (word.length < shortest || /\d/.test(word)) continue;
    for (const form of [word, ...shortened(word)]) {
      const list = filed.get(form);
      if (list === undefined) filed.set(form, [word]);
      else list.push(word);
    }
  }
  return {
    knows: (word) => uses.has(word),
    near: (word) => {
      if (word.length < shortest) return [];
      const found = new Set([word, ...shortened(word)].flatMap((form) => filed.get(form) ?? []));
      return [...found].sort((a, b) => (uses.get(b) ?? 0) - (uses.get(a) ?? 0) || (a < b ? -1 : 1));
    },
  };
}

function shortened(word: string): string[] {
  return Array.from(word, (_, at) => word.slice(0, at) + word.slice(at + 1));
}
