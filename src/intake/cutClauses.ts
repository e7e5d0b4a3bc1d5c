/** A word or number of a description, with its place in the text and the clause and sentence it stands in. */
export interface Token {
  /** Lower case, without apostrophes. */
  readonly text: string;
  readonly from: number;
  readonly to: number;
  readonly clause: number;
  readonly sentence: number;
  /** Set where it is a number; NaN where it can be read in two ways, as 1,200. */
  readonly value?: number;
  /** Set from where a sentence asks whether something is so: "…, should I dry it?" */
  asked?: true;
}

/** A stretch of a description. */
export interface Span {
  /** Places in the list of tokens: the first word, and the one after the last. */
  readonly first: number;
  readonly end: number;
}

/** Longest description that is read; the rest is passed over. */
export const longestDescription = 65_536;
/** What is longer is no word; it is kept as one that matches nothing. */
const longestWord = 40;

const piece =
  /(\d{1,9}(?:[.,]\d{1,9})?)|(\p{L}[\p{L}\p{N}'’]*)|([.!?]+(?=\s|$|["')\]])|\n[ \t]*\n)|([,;\n])|\d+|[^\p{L}\p{N}]/gu;
const parting = new Set(['but', 'however', 'then']);
/** Begin a question to which the answer is yes or no; "why does it…?" tells that it does. */
const asking = new Set(
  'do does did is are was should could can would will shall may might must has have had any'.split(' '),
);

/**
 * Cuts a description into clauses of words: at stops, commas, ends of lines, and words such as "but"; the commas of a list
 * such as "whatever speed, temperature or spool" part nothing. Linear in its length.
 */
export function cutClauses(text: string): Token[] {
  const tokens: Token[] = [];
  /** Places in the tokens before which nothing but a comma stands. */
  const commas: number[] = [];
  let clause = 0;
  let sentence = 0;
  for (const match of text.slice(0, longestDescription).matchAll(piece)) {
    const [whole, number, word, stop, comma] = match;
    if (stop?.includes('?')) markQuestion(tokens, sentence);
    if (stop !== undefined) sentence += 1;
    if (stop !== undefined || comma !== undefined) clause += 1;
    if (comma === ',') commas.push(tokens.length);
    if (number === undefined && word === undefined) continue;
    const place = { from: match.index, to: match.index + whole.length };
    if (number !== undefined) {
      tokens.push({ text: number, ...place, clause, sentence, value: numberOf(number) });
      continue;
    }
    const plain = whole.length > longestWord ? '' : whole.toLowerCase().replace(/['’]/g, '');
    if (parting.has(plain)) clause += 1;
    tokens.push({ text: plain, ...place, clause, sentence });
  }
  return withoutListCommas(tokens, commas);
}

/** Longest item of a list, in words. */
const longestItem = 2;

function withoutListCommas(tokens: Token[], commas: readonly number[]): Token[] {
  const inList = new Set<number>();
  for (let index = commas.length - 1; index >= 0; index--) {
    const start = commas[index]!;
    const end = commas[index + 1] ?? Number.POSITIVE_INFINITY;
    const before = tokens[start - 1];
    if (before === undefined || before.sentence !== tokens[start]?.sentence) continue;
    const item = tokens.slice(start, start + longestItem + 1);
    const or = item.findIndex(({ text }) => text === 'or' || text === 'nor');
    const last = or >= 0 && item.slice(0, or + 1).every(({ clause }) => clause === item[0]!.clause);
    if (last || (end - start <= longestItem && inList.has(end))) inList.add(start);
  }
  let parted = 0;
  return tokens.map((token, index) => {
    if (inList.has(index)) parted += 1;
    return parted === 0 ? token : { ...token, clause: token.clause - parted };
  });
}

/** A comma before three digits may part thousands or decimals; after a nought it is a decimal comma. */
function numberOf(number: string): number {
  if (/^[1-9]\d{0,2},\d{3}$/.test(number)) return Number.NaN;
  return Number(number.replace(',', '.'));
}

function markQuestion(tokens: readonly Token[], sentence: number): void {
  let first = tokens.length;
  while (tokens[first - 1]?.sentence === sentence) first -= 1;
  let asked = false;
  for (let index = first; index < tokens.length; index++) {
    const { text, clause } = tokens[index]!;
    asked ||= tokens[index - 1]?.clause !== clause && asking.has(text);
    if (asked) tokens[index]!.asked = true;
  }
}
