import type { Beliefs, Scenario } from '../inference/network.ts';
import { infer } from '../inference/posterior.ts';
import type { Case } from '../model/case.ts';
import type { Model } from '../model/model.ts';
import { buildState, type State, scenariosOf } from '../model/state.ts';
import { type Option, optionsOf } from './options.ts';

/** A case thought through: what may be, what follows from the evidence, and what can be done. */
export interface Thought {
  readonly state: State;
  readonly scenarios: readonly Scenario[];
  readonly beliefs: Beliefs;
  readonly options: readonly Option[];
}

/** Joint values of unknown facts that are weighed: few while asking, for every question multiplies them. */
export const whileAsking = 4;
export const forResult = 64;

export function think(model: Model, known: Case, jointValues: number): Thought {
  const state = buildState(model, known, jointValues);
  const { scenarios } = scenariosOf(state);
  const beliefs = infer(scenarios, state.evidence);
  return { state, scenarios, beliefs, options: optionsOf(state) };
}
