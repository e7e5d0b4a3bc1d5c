import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Evidence, Observation } from '../../src/inference/network.ts';
import { clearChance } from '../../src/inference/plan.ts';
import { infer } from '../../src/inference/posterior.ts';
import { type Diagnosis, diagnosis } from './arbitraries.ts';
import { finding, network, only, seen } from './build.ts';
import { expectClose } from './expectClose.ts';
import { enumerate } from './oracle.ts';

const RUNS = { numRuns: 300, seed: 20240611 };

function withObserved(evidence: Evidence, index: number, observation: Observation): Evidence {
  return { ...evidence, observed: new Map([...evidence.observed, [index, observation]]) };
}

function openFinding({ scenarios, evidence }: Diagnosis): number {
  return scenarios[0]!.network.findings.findIndex((_, index) => !evidence.observed.has(index));
}

describe('the programme against writing out every possible world', () => {
  it('agrees on evidence, posterior, responsible cause, scenarios and clearing', () => {
    fc.assert(
      fc.property(diagnosis, ({ scenarios, evidence, removal }) => {
        const beliefs = infer(scenarios, evidence);
        const truth = enumerate(scenarios, evidence, removal);
        expectClose(Math.exp(beliefs.logEvidence) / truth.evidence, 1, 1e-11);
        expectClose(beliefs.posterior, truth.posterior, 1e-11);
        expectClose(beliefs.scenarios, truth.scenarios, 1e-11);
        expectClose(beliefs.responsible, truth.responsible, 1e-11);
        expectClose(beliefs.other, 1 - truth.responsible.reduce((sum, mass) => sum + mass, 0), 1e-11);
        expectClose(clearChance(scenarios, evidence, removal), truth.cleared, 1e-11);
        expect(beliefs.approximated).toBe(false);
      }),
      RUNS,
    );
  });
});

describe('invariants', () => {
  it('1: the order of evidence does not matter', () => {
    fc.assert(
      fc.property(diagnosis, ({ scenarios, evidence }) => {
        const turned = { ...evidence, observed: new Map([...evidence.observed].reverse()) };
        const a = infer(scenarios, evidence);
        const b = infer(scenarios, turned);
        expectClose(a.posterior, b.posterior, 1e-12);
        expectClose(a.responsible, b.responsible, 1e-12);
        expectClose(a.logEvidence, b.logEvidence, 1e-12);
      }),
      RUNS,
    );
  });

  it('2: the posteriors after each answer average to the posterior now', () => {
    fc.assert(
      fc.property(diagnosis, (given) => {
        const index = openFinding(given);
        fc.pre(index >= 0);
        const { scenarios, evidence } = given;
        const now = infer(scenarios, evidence);
        const posterior = now.posterior.map(() => 0);
        const responsible = now.posterior.map(() => 0);
        for (let level = 0; level < scenarios[0]!.network.findings[index]!.levels; level += 1) {
          const after = infer(scenarios, withObserved(evidence, index, level));
          const chance = Math.exp(after.logEvidence - now.logEvidence);
          after.posterior.forEach((value, cause) => {
            posterior[cause] = posterior[cause]! + chance * value;
            responsible[cause] = responsible[cause]! + chance * after.responsible[cause]!;
          });
        }
        expectClose(posterior, now.posterior, 1e-12);
        expectClose(responsible, now.responsible, 1e-12);
      }),
      RUNS,
    );
  });

  it('4: a finding linked to nothing, and an unknown one, change nothing', () => {
    fc.assert(
      fc.property(diagnosis, ({ scenarios, evidence }) => {
        const causes = scenarios[0]!.network.prior.length;
        const unlinked = finding(0.3, new Array(causes).fill(0));
        const wider = scenarios.map(({ weight, network: { prior, findings } }) => ({
          weight,
          network: { prior, findings: [...findings, unlinked] },
        }));
        const index = scenarios[0]!.network.findings.length;
        const now = infer(scenarios, evidence);
        for (const observation of [1, 0, [0.4, 0.4]]) {
          const after = infer(wider, withObserved(evidence, index, observation));
          expectClose(after.posterior, now.posterior, 1e-12);
          expectClose(after.responsible, now.responsible, 1e-12);
        }
      }),
      RUNS,
    );
  });

  it('5: alone, a positive finding raises every parent and a negative one lowers it', () => {
    fc.assert(
      fc.property(diagnosis, ({ scenarios }) => {
        const { network: first } = scenarios[0]!;
        first.findings.forEach(({ parents, levels }, index) => {
          // A level in the middle may speak either way; the highest and the lowest may not.
          const yes = infer(only(first), seen({ [index]: levels - 1 })).posterior;
          const no = infer(only(first), seen({ [index]: 0 })).posterior;
          for (const cause of parents) {
            expect(yes[cause]).toBeGreaterThanOrEqual(first.prior[cause]! - 1e-15);
            expect(no[cause]).toBeLessThanOrEqual(first.prior[cause]! + 1e-15);
          }
        });
      }),
      RUNS,
    );
  });

  it('6: chances of being responsible add up to at most 1, each at most the posterior', () => {
    fc.assert(
      fc.property(diagnosis, ({ scenarios, evidence }) => {
        const { responsible, posterior, other } = infer(scenarios, evidence);
        expect(responsible.reduce((sum, chance) => sum + chance, 0) + other).toBeCloseTo(1, 12);
        responsible.forEach((chance, cause) => {
          expect(chance).toBeGreaterThanOrEqual(0);
          expect(chance).toBeLessThanOrEqual(posterior[cause]! + 1e-12);
        });
      }),
      RUNS,
    );
  });

  it('7: link 0 is no link, soft (1, 1) is unknown, soft (0, 1) is present, share 1 is nothing tried', () => {
    const linked = network([0.2, 0.1, 0.3], [finding(0.02, [0.7, 0, 0.4]), finding(0.05, [0, 0.6, 0.2])]);
    const zero = {
      ...linked,
      findings: [
        {
          levels: 2,
          leak: Float64Array.of(0.98, 1),
          parents: Int32Array.of(0, 1, 2),
          atMost: Float64Array.of(1 - 0.7, 1, 1, 1, 1 - 0.4, 1),
        },
        linked.findings[1]!,
      ],
    };
    const positive = infer(only(linked), seen({ 0: 1, 1: 1 }, { goal: 0 }));
    expect(infer(only(zero), seen({ 0: 1, 1: 1 }, { goal: 0 }))).toEqual(positive);
    expect(infer(only(linked), seen({ 0: [0, 1], 1: [0, 1] }, { goal: 0 }))).toEqual(positive);
    const tried = { causes: Float64Array.of(1, 1, 1), leak: 1 };
    expectClose(
      infer(only(linked), seen({ 0: 1, 1: 1 }, { goal: 0, tried })).responsible,
      positive.responsible,
      1e-15,
    );
    expect(infer(only(linked), seen({ 0: 1, 1: [1, 1] }))).toEqual(infer(only(linked), seen({ 0: 1 })));
  });

  it('8: inclusion and exclusion gives the same chance of the evidence where that is not small', () => {
    fc.assert(
      fc.property(diagnosis, ({ scenarios }) => {
        const { network: first } = scenarios[0]!;
        const positives = first.findings.map((_, index) => index);
        const evidence = seen(
          Object.fromEntries(positives.map((index) => [index, first.findings[index]!.levels - 1])),
        );
        let sum = 0;
        for (let chosen = 0; chosen < 1 << positives.length; chosen += 1) {
          let term = 1;
          for (const index of positives) {
            const { leak, levels } = first.findings[index]!;
            if (chosen & (1 << index)) term *= -leak[levels - 2]!;
          }
          first.prior.forEach((prior, cause) => {
            let without = 1;
            for (const index of positives) {
              const { parents, atMost, levels } = first.findings[index]!;
              const row = parents.indexOf(cause);
              if (chosen & (1 << index) && row >= 0) without *= atMost[row * levels + levels - 2]!;
            }
            term *= 1 - prior + prior * without;
          });
          sum += term;
        }
        fc.pre(sum > 1e-5);
        expectClose(Math.exp(infer(only(first), evidence).logEvidence) / sum, 1, 1e-9);
      }),
      RUNS,
    );
  });
});
