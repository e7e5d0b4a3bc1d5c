const size = 4;

/**
 * The pieces of four letters that a word is made of, its beginning marked: gap gives _gap, gaps gives _gap and gaps.
 * Words that share a stem, and most mistyped ones, share most of their pieces.
 */
export function piecesOf(word: string): string[] {
  const marked = `_${word}`;
  if (marked.length <= size) return [marked];
  return Array.from({ length: marked.length - size + 1 }, (_, at) => marked.slice(at, at + size));
}
