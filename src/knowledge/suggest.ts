const LONGEST = 64;

const normalise = (word: string): string =>
  word
    .trim()
    .toLowerCase()
    .replace(/[\s-]+/g, '_');

// How many slips of the finger are forgiven: more in long words, none in a single letter.
const allowedSlips = (length: number): number => (length < 2 ? 0 : length < 4 ? 1 : length < 8 ? 2 : 3);

/** Letters left out, put in, exchanged, or swapped with their neighbour between two words; `limit` + 1 for any more. */
function countSlips(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) > limit) return limit + 1;
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let slips = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        slips = Math.min(slips, beforeLast[j - 2]! + 1);
      row.push(slips);
      least = Math.min(least, slips);
    }
    if (least > limit) return limit + 1;
    beforeLast = last;
    last = row;
  }
  return Math.min(last[b.length]!, limit + 1);
}

const sortedParts = (word: string): string => word.split('_').sort().join('_');

function onlyOneWithAllParts(word: string, names: readonly string[]): string | undefined {
  if (word.length < 4) return undefined;
  const parts = word.split('_');
  const fitting = names.filter((name) => {
    const has = normalise(name).split('_');
    return parts.every((part) => has.includes(part));
  });
  return fitting.length === 1 ? fitting[0] : undefined;
}

/**
 * The name that was probably meant, or undefined when none is near. Forgives case, spaces, a few slips of the finger,
 * the order of the parts of a name, and a part left out where only one name has the others.
 */
export function suggest(word: string, names: Iterable<string>): string | undefined {
  if (word.length > LONGEST) return undefined;
  const wanted = normalise(word);
  if (wanted === '') return undefined;
  const known = [...names];
  let best: string | undefined;
  let fewest = allowedSlips(wanted.length) + 1;
  for (const name of known) {
    const candidate = normalise(name);
    const reordered = candidate !== wanted && sortedParts(candidate) === sortedParts(wanted);
    const slips = reordered ? 1 : countSlips(wanted, candidate, fewest - 1);
    if (slips < fewest) {
      fewest = slips;
      best = name;
    }
  }
  return best ?? onlyOneWithAllParts(wanted, known);
}
