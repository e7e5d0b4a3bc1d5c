import { describe, expect, it } from 'vitest';
import type { Evidence } from '../../src/inference/network.ts';
import { clearChance, planSubsets } from '../../src/inference/plan.ts';
import { infer } from '../../src/inference/posterior.ts';
import { only, seen } from './build.ts';
import { expectClose } from './expectClose.ts';
import { chanceAllClear } from './multipleGoals.ts';
import { threeByThree } from './threeByThree.ts';

const scenarios = only(threeByThree);

const noCause = only({ ...threeByThree, prior: Float64Array.of(0, 0, 0) });

describe('posteriors', () => {
  it.each<[string, Evidence, number[]]>([
    ['none', seen({}), [1, 0.1, 0.05, 0.2, 0.684]],
    ['f1+', seen({ 0: 1 }), [0.116432, 0.693898584582, 0.197127937337, 0.2, 0.117493472585]],
    [
      'f1+ f2+',
      seen({ 0: 1, 1: 1 }),
      [0.047310510464, 0.62743757725, 0.441686987924, 0.24870058743, 0.002891535066],
    ],
    [
      'f1+ f2-',
      seen({ 0: 1, 1: 0 }),
      [0.069121489536, 0.739388116186, 0.029738409137, 1 / 6, 0.195933277638],
    ],
    [
      'f1+ f2+ f3-',
      seen({ 0: 1, 1: 1, 2: 0 }),
      [
        0.036495241894848,
        585659891 / 909470741,
        390932241 / 909470741,
        1181392826 / 10004178151,
        0.003561012155,
      ],
    ],
    [
      'f1+ f2+ f3+',
      seen({ 0: 1, 1: 1, 2: 1 }),
      [0.010815268569152, 0.571694721996, 0.481643878175, 0.689435557432, 0.000632439218],
    ],
    [
      'f1- f2- f3-',
      seen({ 0: 0, 1: 0, 2: 0 }),
      [0.693427369174848, 0.015317286652, 0.002834050593, 0.074074074074, 0.909159326593],
    ],
    [
      'f1+, f3 soft',
      seen({ 0: 1, 2: [0.2, 0.7] }),
      [0.0337932176, 0.679656073945, 0.219921573849, 0.354014280073, 0.091083365793],
    ],
  ])('%s', (_, evidence, [chance, c1, c2, c3, none]) => {
    const { logEvidence, posterior } = infer(scenarios, evidence);
    expectClose(Math.exp(logEvidence), chance!, 1e-12);
    expectClose(posterior, [c1!, c2!, c3!], 1e-12);
    const alone = 0.684 * Math.exp(infer(noCause, evidence).logEvidence - logEvidence);
    expectClose(alone, none!, 1e-12);
  });

  it('predicts the third finding', () => {
    const now = infer(scenarios, seen({ 0: 1, 1: 1 })).logEvidence;
    const both = infer(scenarios, seen({ 0: 1, 1: 1, 2: 1 })).logEvidence;
    expectClose(Math.exp(both - now), 0.22860181518, 1e-12);
  });
});

const SETS = [[0], [1], [2], [0, 1], [0, 2], [1, 2], [0, 1, 2]];

const removing = (causes: readonly number[]) =>
  Float64Array.from([0, 1, 2], (cause) => Number(causes.includes(cause)));

describe('removing causes clears every positive finding', () => {
  it.each<[string, Evidence, number[]]>([
    [
      'f1+',
      seen({ 0: 1 }),
      [0.659887316202, 0.154871512986, 0, 0.828225917274, 0.659887316202, 0.154871512986, 0.828225917274],
    ],
    [
      'f1+ f2+',
      seen({ 0: 1, 1: 1 }),
      [0.450276220127, 0.323887039766, 0, 0.848343077899, 0.512814584033, 0.338881810125, 0.929058909594],
    ],
    [
      'f1+ f2+ f3-',
      seen({ 0: 1, 1: 1, 2: 0 }),
      [0.498918695835, 0.323090048699, 0, 0.896006027752, 0.529716146195, 0.329737992088, 0.934862472942],
    ],
  ])('%s', (_, evidence, wanted) => {
    expectClose(
      SETS.map((causes) => chanceAllClear(threeByThree, evidence, causes)),
      wanted,
      1e-12,
    );
  });

  it('one positive: clearChance and the responsible causes say the same', () => {
    const evidence = seen({ 0: 1 }, { goal: 0 });
    const wanted = [
      0.659887316202, 0.154871512986, 0, 0.828225917274, 0.659887316202, 0.154871512986, 0.828225917274,
    ];
    expectClose(
      SETS.map((causes) => clearChance(scenarios, evidence, removing(causes))),
      wanted,
      1e-12,
    );
    expectClose(infer(scenarios, evidence).responsible, wanted.slice(0, 3), 1e-12);
  });
});

describe('removing causes clears the first finding, the others being evidence', () => {
  it.each<[string, Evidence, [number, number, number]]>([
    ['f1+ f2+', seen({ 0: 1, 1: 1 }, { goal: 0 }), [0.573349800667, 0.34515407388, 0.949441695375]],
    [
      'f1+ f2+ f3-',
      seen({ 0: 1, 1: 1, 2: 0 }, { goal: 0 }),
      [0.590466607069, 0.335855780983, 0.956449386937],
    ],
    [
      'f1+ f2+ f3+',
      seen({ 0: 1, 1: 1, 2: 1 }, { goal: 0 }),
      [0.515590533193, 0.376530405065, 0.925794811616],
    ],
  ])('%s', (_, evidence, [c1, c2, both]) => {
    const { responsible, other } = infer(scenarios, evidence);
    expectClose(responsible, [c1, c2, 0], 1e-12);
    expectClose(other, 1 - c1 - c2, 1e-12);
    expectClose(clearChance(scenarios, evidence, removing([0])), c1, 1e-12);
    expectClose(clearChance(scenarios, evidence, removing([1])), c2, 1e-12);
    expectClose(clearChance(scenarios, evidence, removing([0, 1])), both, 1e-12);
  });
});

describe('order of fixes that stay in place', () => {
  const evidence = seen({ 0: 1, 1: 1 });
  const costs = [10, 4, 6];
  const call = 40;
  const clear = (mask: number) =>
    chanceAllClear(
      threeByThree,
      evidence,
      [0, 1, 2].filter((cause) => mask & (1 << cause)),
    );

  it('finds the cheapest of all orders and subsets', () => {
    const plan = planSubsets(
      costs.map((cost) => ({ cost, testCost: 0 })),
      clear,
      call,
    );
    expect(plan.steps.map(({ actions }) => actions)).toEqual([[1], [0], [2]]);
    expectClose(plan.expectedCost, 14.508714751, 1e-9);
    expectClose(plan.prefixCosts.at(-2)!, 16.827406486, 1e-9);
  });

  it('prices a given order', () => {
    const price = (order: readonly number[]) => {
      let mask = 0;
      let sum = 0;
      for (const cause of order) {
        sum += costs[cause]! * (1 - clear(mask));
        mask |= 1 << cause;
      }
      return sum + call * (1 - clear(mask));
    };
    expectClose(price([0, 1, 2]), 15.946480268, 1e-9);
    expectClose(price([1, 0]), 16.827406486, 1e-9);
  });
});
