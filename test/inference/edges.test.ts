import { describe, expect, it } from 'vitest';
import type { Beliefs } from '../../src/inference/network.ts';
import { clearChance, exactPlan } from '../../src/inference/plan.ts';
import { infer } from '../../src/inference/posterior.ts';
import { valueQuestions } from '../../src/inference/question.ts';
import { finding, graded, network, only, seen } from './build.ts';
import { expectClose } from './expectClose.ts';
import { enumerate } from './oracle.ts';

function expectNoNaN(beliefs: Beliefs): void {
  const figures = [
    beliefs.logEvidence,
    beliefs.other,
    ...beliefs.posterior,
    ...beliefs.responsible,
    ...beliefs.scenarios,
  ];
  expect(figures.some(Number.isNaN)).toBe(false);
}

describe('evidence that cannot happen', () => {
  const leakless = network([0.2, 0.1], [finding(0, [0.7, 0]), finding(0, [1, 0])]);
  const certain = network([1, 0.1], [finding(0.1, [1, 0]), finding(0, [1, 0])]);

  it.each([
    ['a positive that only an excluded cause brings about', leakless, seen({ 0: 1, 1: 0 }, { goal: 0 })],
    ['no level has weight', leakless, seen({ 0: [0, 0] }, { goal: 0 })],
    ['a certain cause with a certain link, absent', certain, seen({ 0: 0 }, { goal: 0 })],
    [
      'every attempted fix worked for sure, and the goal still shows',
      leakless,
      seen({ 0: 1 }, { goal: 0, tried: { causes: Float64Array.of(0, 0), leak: 1 } }),
    ],
  ])('%s', (_, value, evidence) => {
    const scenarios = only(value);
    const beliefs = infer(scenarios, evidence);
    expectNoNaN(beliefs);
    expect(beliefs.logEvidence).toBe(-Infinity);
    expect([...beliefs.posterior]).toEqual([...value.prior]);
    expect([...beliefs.responsible]).toEqual([0, 0]);
    expect(beliefs.other).toBe(1);
    expect(clearChance(scenarios, evidence, Float64Array.of(1, 1))).toBe(0);
    const actions = [{ removes: [{ cause: 0, chance: 1 }], cost: 3, testCost: 1 }];
    expect(exactPlan(scenarios, evidence, actions, 9)).toEqual({
      steps: [],
      prefixCosts: [9],
      expectedCost: 9,
    });
    const values = valueQuestions({
      scenarios,
      evidence,
      actions,
      callCost: 9,
      questions: [
        { id: 'q', cost: 1, cannotTell: 0, answers: [{ kind: 'finding', finding: 1, observation: 1 }] },
      ],
    });
    expect(values).toMatchObject({ expectedCost: 9, firstAction: -1, entropy: 0 });
    expect(values.questions[0]).toMatchObject({ gross: 0, net: -1, skipped: true });
  });

  it('in one scenario only: the other takes all', () => {
    const possible = network([0.4, 0.1], [finding(0.1, [0.7, 0]), finding(0.1, [0.5, 0])]);
    const scenarios = [
      { weight: 0.7, network: leakless },
      { weight: 0.3, network: possible },
    ];
    const evidence = seen({ 0: 1, 1: 0 }, { goal: 0 });
    const beliefs = infer(scenarios, evidence);
    expect([...beliefs.scenarios]).toEqual([0, 1]);
    expectClose(beliefs.posterior, infer(only(possible), evidence).posterior, 1e-15);
    expectClose(beliefs.responsible, enumerate(scenarios, evidence).responsible, 1e-14);
    expectNoNaN(beliefs);
  });
});

describe('the goal', () => {
  const value = network(
    [0.2, 0.1, 0.3],
    [
      graded(
        [0.9, 0.97, 1],
        [
          [0.2, 0.6, 1],
          [0.5, 0.7, 1],
          [0.3, 1, 1],
        ],
      ),
    ],
  );

  it.each([
    ['not named', seen({ 0: 2 })],
    ['named but not seen', seen({}, { goal: 0 })],
    ['seen at level 0', seen({ 0: 0 }, { goal: 0 })],
    ['reported without content', seen({ 0: [1, 1, 1] }, { goal: 0 })],
  ])('%s: nobody is responsible', (_, evidence) => {
    const { responsible, other } = infer(only(value), evidence);
    expect([...responsible]).toEqual([0, 0, 0]);
    expect(other).toBe(1);
  });

  it('a cause that cannot reach the level seen still must not hold the goal above 0', () => {
    const evidence = seen({ 0: 2 }, { goal: 0 });
    const removal = Float64Array.of(1, 0.5, 0.25);
    const truth = enumerate(only(value), evidence, removal);
    expectClose(infer(only(value), evidence).responsible, truth.responsible, 1e-14);
    expectClose(clearChance(only(value), evidence, removal), truth.cleared, 1e-14);
    expect(truth.responsible[2]).toBe(0);
  });

  it('a fix that surely removes a cause and changed nothing acquits it', () => {
    const tried = { causes: Float64Array.of(0, 1, 1), leak: 1 };
    const { responsible, posterior } = infer(only(value), seen({ 0: 2 }, { goal: 0, tried }));
    expect(responsible[0]).toBe(0);
    expectClose(posterior[0]!, 0.2, 1e-14);
    expect(responsible[1]).toBeGreaterThan(infer(only(value), seen({ 0: 2 }, { goal: 0 })).responsible[1]!);
  });
});

describe('more positive findings than the programme takes', () => {
  const causes = 6;
  const wide = (findings: number) =>
    network(
      Array.from({ length: causes }, (_, cause) => 0.05 + 0.03 * cause),
      Array.from({ length: findings }, (_, index) =>
        finding(
          0.05 + 0.01 * index,
          Array.from({ length: causes }, (_, cause) =>
            (cause + index) % 3 === 0 ? 0.3 + 0.05 * ((cause * index) % 7) : 0,
          ),
        ),
      ),
    );
  const allSeen = (findings: number) =>
    seen(Object.fromEntries(Array.from({ length: findings }, (_, index) => [index, 1])), { goal: 0 });

  it('ten are exact', () => {
    const beliefs = infer(only(wide(10)), allSeen(10));
    const truth = enumerate(only(wide(10)), allSeen(10));
    expect(beliefs.approximated).toBe(false);
    expectClose(beliefs.posterior, truth.posterior, 1e-12);
    expectClose(beliefs.responsible, truth.responsible, 1e-12);
  });

  it.each([11, 12, 13])('%d: says that it approximates, and stays near', (findings) => {
    const beliefs = infer(only(wide(findings)), allSeen(findings));
    const truth = enumerate(only(wide(findings)), allSeen(findings));
    expect(beliefs.approximated).toBe(true);
    expectNoNaN(beliefs);
    expectClose(beliefs.posterior, truth.posterior, 0.1);
    expectClose(beliefs.responsible, truth.responsible, 0.1);
    expectClose(beliefs.logEvidence, Math.log(truth.evidence), 1);
  });
});
