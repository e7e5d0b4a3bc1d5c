import type { Observation, Scenario } from './network.ts';

/** What an answer would mean: one finding observed, several, or other scenarios with the answer's chance beforehand. */
export type AnswerInput =
  | { readonly kind: 'finding'; readonly finding: number; readonly observation: Observation }
  | { readonly kind: 'findings'; readonly observed: ReadonlyMap<number, Observation> }
  | { readonly kind: 'scenarios'; readonly scenarios: readonly Scenario[]; readonly weight: number };
