import { type INetwork, inferences } from 'bayesjs';
import { bench, describe } from 'vitest';
import type { Network } from '../../src/inference/network.ts';
import { exactPlan } from '../../src/inference/plan.ts';
import { infer } from '../../src/inference/posterior.ts';
import { valueQuestions } from '../../src/inference/question.ts';
import { finding, network, noisyOr, only, seen } from '../inference/build.ts';
import { largeContext, randomNumbers } from '../inference/large.ts';
import { levelChances } from '../inference/oracle.ts';

/** A two-level network with every noisy-OR written out as a table, for a general library. */
function writtenOut({ prior, findings }: Network): INetwork {
  const out: INetwork = {};
  prior.forEach((chance, cause) => {
    out[`c${cause}`] = {
      id: `c${cause}`,
      states: ['T', 'F'],
      parents: [],
      cpt: { T: chance, F: 1 - chance },
    };
  });
  findings.forEach((one, index) => {
    const parents = [...one.parents];
    const cpt = Array.from({ length: 1 << parents.length }, (_, row) => {
      const present = parents.reduce((mask, cause, at) => (row & (1 << at) ? mask | (1 << cause) : mask), 0);
      const [absent, there] = levelChances(one, present);
      return {
        when: Object.fromEntries(parents.map((cause, at) => [`c${cause}`, row & (1 << at) ? 'T' : 'F'])),
        then: { T: there!, F: absent! },
      };
    });
    out[`f${index}`] = {
      id: `f${index}`,
      states: ['T', 'F'],
      parents: parents.map((cause) => `c${cause}`),
      cpt,
    };
  });
  return out;
}

const random = randomNumbers(4);
const four = [0, 1, 2, 3];
const COMPARED: [string, Network, number[]][] = [
  ['fever', network([0.1, 0.05, 0.01], [finding(0.001, [0.4, 0.8, 0.9])]), [0]],
  [
    'noisy-OR 4 x 4, two positive',
    noisyOr(
      four.map(() => 0.05 + 0.2 * random()),
      four.map(() => 0.02),
      four.map(() => four.map(() => 0.1 + 0.8 * random())),
    ),
    [0, 1],
  ],
];

describe.each(COMPARED)('one cause given findings: %s', (_, value, positives) => {
  const general = writtenOut(value);
  const given = Object.fromEntries(positives.map((index) => [`f${index}`, 'T']));
  const evidence = seen(Object.fromEntries(positives.map((index) => [index, 1])));
  const scenarios = only(value);
  const methods = [inferences.junctionTree, inferences.variableElimination, inferences.enumeration];
  for (const method of methods) {
    const chance = method.infer(general, { c0: 'T' }, given);
    const own = infer(scenarios, evidence).posterior[0]!;
    // A comparison of speed means nothing unless both compute the same.
    if (!(Math.abs(chance - own) < 1e-9)) throw new Error(`results differ: ${chance} and ${own}`);
  }
  bench('programme without subtraction, all causes', () => {
    infer(scenarios, evidence);
  });
  bench('general library, junction tree', () => {
    // A fresh copy: the library remembers the trees of networks it has met.
    inferences.junctionTree.infer({ ...general }, { c0: 'T' }, given);
  });
  bench('general library, variable elimination', () => {
    inferences.variableElimination.infer(general, { c0: 'T' }, given);
  });
  bench('general library, enumeration', () => {
    inferences.enumeration.infer(general, { c0: 'T' }, given);
  });
});

describe.each([1, 4, 6, 8, 10])('150 causes, 300 findings, 15 negative, %d positive', (positives) => {
  const context = largeContext(1, positives);
  bench('posterior', () => {
    infer(context.scenarios, context.evidence);
  });
  bench('posterior and value of 60 questions', () => {
    infer(context.scenarios, context.evidence);
    valueQuestions(context);
  });
});

describe('the same, 6 positive', () => {
  const eight = largeContext(1, 6, 8);
  const one = largeContext(1, 6);
  bench('posterior and value of 60 questions, 8 scenarios', () => {
    infer(eight.scenarios, eight.evidence);
    valueQuestions(eight);
  });
  bench('plan of six actions', () => {
    exactPlan(one.scenarios, one.evidence, one.actions, one.callCost);
  });
  bench('plan of six actions, 8 scenarios', () => {
    exactPlan(eight.scenarios, eight.evidence, eight.actions, eight.callCost);
  });
});
