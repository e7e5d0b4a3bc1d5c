/** Something that can be done about the causes. Costs share one unit, whichever the caller likes. */
export interface Action {
  readonly removes: readonly Removal[];
  /** Everything it costs when done alone, its own test included; above 0. */
  readonly cost: number;
  /** The part of `cost` that is the test, paid once when several actions share a test; at most `cost`. */
  readonly testCost: number;
  /** What it acts on; two actions on the same thing are never done before one shared test. */
  readonly subject?: string;
}

export interface Removal {
  readonly cause: number;
  /** Chance that the action really removes the cause, when it is present. */
  readonly chance: number;
}
