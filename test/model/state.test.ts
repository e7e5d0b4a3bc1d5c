import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { infer } from '../../src/inference/posterior.ts';
import type { KnowledgeBase } from '../../src/knowledge/knowledgeBase.ts';
import { type Case, emptyCase } from '../../src/model/case.ts';
import { buildModel } from '../../src/model/model.ts';
import { buildState, scenariosOf } from '../../src/model/state.ts';
import {
  answers,
  cause,
  choice,
  fix,
  knowledgeOf,
  limit,
  link,
  number,
  sign,
  symptom,
} from '../support/tinyKnowledge.ts';

function beliefs(knowledge: KnowledgeBase, known: Partial<Case>, jointValues = 64) {
  const model = buildModel(knowledge);
  const state = buildState(model, { ...emptyCase, ...known }, jointValues);
  const result = infer(scenariosOf(state).scenarios, state.evidence);
  const of = (id: string) => model.causeIndex.get(id)!;
  return {
    ...result,
    present: (id: string) => result.posterior[of(id)]!,
    culprit: (id: string) => result.responsible[of(id)]!,
    prior: (id: string) => scenariosOf(state).scenarios[0]!.network.prior[of(id)]!,
    state,
  };
}

const place = symptom('place');
const complaint = symptom('mark', 'place');

describe('the wording of a description', () => {
  const knowledge = knowledgeOf({
    symptoms: [place, complaint, symptom('other', 'place')],
    causes: [
      cause('cold_air', 0.04, [link('mark', 0.75)]),
      cause('grease', 0.02, [link('mark', 0.5)]),
      cause('elsewhere', 0.05, [link('other', 0.9)]),
    ],
  });
  const logs = { cold_air: 1.2, grease: -0.7, elsewhere: 9 };
  const model = buildModel(knowledge, (words) => (words === 'so' ? logs : {}));
  const priorsOf = (known: Partial<Case>) => {
    const { prior } = scenariosOf(buildState(model, { ...emptyCase, ...known }, 64)).scenarios[0]!.network;
    return Object.fromEntries(model.causes.map(({ id }, index) => [id, prior[index]!]));
  };
  const odds = (p: number) => p / (1 - p);

  // Virtual evidence: the odds of a cause times its likelihood ratio (Pearl 1988, section 2.2.2).
  it('multiplies the odds of the causes of the complaint, on average by one', () => {
    const before = priorsOf({ complaint: 'mark' });
    const after = priorsOf({ complaint: 'mark', words: 'so' });
    const factor = (id: 'cold_air' | 'grease') => odds(after[id]!) / odds(before[id]!);
    expect(factor('cold_air') / factor('grease')).toBeCloseTo(Math.exp(1.2 + 0.7), 9);
    expect((0.04 * 0.75 * factor('cold_air') + 0.02 * 0.5 * factor('grease')) / 0.04).toBeCloseTo(1, 9);
    expect(after['elsewhere']).toBe(before['elsewhere']);
  });

  it('changes nothing where nothing is said, or nothing is known of it', () => {
    const before = priorsOf({ complaint: 'mark' });
    expect(priorsOf({ complaint: 'mark', words: 'nothing' })).toEqual(before);
    const plain = buildModel(knowledge);
    const { prior } = scenariosOf(buildState(plain, { ...emptyCase, complaint: 'mark', words: 'so' }, 64))
      .scenarios[0]!.network;
    expect([...prior]).toEqual(plain.causes.map(({ id }) => before[id]));
  });

  it('does no harm without a complaint, or where no cause can bring it about', () => {
    for (const known of [{ words: 'so' }, { words: 'so', complaint: 'unheard_of' }]) {
      for (const prior of Object.values(priorsOf(known))) {
        expect(prior).toBeGreaterThan(0);
        expect(prior).toBeLessThan(1);
      }
    }
  });
});

describe('facts and causes', () => {
  const knowledge = knowledgeOf({
    symptoms: [place, complaint],
    facts: [choice('room', { warm: 8, cold: 2 })],
    causes: [
      cause('cold_air', 0.04, [link('mark', 0.75)], [answers('room', { cold: 5 })]),
      cause('grease', 0.04, [link('mark', 0.75)]),
    ],
  });

  it('scales a factor so that the average print changes nothing', () => {
    // Average of the factor: 0.8 x 1 + 0.2 x 5 = 1.8; a cold room multiplies the odds by 5 / 1.8, a warm one by 1 / 1.8.
    const odds = (p: number) => p / (1 - p);
    expect(
      odds(beliefs(knowledge, { complaint: 'mark', facts: { room: 'cold' } }).prior('cold_air')),
    ).toBeCloseTo((0.04 / 0.96) * (5 / 1.8), 4);
    expect(
      odds(beliefs(knowledge, { complaint: 'mark', facts: { room: 'warm' } }).prior('cold_air')),
    ).toBeCloseTo(0.04 / 0.96 / 1.8, 4);
  });

  it('moves the culprit with the fact', () => {
    const cold = beliefs(knowledge, { complaint: 'mark', facts: { room: 'cold' } });
    const warm = beliefs(knowledge, { complaint: 'mark', facts: { room: 'warm' } });
    expect(cold.culprit('cold_air')).toBeGreaterThan(cold.culprit('grease'));
    expect(warm.culprit('cold_air')).toBeLessThan(warm.culprit('grease'));
  });

  it('folds an unknown fact that bears on one cause into that cause', () => {
    const p = (factor: number) => 1 / (1 + Math.exp(-(Math.log(0.04 / 0.96) + Math.log(factor / 1.8))));
    const expected = 0.8 * p(1) + 0.2 * p(5);
    const state = beliefs(knowledge, { complaint: 'mark' }).state;
    expect(scenariosOf(state).scenarios).toHaveLength(1);
    expect(beliefs(knowledge, { complaint: 'mark' }).prior('cold_air')).toBeCloseTo(expected, 9);
  });
});

describe('an unknown fact that several causes share', () => {
  // Exact by weighing both values of the fact: enumerated by hand below. Averaging the priors first would be wrong.
  const knowledge = knowledgeOf({
    symptoms: [place, complaint],
    facts: [choice('room', { warm: 7, cold: 3 })],
    causes: [
      cause('a', 0.1, [link('mark', 0.8)], [answers('room', { warm: 0.2, cold: 5 })]),
      cause('b', 0.1, [link('mark', 0.6)], [answers('room', { warm: 2, cold: 0.1 })]),
    ],
  });

  it('makes them depend on each other, exactly', () => {
    const average = { a: 0.7 * 0.2 + 0.3 * 5, b: 0.7 * 2 + 0.3 * 0.1 };
    const prior = (m: number) => {
      const odds = (0.1 / 0.9) * m;
      return odds / (1 + odds);
    };
    let total = 0;
    const joint = { a: 0, b: 0 };
    for (const [weight, ma, mb] of [
      [0.7, 0.2, 2],
      [0.3, 5, 0.1],
    ] as const) {
      const pa = prior(ma / average.a);
      const pb = prior(mb / average.b);
      for (const hasA of [0, 1]) {
        for (const hasB of [0, 1]) {
          const chance = (hasA ? pa : 1 - pa) * (hasB ? pb : 1 - pb);
          const shows = 1 - 0.99 * (hasA ? 0.2 : 1) * (hasB ? 0.4 : 1);
          total += weight * chance * shows;
          if (hasA) joint.a += weight * chance * shows;
          if (hasB) joint.b += weight * chance * shows;
        }
      }
    }
    const result = beliefs(knowledge, { complaint: 'mark' });
    expect(result.state.mixed.map((grid) => grid.fact)).toEqual(['room']);
    expect(result.present('a')).toBeCloseTo(joint.a / total, 9);
    expect(result.present('b')).toBeCloseTo(joint.b / total, 9);
  });

  it('is listed as approximated where there is no room to weigh it', () => {
    const result = beliefs(knowledge, { complaint: 'mark' }, 1);
    expect(result.state.mixed).toEqual([]);
    expect(result.state.approximated).toEqual(['room']);
  });

  it('weighing its answers gives the same as weighing it', () => {
    const model = buildModel(knowledge);
    const state = buildState(model, { ...emptyCase, complaint: 'mark' }, 64);
    const open = infer(scenariosOf(state).scenarios, state.evidence);
    let total = 0;
    const sum = new Float64Array(2);
    for (const index of [0, 1]) {
      const { scenarios, weight } = scenariosOf(state, new Map([['room', index]]));
      const one = infer(scenarios, state.evidence);
      const chance = weight * Math.exp(one.logEvidence);
      total += chance;
      one.posterior.forEach((p, k) => {
        sum[k]! += chance * p;
      });
    }
    expect(Math.exp(open.logEvidence)).toBeCloseTo(total, 12);
    sum.forEach((value, k) => {
      expect(value / total).toBeCloseTo(open.posterior[k]!, 12);
    });
  });
});

describe('a number', () => {
  const knowledge = knowledgeOf({
    symptoms: [place, complaint],
    facts: [number('angle', [20, 45, 70], { unit: 'deg' })],
    causes: [
      cause('too_shallow', 0.05, [link('mark', 0.9)], [limit('angle', 'below', 40, 5, 20, 0.05)]),
      cause('no_air', 0.05, [link('mark', 0.9)]),
    ],
  });

  it('decides between causes by its side of the limit', () => {
    const shallow = beliefs(knowledge, { complaint: 'mark', facts: { angle: 20 } });
    const steep = beliefs(knowledge, { complaint: 'mark', facts: { angle: 65 } });
    expect(shallow.culprit('too_shallow')).toBeGreaterThan(0.6);
    expect(steep.culprit('too_shallow')).toBeLessThan(0.05);
  });

  it('never falls in chance as it gets worse', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 90, noNaN: true }),
        fc.double({ min: 0, max: 90, noNaN: true }),
        (x, y) => {
          const [low, high] = x < y ? [x, y] : [y, x];
          const at = (angle: number) =>
            beliefs(knowledge, { complaint: 'mark', facts: { angle } }).culprit('too_shallow');
          expect(at(low)).toBeGreaterThanOrEqual(at(high) - 1e-9);
        },
      ),
      { numRuns: 50 },
    );
  });
});

describe('fixes that were tried', () => {
  const knowledge = knowledgeOf({
    symptoms: [place, complaint],
    causes: [cause('wet', 0.05, [link('mark', 0.75)]), cause('hot', 0.05, [link('mark', 0.75)])],
    fixes: [fix('dry_it', { wet: 0.9 }, 10)],
  });

  it('without effect speak against what they remove, as strongly as they remove it', () => {
    const before = beliefs(knowledge, { complaint: 'mark' });
    const after = beliefs(knowledge, { complaint: 'mark', tried: { dry_it: 'no_change' } });
    expect(before.culprit('wet')).toBeCloseTo(before.culprit('hot'), 9);
    expect(after.culprit('wet') / after.culprit('hot')).toBeCloseTo(0.1, 1);
  });

  it('with some effect speak for it', () => {
    const after = beliefs(knowledge, { complaint: 'mark', tried: { dry_it: 'better' } });
    expect(after.culprit('wet')).toBeGreaterThan(after.culprit('hot'));
  });
});

describe('signs', () => {
  const knowledge = knowledgeOf({
    symptoms: [place, complaint],
    signs: [sign('pops', [0.02, 0.005])],
    facts: [choice('material', { A: 5, B: 5 }, { kind: 'material' })],
    causes: [
      cause('wet', 0.04, [link('mark', 0.75), link('pops', 0.75, 0.4)]),
      cause('hot', 0.08, [link('mark', 0.75)]),
    ],
  });

  it('grade: more of it, more of its cause', () => {
    const at = (level: string) =>
      beliefs(knowledge, { complaint: 'mark', signs: { pops: level } }).culprit('wet');
    expect(at('none')).toBeLessThan(beliefs(knowledge, { complaint: 'mark' }).culprit('wet'));
    expect(at('some')).toBeGreaterThan(at('none'));
    expect(at('much')).toBeGreaterThan(at('some'));
  });

  it('have links whose strength depends on a fact; while it is unknown, on how usual it is', () => {
    const conditional = {
      ...link('mark', 0.2),
      when: [{ when: { kind: 'is' as const, name: 'material', values: ['A'] }, atLeast: [0.8] }],
    };
    const base = knowledgeOf({
      symptoms: [place, complaint],
      facts: [choice('material', { A: 5, B: 5 }, { kind: 'material' })],
      causes: [cause('x', 0.04, [conditional]), cause('y', 0.04, [link('mark', 0.5)])],
    });
    const ratio = (known: Partial<Case>) => {
      const result = beliefs(base, { complaint: 'mark', ...known });
      return result.culprit('x') / result.culprit('y');
    };
    expect(ratio({ facts: { material: 'A' } })).toBeGreaterThan(1.4);
    expect(ratio({ facts: { material: 'B' } })).toBeLessThan(0.5);
    expect(ratio({})).toBeCloseTo(1, 6);
  });
});
