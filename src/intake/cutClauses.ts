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

/** Cuts a description into clauses of words: at stops, commas, ends of lines, and words such as "but". Linear in its length. */
export function cutClauses(text: string): Token[] {
  const tokens: Token[] = [];
  let clause = 0;
  let sentence = 0;
  for (const match of text.slice(0, longestDescription).matchAll(piece)) {
    const [whole, number, word, stop, comma] = match;
    if (stop?.includes('?')) markQuestion(tokens, sentence);
    if (stop !== undefined) sentence += 1;
    if (stop !== undefined || comma !== undefined) clause += 1;
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
  return tokens;
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
