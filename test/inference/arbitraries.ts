import fc from 'fast-check';
import type {
  Evidence,
  Finding,
  Network,
  Observation,
  Remainder,
  Scenario,
} from '../../src/inference/network.ts';
import { graded } from './build.ts';

/** A random small diagnosis: one or two scenarios over the same causes and findings, and evidence with or without a goal. */
export interface Diagnosis {
  scenarios: Scenario[];
  evidence: Evidence;
  removal: Float64Array;
}

const chance = fc.double({ min: 0.02, max: 0.98, noNaN: true });
const share = fc.oneof(fc.constant(0), fc.constant(1), fc.double({ min: 0, max: 1, noNaN: true }));

function cumulative(levels: number): fc.Arbitrary<number[]> {
  return fc
    .array(chance, { minLength: levels - 1, maxLength: levels - 1 })
    .map((values) => [...values.sort((a, b) => a - b), 1]);
}

function findingOf(levels: number, causes: number): fc.Arbitrary<Finding> {
  const row = fc.option(cumulative(levels), { nil: undefined, freq: 2 });
  return fc
    .tuple(cumulative(levels), fc.array(row, { minLength: causes, maxLength: causes }))
    .map(([leak, rows]) => graded(leak, rows));
}

function networkOf(causes: number, levels: readonly number[]): fc.Arbitrary<Network> {
  return fc
    .tuple(
      fc.array(chance, { minLength: causes, maxLength: causes }),
      fc.tuple(...levels.map((count) => findingOf(count, causes))),
    )
    .map(([prior, findings]) => ({ prior: Float64Array.from(prior), findings }));
}

function observationOf(levels: number): fc.Arbitrary<Observation | undefined> {
  return fc.oneof(
    fc.constant(undefined),
    fc.integer({ min: 0, max: levels - 1 }),
    fc.array(fc.double({ min: 0.05, max: 1, noNaN: true }), { minLength: levels, maxLength: levels }),
  );
}

function triedOf(causes: number): fc.Arbitrary<Remainder | undefined> {
  return fc.option(
    fc.record({
      causes: fc
        .array(share, { minLength: causes, maxLength: causes })
        .map((values) => Float64Array.from(values)),
      leak: fc.double({ min: 0.1, max: 1, noNaN: true }),
    }),
    { nil: undefined },
  );
}

export const diagnosis: fc.Arbitrary<Diagnosis> = fc
  .record({
    causes: fc.integer({ min: 1, max: 5 }),
    levels: fc.array(fc.constantFrom(2, 2, 3), { minLength: 1, maxLength: 5 }),
  })
  .chain(({ causes, levels }) =>
    fc
      .record({
        networks: fc.array(networkOf(causes, levels), { minLength: 1, maxLength: 2 }),
        weight: chance,
        observations: fc.tuple(...levels.map(observationOf)),
        goalLevel: fc.option(fc.integer({ min: 1, max: levels[0]! - 1 }), { freq: 4 }),
        softGoal: fc.boolean(),
        tried: triedOf(causes),
        removal: fc.array(share, { minLength: causes, maxLength: causes }),
      })
      .map(({ networks, weight, observations, goalLevel, softGoal, tried, removal }): Diagnosis => {
        const observed = new Map<number, Observation>();
        observations.forEach((observation, index) => {
          if (observation !== undefined) observed.set(index, observation);
        });
        // A soft report of the goal is kept now and then where it says more than "unknown".
        const soft = observed.get(0);
        const keepSoft = softGoal && Array.isArray(soft) && new Set(soft).size > 1;
        if (goalLevel !== null && !keepSoft) observed.set(0, goalLevel);
        return {
          scenarios:
            networks.length === 1
              ? [{ weight: 1, network: networks[0]! }]
              : networks.map((network, index) => ({ weight: index === 0 ? weight : 1 - weight, network })),
          evidence: {
            observed,
            ...(goalLevel !== null && { goal: 0 }),
            ...(goalLevel !== null && tried && { tried }),
          },
          removal: Float64Array.from(removal),
        };
      }),
  );
