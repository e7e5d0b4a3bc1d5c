import type { Action } from '../../src/inference/action.ts';
import type { Finding, Network, Observation } from '../../src/inference/network.ts';
import type { QuestionContext, QuestionInput } from '../../src/inference/question.ts';
import { finding, network } from './build.ts';

/** Lehmer's generator (Park and Miller 1988): the same numbers on every machine. */
export function randomNumbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

const CAUSES = 150;
const MAIN = 30;
const DETAILS = 270;
const PRIORS = [0.005, 0.01, 0.02, 0.04, 0.08];
const LINKS = [0.1, 0.25, 0.5, 0.75, 0.9];

function pick<Item>(random: () => number, items: readonly Item[]): Item {
  return items[Math.floor(random() * items.length)]!;
}

function randomFinding(random: () => number, parents: number): Finding {
  const links = new Array<number>(CAUSES).fill(0);
  for (let count = 0; count < parents; count += 1) links[Math.floor(random() * CAUSES)] = pick(random, LINKS);
  return finding(0.01, links);
}

/** 150 causes; 30 main findings of 10 to 25 causes each, then 270 details of 1 to 4. */
export function largeNetwork(seed: number): Network {
  const random = randomNumbers(seed);
  const prior = Array.from({ length: CAUSES }, () => pick(random, PRIORS));
  const main = Array.from({ length: MAIN }, () => randomFinding(random, 10 + Math.floor(random() * 16)));
  const details = Array.from({ length: DETAILS }, () => randomFinding(random, 1 + Math.floor(random() * 4)));
  return network(prior, [...main, ...details]);
}

/** Main findings 0 to `positives` - 1 are there, 15 more are not, 60 questions are open, 80 actions can be taken. */
export function largeContext(seed: number, positives: number, scenarios = 1): QuestionContext {
  const random = randomNumbers(seed + 1);
  const observed = new Map<number, Observation>();
  for (let index = 0; index < positives; index += 1) observed.set(index, 1);
  for (let index = 0; index < 15; index += 1) observed.set(index % 3 === 0 ? 15 + index : 40 + index, 0);
  const open = [...new Array(MAIN + DETAILS).keys()].filter((index) => !observed.has(index)).slice(0, 60);
  const questions = open.map(
    (index): QuestionInput => ({
      id: `f${index}`,
      cost: 0.5,
      cannotTell: 0.1,
      answers: [0, 1].map((observation) => ({ kind: 'finding', finding: index, observation })),
    }),
  );
  const actions = Array.from(
    { length: 80 },
    (): Action => ({
      removes: Array.from({ length: 1 + Math.floor(random() * 3) }, () => ({
        cause: Math.floor(random() * CAUSES),
        chance: pick(random, [0.5, 0.75, 0.9]),
      })),
      cost: 5 + Math.floor(random() * 60),
      testCost: 5,
    }),
  );
  const first = largeNetwork(seed);
  return {
    scenarios: Array.from({ length: scenarios }, (_, index) => ({
      weight: 1 / scenarios,
      network: {
        ...first,
        prior: first.prior.map((chance, cause) => (cause % scenarios === index ? 2 * chance : chance)),
      },
    })),
    evidence: { observed, goal: 0 },
    actions,
    callCost: 300,
    questions,
  };
}
