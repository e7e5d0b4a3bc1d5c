import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Action } from '../../src/inference/action.ts';
import type { Evidence, Scenario } from '../../src/inference/network.ts';
import { greedyPlan } from '../../src/inference/plan.ts';
import { infer } from '../../src/inference/posterior.ts';
import { type AnswerInput, type QuestionInput, valueQuestions } from '../../src/inference/question.ts';
import { diagnosis } from './arbitraries.ts';
import { finding, graded, network, only, seen } from './build.ts';
import { expectClose } from './expectClose.ts';
import { threeByThree } from './threeByThree.ts';

const alone = (costs: readonly number[]): Action[] =>
  costs.map((cost, cause) => ({ removes: [{ cause, chance: 1 }], cost, testCost: cost }));

const yesNo = (index: number): AnswerInput[] =>
  [1, 0].map((observation) => ({ kind: 'finding', finding: index, observation }));

const ask = (id: string, answers: AnswerInput[], cost = 0, cannotTell = 0): QuestionInput => ({
  id,
  cost,
  cannotTell,
  answers,
});

/**
 * Exactly one fault, as scenarios: in each, one cause is certain and the goal (finding 0) follows from any cause. Finding
 * 1 has the given chance of each level under each fault.
 */
function singleFault(faults: readonly number[], levels: readonly (readonly number[])[]): Scenario[] {
  return faults.map((weight, fault) => {
    let sum = 0;
    const cumulative = levels.map((level, at) => {
      sum += level[fault]!;
      return at === levels.length - 1 ? 1 : sum;
    });
    return {
      weight,
      network: network(
        faults.map((_, cause) => Number(cause === fault)),
        [
          finding(
            0,
            faults.map(() => 1),
          ),
          graded(
            cumulative,
            faults.map(() => undefined),
          ),
        ],
      ),
    };
  });
}

const absent = (yes: readonly number[]) => yes.map((chance) => 1 - chance);

const entropyBits = (...chances: number[]) =>
  chances.reduce((sum, chance) => sum - (chance > 0 ? chance * Math.log2(chance) : 0), 0);

describe('worked examples: one fault, perfect actions, no call', () => {
  const evidence = seen({ 0: 1 }, { goal: 0 });
  const faults = [0.45, 0.35, 0.2];
  const yes = [0.9, 0.2, 0.1];
  const base = { evidence, actions: alone([20, 18, 15]), callCost: 1e4 };

  it('value of a question', () => {
    const values = valueQuestions({
      ...base,
      scenarios: singleFault(faults, [absent(yes), yes]),
      questions: [ask('q', yesNo(1), 1)],
    });
    expectClose(values.expectedCost, 32.9, 1e-9);
    expect(values.firstAction).toBe(0);
    expectClose(values.entropy, 1.512888, 5e-7);
    const [question] = values.questions;
    expectClose(question!.chances, [0.495, 0.505], 1e-12);
    expectClose(question!.gross, 7.715, 1e-9);
    expectClose(question!.net, 6.715, 1e-9);
    expectClose(values.expectedCost - question!.net, 26.185, 1e-9);
    expectClose(question!.sameDecision, 0.495, 1e-12);
    expectClose(values.entropy - question!.expectedEntropy, 0.442406, 5e-7);
  });

  it('the branches', () => {
    const scenarios = singleFault(faults, [absent(yes), yes]);
    const branches = [
      [1, [0.818182, 0.141414, 0.040404], 23.878788],
      [0, [0.089109, 0.554455, 0.356436], 26.465347],
    ] as const;
    for (const [level, wanted, cost] of branches) {
      const { responsible, other } = infer(scenarios, seen({ 0: 1, 1: level }, { goal: 0 }));
      expectClose(responsible, wanted, 5e-7);
      expectClose(greedyPlan(responsible, other, base.actions, base.callCost).expectedCost, cost, 5e-7);
    }
  });

  it('"cannot tell", whatever the fault', () => {
    const { questions, expectedCost } = valueQuestions({
      ...base,
      scenarios: singleFault(faults, [absent(yes), yes]),
      questions: [ask('q', yesNo(1), 1, 0.3)],
    });
    expectClose(expectedCost - questions[0]!.net, 28.4995, 1e-9);
  });

  it('"cannot tell" that speaks for a fault', () => {
    const unknown = [0.1, 0.1, 0.6];
    const known = unknown.map((chance) => 1 - chance);
    const levels = [
      absent(yes).map((chance, fault) => chance * known[fault]!),
      yes.map((chance, fault) => chance * known[fault]!),
      unknown,
    ];
    const scenarios = singleFault(faults, levels);
    const answers = [0, 1, 2].map(
      (observation): AnswerInput => ({ kind: 'finding', finding: 1, observation }),
    );
    const { questions, expectedCost } = valueQuestions({
      ...base,
      scenarios,
      questions: [ask('q', answers, 1)],
    });
    expectClose(questions[0]!.chances[2]!, 0.2, 1e-12);
    expectClose(expectedCost - questions[0]!.net, 25.3965, 1e-9);
    expectClose(infer(scenarios, seen({ 0: 1, 1: 2 }, { goal: 0 })).responsible, [0.225, 0.175, 0.6], 1e-12);
  });

  it('bits are not money', () => {
    const value = (chances: readonly number[]) => {
      const values = valueQuestions({
        evidence,
        actions: alone([5, 20, 40]),
        callCost: 1e4,
        scenarios: singleFault([0.5, 0.2, 0.3], [absent(chances), chances]),
        questions: [ask('q', yesNo(1))],
      });
      expectClose(values.expectedCost, 27, 1e-9);
      return [values.questions[0]!.gross, values.entropy - values.questions[0]!.expectedEntropy] as const;
    };
    const [grossOne, bitsOne] = value([0.9, 0.05, 0.05]);
    const [grossTwo, bitsTwo] = value([0.8, 0.1, 0.95]);
    expectClose([grossOne, grossTwo], [0, 4.9], 1e-9);
    expectClose([bitsOne, bitsTwo], [0.6205, 0.3344], 5e-5);
  });
});

/** The same values by inferring each answer from scratch. */
function plainly(
  scenarios: readonly Scenario[],
  evidence: Evidence,
  actions: readonly Action[],
  call: number,
) {
  const now = infer(scenarios, evidence);
  const costOf = (beliefs: typeof now) => greedyPlan(beliefs.responsible, beliefs.other, actions, call);
  return (
    cases: readonly { scenarios: readonly Scenario[]; evidence: Evidence; weight: number }[],
    cannotTell: number,
  ) => {
    const after = cases.map((one) => infer(one.scenarios, one.evidence));
    const masses = after.map(
      ({ logEvidence }, index) => cases[index]!.weight * Math.exp(logEvidence - now.logEvidence),
    );
    const sum = masses.reduce((total, mass) => total + mass, 0);
    const chances = masses.map((mass) => mass / sum);
    const mean = (of: (beliefs: typeof now) => number) =>
      chances.reduce((total, chance, index) => total + (chance > 0 ? chance * of(after[index]!) : 0), 0);
    return {
      chances,
      gross: (1 - cannotTell) * (costOf(now).expectedCost - mean((beliefs) => costOf(beliefs).expectedCost)),
      entropy: mean(({ responsible, other }) => entropyBits(...responsible, other)),
    };
  };
}

describe('against inferring each answer from scratch', () => {
  const RUNS = { numRuns: 200, seed: 99 };

  it('levels, soft answers, other scenarios', () => {
    fc.assert(
      fc.property(
        diagnosis,
        fc.double({ min: 0, max: 0.9, noNaN: true }),
        ({ scenarios, evidence, removal }, cannotTell) => {
          const actions = [...removal].map(
            (chance, cause): Action => ({
              removes: [{ cause, chance: 0.5 + chance / 2 }],
              cost: 2 + cause,
              testCost: 1,
            }),
          );
          const questions: QuestionInput[] = [];
          const wanted = new Map<string, ReturnType<ReturnType<typeof plainly>>>();
          const price = plainly(scenarios, evidence, actions, 20);
          const withSeen = (index: number, observation: number | number[]) => ({
            scenarios,
            evidence: { ...evidence, observed: new Map([...evidence.observed, [index, observation]]) },
            weight: 1,
          });
          scenarios[0]!.network.findings.forEach(({ levels }, index) => {
            if (evidence.observed.has(index)) return;
            const hard = Array.from({ length: levels }, (_, level) => level);
            const soft = hard.map((level) =>
              hard.map((other) => (other === level ? 0.8 : 0.2 / (levels - 1))),
            );
            for (const [kind, observations] of Object.entries({ hard, soft })) {
              const id = `${index} ${kind}`;
              const answers = observations.map(
                (observation): AnswerInput => ({ kind: 'finding', finding: index, observation }),
              );
              questions.push(ask(id, answers, 0, cannotTell));
              wanted.set(
                id,
                price(
                  observations.map((observation) => withSeen(index, observation)),
                  cannotTell,
                ),
              );
            }
          });
          const parts = scenarios.map((scenario) => ({
            scenarios: [{ ...scenario, weight: 1 }],
            weight: scenario.weight,
          }));
          questions.push(
            ask(
              'scenario',
              parts.map((part) => ({ kind: 'scenarios', ...part })),
              0,
              cannotTell,
            ),
          );
          wanted.set(
            'scenario',
            price(
              parts.map((part) => ({ ...part, evidence })),
              cannotTell,
            ),
          );
          const values = valueQuestions({
            scenarios,
            evidence,
            actions,
            callCost: 20,
            questions,
            settledAbove: 1,
          });
          expect(values.questions.length).toBe(questions.length);
          for (const { id, chances, gross, expectedEntropy } of values.questions) {
            const plain = wanted.get(id)!;
            expectClose(chances, plain.chances, 1e-11);
            expectClose(gross, plain.gross, 1e-10);
            expectClose(expectedEntropy, plain.entropy, 1e-10);
          }
        },
      ),
      RUNS,
    );
  });

  it('3: a free question never costs, in minutes or in bits', () => {
    fc.assert(
      fc.property(diagnosis, ({ scenarios, evidence }) => {
        const actions = alone(Array.from(scenarios[0]!.network.prior, (_, cause) => 3 + cause));
        const questions = scenarios[0]!.network.findings.flatMap(({ levels }, index) =>
          evidence.observed.has(index)
            ? []
            : [
                ask(
                  `f${index}`,
                  Array.from({ length: levels }, (_, observation) => ({
                    kind: 'finding',
                    finding: index,
                    observation,
                  })),
                ),
              ],
        );
        const values = valueQuestions({ scenarios, evidence, actions, callCost: 15, questions });
        for (const { gross, expectedEntropy, chances } of values.questions) {
          expect(gross).toBeGreaterThanOrEqual(-1e-12);
          expect(values.entropy - expectedEntropy).toBeGreaterThanOrEqual(-1e-12);
          expectClose(
            chances.reduce((sum, chance) => sum + chance, 0),
            1,
            1e-12,
          );
        }
      }),
      RUNS,
    );
  });
});

describe('several findings in one answer, and findings seen before', () => {
  const scenarios = only(threeByThree);
  const evidence = seen({ 0: 1 }, { goal: 0 });
  const actions = alone([10, 4, 6]);

  it('a choice between findings, normalised over the options', () => {
    const options = [
      { 1: 1, 2: 0 },
      { 1: 0, 2: 1 },
      { 1: 0, 2: 0 },
    ] as Record<number, number>[];
    const answers = options.map(
      (option): AnswerInput => ({ kind: 'findings', observed: seen(option).observed }),
    );
    const { questions } = valueQuestions({
      scenarios,
      evidence,
      actions,
      callCost: 40,
      questions: [ask('q', answers)],
    });
    const wanted = plainly(
      scenarios,
      evidence,
      actions,
      40,
    )(
      options.map((option) => ({ scenarios, evidence: seen({ 0: 1, ...option }, { goal: 0 }), weight: 1 })),
      0,
    );
    expectClose(questions[0]!.chances, wanted.chances, 1e-12);
    expectClose(questions[0]!.gross, wanted.gross, 1e-10);
  });

  it('the answer seen before is certain, and its question skipped', () => {
    const { questions } = valueQuestions({
      scenarios,
      evidence: seen({ 0: 1, 1: 0 }, { goal: 0 }),
      actions,
      callCost: 40,
      questions: [ask('again', yesNo(1), 2)],
    });
    expectClose(questions[0]!.chances, [0, 1], 1e-15);
    expect(questions[0]).toMatchObject({ skipped: true, gross: 0, net: -2, sameDecision: 1 });
  });

  it('a question that touches nothing seen is skipped, and equal values go by id', () => {
    const apart = network(
      [0.1, 0.2],
      [finding(0.01, [0.8, 0]), finding(0.3, [0, 0.6]), finding(0.3, [0, 0.6])],
    );
    const { questions } = valueQuestions({
      scenarios: only(apart),
      evidence,
      actions: alone([3, 3]),
      callCost: 40,
      questions: [ask('b', yesNo(1)), ask('a', yesNo(2))],
    });
    expect(questions.map(({ id, skipped, gross }) => [id, skipped, gross])).toEqual([
      ['a', true, 0],
      ['b', true, 0],
    ]);
    expectClose(questions[0]!.chances[0]!, 1 - 0.7 * (1 - 0.2 * 0.6), 1e-12);
  });

  it('gives the same result twice', () => {
    const context = {
      scenarios,
      evidence,
      actions,
      callCost: 40,
      questions: [ask('x', yesNo(1)), ask('y', yesNo(2))],
    };
    expect(valueQuestions(context)).toEqual(valueQuestions(context));
  });
});
