/**
 * The numbers of one diagnosis. Causes are present or absent, independently; each finding appears unless every present
 * cause, and the leak, fail to bring it about (leaky noisy-OR; with more than two levels, noisy-MAX).
 */
export interface Network {
  /** Chance of each cause before any finding is known; each in (0, 1). */
  readonly prior: Float64Array;
  readonly findings: readonly Finding[];
}

export interface Finding {
  /** 2 for absent or present; m + 1 for graded findings, level 0 meaning absent. */
  readonly levels: number;
  /** Chance that the leak alone brings about at most this level; one entry a level, rising, the last 1. */
  readonly leak: Float64Array;
  /** Causes that can bring it about; no cause twice. */
  readonly parents: Int32Array;
  /** Row for each parent: chance that this cause alone brings about at most each level; rising, the last 1. */
  readonly atMost: Float64Array;
}

/** What is known about one finding: a level that was seen, or a weight for each level (the likelihood of the report). */
export type Observation = number | readonly number[];

export interface Evidence {
  readonly observed: ReadonlyMap<number, Observation>;
  /** The presenting complaint: a finding observed above level 0. Removing the culprit must clear this one. */
  readonly goal?: number;
  /** What attempted fixes left over, for the links of the goal only. */
  readonly tried?: Remainder;
}

/**
 * The share of each cause's power over the goal that attempted fixes have left, each in [0, 1]; a fix that removes
 * cause k with chance r and had no effect leaves 1 - r. `leak` is the same for the leak.
 */
export interface Remainder {
  readonly causes: Float64Array;
  readonly leak: number;
}

/** One joint value of the unknown facts, with the network it makes and its weight before any finding. Weights add up to 1. */
export interface Scenario {
  readonly weight: number;
  readonly network: Network;
}

/** What the evidence says. */
export interface Beliefs {
  /** Natural logarithm of the chance of the evidence; -Infinity when it cannot happen under this network. */
  readonly logEvidence: number;
  /** Chance that each cause is present. */
  readonly posterior: Float64Array;
  /** Chance that each cause alone is responsible for the goal: removing it, and nothing else, clears the goal. */
  readonly responsible: Float64Array;
  /** 1 - sum of `responsible`: several causes together, or something outside the network. */
  readonly other: number;
  /** Chance of each scenario given the evidence, in the order given. */
  readonly scenarios: Float64Array;
  /** True when more findings were seen than the exact programme takes, and the weakest were absorbed one at a time. */
  readonly approximated: boolean;
}
