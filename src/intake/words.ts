/** Longest description that is read; the rest is passed over. */
export const longestText = 64 * 1024;
/** Longer "words" are no words, and would fill the index with their pieces. */
const longestWord = 32;

/** Words too common to say what is meant. */
const stopWords = new Set(
  'a an the i me my we you your it its he she is are am was were be been being and or of on in at to for from with that this these those there then than when where which what who how why some any no not but so as by do does did done doing have has had having they them their very just only into out up about again also will would can could should get gets got like if because while until ever too much dont doesnt didnt cant wont isnt'.split(
    ' ',
  ),
);

/** In small letters, a space for control characters and without apostrophes; linear in the length of the text. */
export function plainText(text: string): string {
  return text
    .slice(0, longestText)
    .normalize('NFKC')
    .slice(0, longestText)
    .toLowerCase()
    .replace(/['\u2019\p{Cc}\p{Cf}]+/gu, (found) => (/^['\u2019]+$/.test(found) ? '' : ' '));
}

/** The words of a text in their order. */
export function allWords(text: string): string[] {
  const words: string[] = [];
  for (const [word] of plainText(text).matchAll(/[\p{L}\p{N}]+/gu)) words.push(word.slice(0, longestWord));
  return words;
}

export function saysLittle(word: string): boolean {
  return word.length < 2 || stopWords.has(word);
}

/** A word without its English ending, so that lift, lifts, lifted and lifting fall together; good enough for groups of words. */
export function stemOf(word: string): string {
  if (word.length < 4) return word;
  let stem = word;
  if (stem.endsWith('ies') && stem.length > 4) stem = `${stem.slice(0, -3)}y`;
  else if (/(?:ss|sh|ch|x|z)es$/.test(stem)) stem = stem.slice(0, -2);
  else if (stem.endsWith('s') && !/(?:ss|us|is)$/.test(stem)) stem = stem.slice(0, -1);
  const ending = /(?:ing|ed)$/.exec(stem);
  if (ending !== null && /[aeiouy].*.(?:ing|ed)$/.test(stem) && stem.length - ending[0].length > 2) {
    stem = stem.slice(0, -ending[0].length);
    if (/([bdgmnprt])\1$/.test(stem)) stem = stem.slice(0, -1);
  }
  if (stem.endsWith('ly') && stem.length > 5) stem = stem.slice(0, -2);
  return stem.length > 3 ? stem.replace(/(?:e|y)$/, '') : stem;
}
