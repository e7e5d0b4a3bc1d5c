/** What became of a fix that was tried. */
export type Outcome = 'no_change' | 'better' | 'worse';

/**
 * One bad print under diagnosis: what is known so far. Names are ids of the knowledge; a name that is missing was not
 * asked, one in `unknown` was asked and the person could not tell.
 */
export interface Case {
  /** The person's own description. */
  readonly words?: string;
  /** The symptom that has to go away. */
  readonly complaint?: string;
  /** Other symptoms: seen or not. */
  readonly symptoms: Readonly<Record<string, boolean>>;
  /** Answer ids, or numbers in the fact's unit. */
  readonly facts: Readonly<Record<string, string | number>>;
  /** Level ids. */
  readonly signs: Readonly<Record<string, string>>;
  /** By fix id. */
  readonly tried: Readonly<Record<string, Outcome>>;
  /** Asked without an answer, in the order asked. */
  readonly unknown: readonly string[];
  /** What one print of this part costs, where the person has said. */
  readonly reprint?: { readonly minutes?: number; readonly grams?: number };
}

export const emptyCase: Case = { symptoms: {}, facts: {}, signs: {}, tried: {}, unknown: [] };
