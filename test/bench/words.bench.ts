import Fuse from 'fuse.js';
import { bench, describe } from 'vitest';
import { readWords } from '../../src/intake/readWords.ts';
import { openSearch } from '../../src/intake/search.ts';
import { searchEntries } from '../../src/intake/searchEntries.ts';
import { shippedFolder } from '../../src/knowledge/folders.ts';
import type { KnowledgeBase, Symptom } from '../../src/knowledge/knowledgeBase.ts';
import { loadKnowledge } from '../../src/knowledge/load.ts';

const { knowledge } = loadKnowledge({ shipped: shippedFolder, local: [] });
/** Invented names of made-up words, so that many share a few pieces and none is the same. */
const syllables = ['ra', 'to', 'mi', 'ke', 'lun', 'sor', 'pa', 'vet', 'gi', 'dro'];
const madeUp = (index: number) =>
  [3, 7, 11].map((step) =>
    [1, 10, 100].map((power) => syllables[Math.floor((index * step) / power) % 10]).join(''),
  );
const local = Object.fromEntries(
  Array.from({ length: 10_000 }, (_, index): [string, Symptom] => {
    const id = `local_${index}`;
    const [a, b, c] = madeUp(index);
    const title = `${a} ${b} stands out on the wall, number ${index}`;
    const look = `Look along the ${c}; the ${a} is rough there.`;
    const under = 'on_a_wall';
    return [
      id,
      {
        id,
        file: `${id}.yaml`,
        local: 'shop',
        title,
        under,
        look,
        order: 1,
        alsoCalled: [b!, c!],
        tellApart: {},
        leak: 0.01,
      },
    ];
  }),
);
const large: KnowledgeBase = { ...knowledge, symptoms: { ...knowledge.symptoms, ...local } };

/** What stands in the field after each key while a line is typed. */
const line = 'fine hairs betwen the two posts and it pops a bit';
const typed = [...line].map((_, index) => line.slice(0, index + 1));

function keystrokes(find: (text: string) => unknown): () => void {
  let key = 0;
  return () => {
    find(typed[key % typed.length]!);
    key += 1;
  };
}
const ours = (base: KnowledgeBase) => {
  const search = openSearch(base);
  search.find('hair');
  return (text: string) => search.find(text, { kinds: ['symptom'], most: 5 });
};
const fuse = (base: KnowledgeBase) => {
  const keys = ['title', 'alsoCalled', 'sentence'];
  const entries = searchEntries(base).filter(({ kind }) => kind === 'symptom');
  const index = new Fuse(entries, { keys, ignoreLocation: true, useTokenSearch: true, threshold: 0.2 });
  return (text: string) => index.search(text, { limit: 5 });
};
const once = { iterations: typed.length * 4, warmupIterations: typed.length, time: 0, warmupTime: 0 };

describe('a key while searching, shipped knowledge', () => {
  bench('ours', keystrokes(ours(knowledge)), once);
  bench('fuse.js, token search', keystrokes(fuse(knowledge)), once);
});

describe('a key while searching, with 10,000 local entries', () => {
  bench('ours', keystrokes(ours(large)), once);
  bench('fuse.js, token search', keystrokes(fuse(large)), { ...once, iterations: typed.length });
});

describe('the index of the search', () => {
  const few = { iterations: 5, warmupIterations: 1, time: 0, warmupTime: 0 };
  bench('shipped knowledge', () => void openSearch({ ...knowledge }).find('hair'), few);
  bench('with 10,000 local entries', () => void openSearch({ ...large }).find('hair'), few);
});

const description =
  'PETG, 245 on the nozzle, bowden with 6 mm, fine hairs between the two posts and it pops a bit, spool has been out for weeks. ';

describe('reading a description', () => {
  bench('a message', () => void readWords(knowledge, description));
  bench('64 KiB', () => void readWords(knowledge, description.repeat(600)), { iterations: 10, time: 0 });
});
