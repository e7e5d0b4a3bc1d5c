import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Evidence, Network, Observation } from '../../src/inference/network.ts';
import { infer } from '../../src/inference/posterior.ts';
import { valueQuestions } from '../../src/inference/question.ts';
import { noisyOr, only } from './build.ts';
import { expectClose } from './expectClose.ts';
import { chanceAllClear, restrict } from './multipleGoals.ts';
import { levelChances } from './oracle.ts';

interface CheckCase {
  name: string;
  positive: string[];
  negative: string[];
  soft?: Record<string, [number, number]>;
  pEvidence: number;
  logPEvidence?: number;
  posterior: number[];
  pNoCause?: number;
  pExactlyThisCauseAlone?: number[];
  mapState?: number[];
  mapProbability?: number;
  unobserved?: Record<string, Unobserved>;
  pFixedByRemoving?: Record<string, number>;
  pFixedByRemovingTop?: { removed: string[]; p: number }[];
  responsibleForFirstPositive?: Record<string, number>;
  responsibleOther?: number;
  responsibleEntropyBits?: number;
  pFixedByRemovingAll?: number;
}

interface Unobserved {
  pYes: number;
  posteriorIfYes: number[];
  posteriorIfNo: number[];
  sumMarginalEntropyBits: number;
  expectedSumMarginalEntropyBits: number;
  expectedResponsibleEntropyBits?: number;
}

const check = JSON.parse(readFileSync(new URL('./bn2o-check.json', import.meta.url), 'utf8')) as {
  prior: number[];
  leak: number[];
  link: number[][];
  cases: CheckCase[];
  harshVariant: { prior: number[]; leak: number[]; cases: CheckCase[] };
};

const TOLERANCE = 1e-12;
const indexOf = (name: string) => Number(name.slice(1));
const main = noisyOr(check.prior, check.leak, check.link);
const harsh = noisyOr(check.harshVariant.prior, check.harshVariant.leak, check.link);

const CASES = [
  ...check.cases.map((value) => [value.name, value, main] as const),
  ...check.harshVariant.cases.map((value) => [value.name, value, harsh] as const),
];

function evidenceOf({ positive, negative, soft }: CheckCase): Evidence {
  const observed = new Map<number, Observation>();
  for (const name of positive) observed.set(indexOf(name), 1);
  for (const name of negative) observed.set(indexOf(name), 0);
  for (const [name, [present, absent]] of Object.entries(soft ?? {}))
    observed.set(indexOf(name), [absent, present]);
  return { observed };
}

const bits = (chance: number) => (chance > 0 ? -chance * Math.log2(chance) : 0);
const sumOfEntropies = (posterior: ArrayLike<number>) =>
  Array.from(posterior).reduce((sum, chance) => sum + bits(chance) + bits(1 - chance), 0);

/** Prior times likelihood of one state of the causes. */
function weightOfState(network: Network, { observed }: Evidence, present: number): number {
  let weight = 1;
  network.prior.forEach((prior, cause) => {
    weight *= present & (1 << cause) ? prior : 1 - prior;
  });
  for (const [index, observation] of observed) {
    const levels = levelChances(network.findings[index]!, present);
    weight *=
      typeof observation === 'number'
        ? levels[observation]!
        : levels.reduce((sum, level, at) => sum + level * observation[at]!, 0);
  }
  return weight;
}

const valuesOf = (record: Record<string, number>) => check.prior.map((_, cause) => record[`c${cause}`]!);

/** The file gives some figures for some cases only; what it does not give is no test. */
function itWhen(given: boolean, name: string, run: () => void): void {
  if (given) it(name, run);
}

describe.each(CASES)('%s', (_, value, network) => {
  const evidence = evidenceOf(value);
  const beliefs = infer(only(network), evidence);

  it('evidence and posteriors', () => {
    expectClose(Math.exp(beliefs.logEvidence) / value.pEvidence, 1, 1e-11);
    expectClose(beliefs.posterior, value.posterior, TOLERANCE);
    if (value.logPEvidence !== undefined) expectClose(beliefs.logEvidence, value.logPEvidence, TOLERANCE);
  });

  itWhen(value.pNoCause !== undefined, 'no cause, one cause alone, most probable state', () => {
    const none = restrict(network, () => false);
    const emptyWorld = network.prior.reduce((product, prior) => product * (1 - prior), 1);
    const chanceOf = (logWorld: number, world: Network) =>
      Math.exp(logWorld + infer(only(world), evidence).logEvidence - beliefs.logEvidence);
    expectClose(chanceOf(Math.log(emptyWorld), none), value.pNoCause!, TOLERANCE);
    const alone = Array.from(network.prior, (prior, cause) => {
      const certain = { ...none, prior: none.prior.map((_, other) => Number(other === cause)) };
      return chanceOf(Math.log((emptyWorld * prior) / (1 - prior)), certain);
    });
    expectClose(alone, value.pExactlyThisCauseAlone!, TOLERANCE);

    let best = 0;
    let state = 0;
    let sum = 0;
    for (let present = 0; present < 1 << network.prior.length; present += 1) {
      const weight = weightOfState(network, evidence, present);
      sum += weight;
      if (weight > best) [best, state] = [weight, present];
    }
    expectClose(sum / Math.exp(beliefs.logEvidence), 1, TOLERANCE);
    expect(value.mapState).toEqual(check.prior.map((_, cause) => (state >> cause) & 1));
    expectClose(best / Math.exp(beliefs.logEvidence), value.mapProbability!, TOLERANCE);
  });

  itWhen(value.pFixedByRemoving !== undefined, 'removing causes clears every positive', () => {
    const fixed = check.prior.map((_, cause) => chanceAllClear(network, evidence, [cause]));
    expectClose(fixed, valuesOf(value.pFixedByRemoving!), TOLERANCE);
    for (const { removed, p } of value.pFixedByRemovingTop ?? []) {
      expectClose(chanceAllClear(network, evidence, removed.map(indexOf)), p, TOLERANCE);
    }
    if (value.pFixedByRemovingAll === undefined) return;
    const all = check.prior.map((_, cause) => cause);
    expectClose(chanceAllClear(network, evidence, all), value.pFixedByRemovingAll, TOLERANCE);
  });

  itWhen(value.responsibleForFirstPositive !== undefined, 'who is responsible for the first positive', () => {
    const goal = indexOf(value.positive[0]!);
    const { responsible, other } = infer(only(network), { ...evidence, goal });
    expectClose(responsible, valuesOf(value.responsibleForFirstPositive!), TOLERANCE);
    expectClose(other, value.responsibleOther!, TOLERANCE);
    const entropy = responsible.reduce((sum, chance) => sum + bits(chance), bits(other));
    expectClose(entropy, value.responsibleEntropyBits!, 1e-11);
    const valued = valueQuestions({
      scenarios: only(network),
      evidence: { ...evidence, goal },
      actions: [],
      callCost: 1,
      questions: [],
    });
    expectClose(valued.entropy, value.responsibleEntropyBits!, 1e-11);
  });

  itWhen(Object.keys(value.unobserved ?? {}).length > 0, 'every open question', () => {
    const goal = value.positive[0];
    const context = goal === undefined ? evidence : { ...evidence, goal: indexOf(goal) };
    const { questions } = valueQuestions({
      scenarios: only(network),
      evidence: context,
      actions: [],
      callCost: 1,
      settledAbove: 1,
      questions: Object.keys(value.unobserved!).map((id) => ({
        id,
        cost: 0,
        cannotTell: 0,
        answers: [0, 1].map((observation) => ({ kind: 'finding', finding: indexOf(id), observation })),
      })),
    });
    for (const [id, wanted] of Object.entries(value.unobserved!)) {
      const after = [0, 1].map((level) =>
        infer(only(network), { observed: new Map([...evidence.observed, [indexOf(id), level]]) }),
      );
      const [no, yes] = after as [(typeof after)[0], (typeof after)[0]];
      expectClose(Math.exp(yes.logEvidence - beliefs.logEvidence), wanted.pYes, TOLERANCE);
      expectClose(yes.posterior, wanted.posteriorIfYes, TOLERANCE);
      expectClose(no.posterior, wanted.posteriorIfNo, TOLERANCE);
      expectClose(sumOfEntropies(beliefs.posterior), wanted.sumMarginalEntropyBits, 1e-11);
      const expected =
        wanted.pYes * sumOfEntropies(yes.posterior) + (1 - wanted.pYes) * sumOfEntropies(no.posterior);
      expectClose(expected, wanted.expectedSumMarginalEntropyBits, 1e-11);
      const question = questions.find((one) => one.id === id)!;
      expectClose(question.chances, [1 - wanted.pYes, wanted.pYes], TOLERANCE);
      if (wanted.expectedResponsibleEntropyBits !== undefined) {
        expectClose(question.expectedEntropy, wanted.expectedResponsibleEntropyBits, 1e-11);
      }
    }
  });
});
