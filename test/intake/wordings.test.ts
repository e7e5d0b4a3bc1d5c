import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openLikeness } from '../../src/intake/likeness.ts';
import { Wordings } from '../../src/intake/wordings.ts';
import { longestText } from '../../src/intake/words.ts';
import { cause, knowledgeOf, link, symptom } from '../support/tinyKnowledge.ts';

const few = fc.array(fc.constantFrom('hair', 'pop', 'clog', 'lift', 'wall'), { minLength: 1, maxLength: 12 });

/**
 * The formula anew: log of P(word | label) / P(word), P(word | label) = (count + 200 P(word)) / (all + 200) (Dirichlet
 * smoothing, Zhai & Lafferty 2001, "A study of smoothing methods", eq. 6), summed over the words, each at most 1.5 times.
 */
function plain(texts: Readonly<Record<string, readonly string[]>>, said: readonly string[]) {
  const all = Object.values(texts).flat();
  const times = (list: readonly string[], word: string) => list.filter((other) => other === word).length;
  return Object.entries(texts).map(([label, words]) => {
    const logs = [...new Set(said)]
      .filter((word) => all.includes(word))
      .map((word) => {
        const usual = times(all, word) / all.length;
        const here = (times(words, word) + 200 * usual) / (words.length + 200);
        return Math.min(1.5, times(said, word)) * Math.log(here / usual);
      });
    return [label, logs.reduce((sum, log) => sum + log, 0)] as const;
  });
}

describe('how a text is worded', () => {
  it('is weighed by the published formula', () => {
    fc.assert(
      fc.property(few, few, few, (a, b, said) => {
        const wordings = new Wordings({}, 200);
        wordings.add('a', a.join(' '));
        wordings.add('b', b.join(' '));
        const found = wordings.compare(said.join(' '));
        for (const [label, log] of plain({ a, b }, said)) expect(found.get(label)).toBeCloseTo(log, 12);
      }),
    );
  });

  it('counts words of the same group as one, and endings as nothing', () => {
    const wordings = new Wordings({ hairs: ['cobweb', 'whisker'] });
    wordings.add('strings', 'cobwebs everywhere');
    wordings.add('clog', 'nothing comes');
    const { strings = 0, clog = 0 } = Object.fromEntries(wordings.compare('whiskers'));
    expect(strings).toBeGreaterThan(0);
    expect(clog).toBeLessThan(0);
    expect(Object.fromEntries(wordings.compare('cobweb'))['strings']).toBeGreaterThan(strings);
  });

  it('says nothing of words nobody used, and stays finite for the longest texts', () => {
    const wordings = new Wordings({});
    const words = Array.from({ length: 12_000 }, (_, index) => `w${index.toString(36)}`);
    wordings.add('a', words.slice(0, 6000).join(' '));
    wordings.add('b', words.slice(6000).join(' '));
    expect([...wordings.compare('quite other things').values()]).toEqual([0, 0]);
    for (const text of [words.join(' '), words[0]!.repeat(longestText), '']) {
      for (const log of wordings.compare(text).values()) {
        expect(Number.isFinite(log)).toBe(true);
        expect(Math.abs(log)).toBeLessThan(1000);
      }
    }
  });
});

describe('how far words are like the reports of a cause', () => {
  const knowledge = knowledgeOf({
    symptoms: [symptom('place'), symptom('hairs', 'place')],
    causes: [
      cause('damp', 0.1, [link('hairs', 0.9)]),
      cause('heat', 0.1, [link('hairs', 0.9)]),
      cause('silent', 0.1, [link('hairs', 0.9)]),
    ],
    wording: {
      told: {
        damp: { hairs: ['roll lay open in the cellar', 'hisses after a rainy week'] },
        heat: { hairs: ['since I went up ten degrees'] },
      },
    },
  });

  it('is more for the cause whose reports say the same; one without reports is left out', () => {
    const likeness = openLikeness(knowledge)('it hisses, the roll was open');
    expect(Object.keys(likeness).sort()).toEqual(['damp', 'heat']);
    expect(likeness['damp']).toBeGreaterThan(0);
    expect(likeness['heat']).toBeLessThan(0);
  });

  it('is opened once for a knowledge base, and answers each text for itself', () => {
    const likeness = openLikeness(knowledge);
    expect(openLikeness(knowledge)).toBe(likeness);
    const first = likeness('rainy');
    expect(likeness('ten degrees more')['heat']).toBeGreaterThan(0);
    expect(likeness('rainy')).toEqual(first);
  });
});
