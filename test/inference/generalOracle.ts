import { readFileSync } from 'node:fs';

/** A discrete Bayesian network of any shape, as written in networks.json. */
export interface GeneralNetwork {
  id: string;
  variables: { name: string; states: string[]; parents: string[]; cpt: { given: string[]; p: number[] }[] }[];
  queries: GeneralQuery[];
}

export interface GeneralQuery {
  evidence: Record<string, string>;
  likelihood?: Record<string, number[]>;
  pEvidence: number;
  posterior: Record<string, Record<string, number>>;
}

export function readNetworks(): GeneralNetwork[] {
  const text = readFileSync(new URL('./networks.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { networks: GeneralNetwork[] }).networks;
}

export function readNetwork(id: string): GeneralNetwork {
  return readNetworks().find((network) => network.id === id)!;
}

/** Chance of evidence by adding up every joint state. */
export function enumerateGeneral(
  network: GeneralNetwork,
  query: Pick<GeneralQuery, 'evidence' | 'likelihood'>,
): { pEvidence: number; posterior: Record<string, Record<string, number>> } {
  const sums: Record<string, Record<string, number>> = {};
  for (const { name, states } of network.variables) {
    sums[name] = Object.fromEntries(states.map((state) => [state, 0]));
  }
  let pEvidence = 0;
  const state: Record<string, string> = {};
  const visit = (index: number, chance: number): void => {
    const variable = network.variables[index];
    if (!variable) {
      pEvidence += chance;
      for (const [name, value] of Object.entries(state)) sums[name]![value]! += chance;
      return;
    }
    const given = variable.parents.map((parent) => state[parent]!);
    const row = variable.cpt.find((entry) => entry.given.every((value, at) => value === given[at]))!;
    variable.states.forEach((value, at) => {
      const wanted = query.evidence[variable.name];
      if (wanted !== undefined && wanted !== value) return;
      state[variable.name] = value;
      visit(index + 1, chance * row.p[at]! * (query.likelihood?.[variable.name]?.[at] ?? 1));
    });
  };
  visit(0, 1);
  for (const of of Object.values(sums)) for (const value of Object.keys(of)) of[value]! /= pEvidence;
  return { pEvidence, posterior: sums };
}
