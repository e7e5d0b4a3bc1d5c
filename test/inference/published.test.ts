import { describe, expect, it } from 'vitest';
import type { Evidence, Observation, Scenario } from '../../src/inference/network.ts';
import { infer } from '../../src/inference/posterior.ts';
import { finding, graded, network } from './build.ts';
import { expectClose } from './expectClose.ts';
import { enumerateGeneral, type GeneralQuery, readNetwork, readNetworks } from './generalOracle.ts';

// Sources of the networks (Pearl 1988; Russell and Norvig; Lauritzen and Spiegelhalter 1988; Koller and Friedman) are
// named in networks.json; its figures come from full enumeration in rational arithmetic.

describe('full enumeration reproduces every figure of the file', () => {
  it.each(readNetworks().map((general) => [general.id, general] as const))('%s', (_, general) => {
    expect(general.queries.length).toBeGreaterThan(0);
    for (const query of general.queries) {
      const { pEvidence, posterior } = enumerateGeneral(general, query);
      expectClose(pEvidence, query.pEvidence, 1e-12);
      for (const [name, states] of Object.entries(query.posterior)) {
        for (const [state, chance] of Object.entries(states)) {
          expectClose(posterior[name]![state]!, chance, 1e-12);
        }
      }
    }
  });
});

/**
 * A published network in two layers. A cause whose state is known gets a finding that shows it (link 1, no leak); roots
 * above the causes are scenarios. Each state of a variable is a scenario, a cause being there, or the level of a finding.
 */
interface TwoLayer {
  scenarios: Scenario[];
  contexts: Record<string, { states: string[]; of: (scenario: number) => string }>;
  causes: Record<string, number>;
  findings: Record<string, { index: number; levels: string[] }>;
  /** False for queries that need what two layers cannot say. */
  fits?: (query: GeneralQuery) => boolean;
}

/** Findings 0.. show the causes themselves; the given ones follow. */
function withShown(prior: readonly number[], findings: Parameters<typeof network>[1]) {
  const shown = prior.map((_, cause) =>
    finding(
      0,
      prior.map((_, other) => Number(other === cause)),
    ),
  );
  return network(prior, [...shown, ...findings]);
}

const shownAt = (names: readonly string[], levels: string[]) =>
  Object.fromEntries(names.map((name, index) => [name, { index, levels }]));

const fever: TwoLayer = {
  scenarios: [{ weight: 1, network: withShown([0.1, 0.05, 0.01], [finding(0, [0.4, 0.8, 0.9])]) }],
  contexts: {},
  causes: { Cold: 0, Flu: 1, Malaria: 2 },
  findings: {
    ...shownAt(['Cold', 'Flu', 'Malaria'], ['false', 'true']),
    Fever: { index: 3, levels: ['false', 'true'] },
  },
};

const noisymax: TwoLayer = {
  scenarios: [
    {
      weight: 1,
      network: withShown(
        [0.2, 0.1],
        [
          graded(
            [0.9, 0.98, 1],
            [
              [0.2, 0.6, 1],
              [0.5, 0.7, 1],
            ],
          ),
        ],
      ),
    },
  ],
  contexts: {},
  causes: { C1: 0, C2: 1 },
  findings: {
    ...shownAt(['C1', 'C2'], ['no', 'yes']),
    Level: { index: 2, levels: ['none', 'slight', 'severe'] },
  },
};

const context: TwoLayer = {
  scenarios: (
    [
      [0.5, 0.05, 0.3],
      [0.3, 0.2, 0.1],
      [0.2, 0.6, 0.05],
    ] as const
  ).map(([weight, ...prior]) => ({ weight, network: withShown(prior, [finding(0.02, [0.8, 0.7])]) })),
  contexts: { Context: { states: ['a', 'b', 'c'], of: (scenario) => 'abc'[scenario]! } },
  causes: { Cause1: 0, Cause2: 1 },
  findings: {
    ...shownAt(['Cause1', 'Cause2'], ['no', 'yes']),
    Finding: { index: 2, levels: ['no', 'yes'] },
  },
};

const sprinkler: TwoLayer = {
  scenarios: [
    [0.1, 0.8],
    [0.5, 0.2],
  ].map((prior) => ({ weight: 0.5, network: withShown(prior, [finding(0, [0.9, 0.9])]) })),
  contexts: { Cloudy: { states: ['true', 'false'], of: (scenario) => String(scenario === 0) } },
  causes: { Sprinkler: 0, Rain: 1 },
  findings: {
    ...shownAt(['Sprinkler', 'Rain'], ['false', 'true']),
    WetGrass: { index: 2, levels: ['false', 'true'] },
  },
};

/** The upper part: two roots, three causes, and the OR of two of them. */
const asia: TwoLayer = {
  scenarios: [0, 1, 2, 3].map((index) => {
    const visit = index < 2;
    const smoke = index % 2 === 0;
    return {
      weight: (visit ? 0.01 : 0.99) * 0.5,
      network: withShown(
        [visit ? 0.05 : 0.01, smoke ? 0.1 : 0.01, smoke ? 0.6 : 0.3],
        [finding(0, [1, 1, 0])],
      ),
    };
  }),
  contexts: {
    asia: { states: ['yes', 'no'], of: (scenario) => (scenario < 2 ? 'yes' : 'no') },
    smoke: { states: ['yes', 'no'], of: (scenario) => (scenario % 2 === 0 ? 'yes' : 'no') },
  },
  causes: { tub: 0, lung: 1, bronc: 2 },
  findings: {
    ...shownAt(['tub', 'lung', 'bronc'], ['no', 'yes']),
    either: { index: 3, levels: ['no', 'yes'] },
  },
  fits: ({ evidence, likelihood }) => !likelihood && !('xray' in evidence) && !('dysp' in evidence),
};

function evidenceOf(
  model: TwoLayer,
  query: Pick<GeneralQuery, 'evidence'>,
): { evidence: Evidence; scenarios: Scenario[] } {
  const observed = new Map<number, Observation>();
  let { scenarios } = model;
  for (const [name, state] of Object.entries(query.evidence)) {
    const root = model.contexts[name];
    const leaf = model.findings[name];
    if (root) {
      scenarios = scenarios.map((scenario) => {
        const at = model.scenarios.findIndex(({ network: value }) => value === scenario.network);
        return { ...scenario, weight: root.of(at) === state ? scenario.weight : 0 };
      });
    } else observed.set(leaf!.index, leaf!.levels.indexOf(state));
  }
  return { evidence: { observed }, scenarios };
}

function chanceOf(model: TwoLayer, query: GeneralQuery, name: string, state: string): number {
  const { evidence, scenarios } = evidenceOf(model, query);
  const now = infer(scenarios, evidence);
  const root = model.contexts[name];
  if (root) return now.scenarios.reduce((sum, chance, at) => sum + (root.of(at) === state ? chance : 0), 0);
  const cause = model.causes[name];
  const leaf = model.findings[name]!;
  const level = leaf.levels.indexOf(state);
  if (cause !== undefined) return level === 1 ? now.posterior[cause]! : 1 - now.posterior[cause]!;
  const further = infer(scenarios, { observed: new Map([...evidence.observed, [leaf.index, level]]) });
  return Math.exp(further.logEvidence - now.logEvidence);
}

describe('the engine on published networks that two layers can hold', () => {
  it.each(Object.entries({ fever, noisymax, context, sprinkler, asia }))('%s', (id, model) => {
    const queries = readNetwork(id).queries.filter(model.fits ?? (() => true));
    expect(queries.length).toBeGreaterThan(3);
    for (const query of queries) {
      const { evidence, scenarios } = evidenceOf(model, query);
      expectClose(Math.exp(infer(scenarios, evidence).logEvidence), query.pEvidence, 1e-12);
      for (const [name, states] of Object.entries(query.posterior)) {
        if (!model.contexts[name] && model.causes[name] === undefined && !model.findings[name]) continue;
        for (const [state, chance] of Object.entries(states)) {
          expectClose(chanceOf(model, query, name, state), chance, 1e-12);
        }
      }
    }
  });

  it('unknown context: the mixture, not the averaged priors', () => {
    const evidence: Evidence = { observed: new Map([[2, 1]]) };
    expectClose(infer(context.scenarios, evidence).posterior[0]!, 0.557651791993, 1e-12);
    const averaged = network([0.205, 0.19], [finding(0.02, [0.8, 0.7])]);
    const beliefs = infer([{ weight: 1, network: averaged }], { observed: new Map([[0, 1]]) });
    expectClose(beliefs.posterior[0]!, 0.587411797066, 1e-12);
  });

  it('rows of the fever table (Russell and Norvig, printed)', () => {
    const printed = [0, 0.9, 0.8, 0.98, 0.4, 0.94, 0.88, 0.988];
    printed.forEach((chance, row) => {
      const present = [row >> 2, (row >> 1) & 1, row & 1];
      const certain = network(present, [finding(0, [0.4, 0.8, 0.9])]);
      const { logEvidence } = infer([{ weight: 1, network: certain }], { observed: new Map([[0, 1]]) });
      expectClose(Math.exp(logEvidence), chance, 1e-12);
    });
  });
});
