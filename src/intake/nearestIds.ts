import Fuse from 'fuse.js';

/** Longer ids there are none, and a long word would only take long. */
const longest = 60;

/** Ids that look like a mistyped one, the nearest first. */
export function nearestIds(word: string, ids: readonly string[], most: number): string[] {
  const wanted = word
    .trim()
    .toLowerCase()
    .replace(/[\s-]+/g, '_')
    .slice(0, longest);
  if (wanted === '') return [];
  const fuse = new Fuse(ids, { threshold: 0.4, ignoreLocation: true });
  return fuse.search(wanted, { limit: most }).map((hit) => hit.item);
}
