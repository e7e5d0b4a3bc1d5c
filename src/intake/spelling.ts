/** Shorter words are one slip away from too many others. */
const shortest = 4;

/**
 * Knows the words of the entries, and which of them is one slip away: a letter left out, put in, exchanged or swapped with
 * its neighbour. Each word is filed under itself and under each of its forms with a letter left out.
 */
export class Spelling {
  private readonly uses = new Map<string, number>();
  private readonly filed = new Map<string, string[]>();
  private readonly beginnings = new Set<string>();

  /** @param uses how often the word is used */
  add(word: string, uses: number): void {
    this.uses.set(word, uses);
    for (let length = shortest - 1; length <= word.length; length++)
      this.beginnings.add(word.slice(0, length));
    if (word.length < shortest || /\d/.test(word)) return;
    for (const form of [word, ...shortened(word)]) {
      const list = this.filed.get(form);
      if (list === undefined) this.filed.set(form, [word]);
      else list.push(word);
    }
  }

  /** Whether it is one of the words, or the beginning of one that is still being typed. */
  knows(word: string): boolean {
    return this.uses.has(word) || this.beginnings.has(word);
  }

  /** The known words near to an unknown one, the most used first. */
  near(word: string): readonly string[] {
    if (word.length < shortest) return [];
    const found = new Set([word, ...shortened(word)].flatMap((form) => this.filed.get(form) ?? []));
    const { uses } = this;
    return [...found]
      .filter((other) => isOneSlip(word, other))
      .sort((a, b) => (uses.get(b) ?? 0) - (uses.get(a) ?? 0) || (a < b ? -1 : 1));
  }
}

function shortened(word: string): string[] {
  return Array.from({ length: word.length }, (_, at) => word.slice(0, at) + word.slice(at + 1));
}

/** Two words that share a form with a letter left out may still be two slips apart. */
function isOneSlip(a: string, b: string): boolean {
  let from = 0;
  while (from < a.length && a[from] === b[from]) from++;
  const [restA, restB] = [a.slice(from), b.slice(from)];
  return (
    restA.slice(1) === restB ||
    restA === restB.slice(1) ||
    restA.slice(1) === restB.slice(1) ||
    (restA[0] === restB[1] && restA[1] === restB[0] && restA.slice(2) === restB.slice(2))
  );
}
