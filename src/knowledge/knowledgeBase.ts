/**
 * What a practitioner knows, checked and joined: the result of loading `knowledge/` and any local folders over it.
 * Plain data throughout, so that it can be kept as a snapshot and read back without checking it again.
 */
export interface KnowledgeBase {
  readonly words: Words;
  readonly weights: Weights;
  readonly symptoms: Readonly<Record<string, Symptom>>;
  readonly signs: Readonly<Record<string, Sign>>;
  readonly facts: Readonly<Record<string, Fact>>;
  readonly causes: Readonly<Record<string, Cause>>;
  readonly fixes: Readonly<Record<string, Fix>>;
  readonly materials: Readonly<Record<string, Material>>;
  readonly cautions: Readonly<Record<string, Caution>>;
  readonly sources: Readonly<Record<string, Source>>;
  readonly wording: Wording;
}

type Phrases = readonly string[];

/** How people say things, by id of the entry: only search and intake need it, so that a snapshot reads it when it is asked for. */
export interface Wording {
  /** Groups of everyday words that mean the same when searching, by the name of the group. */
  readonly synonyms: Readonly<Record<string, Phrases>>;
  /** Groups of words that phrases name, as `~feeder`. */
  readonly phraseWords: Readonly<Record<string, Phrases>>;
  /** Sentences in which people speak of a symptom or a cause, or say that they made a change. */
  readonly peopleSay: Readonly<Record<string, Phrases>>;
  /** Reports of people whose print failed from a cause they did not know, by cause and by the symptom complained of. */
  readonly told: Readonly<Record<string, Readonly<Record<string, Phrases>>>>;
  /** Phrases by which people say a sign or a choice, by answer. */
  readonly saidByAnswer: Readonly<Record<string, Readonly<Record<string, Phrases>>>>;
  /** Phrases by which people name a number, describe a symptom, or say that they made a change. */
  readonly said: Readonly<Record<string, Phrases>>;
}

export interface Entry {
  readonly id: string;
  /** Path of the file it came from, relative to the knowledge folder it stands in. */
  readonly file: string;
  /** Set when a local folder added or changed it: the folder's name as the user gave it. */
  readonly local?: string;
}

/** A word of one of the scales and what it stands for. */
export interface Worded {
  readonly word: string;
  readonly value: number;
}

export interface Words {
  /** How often a cause brings about a sign; also used for how often people cannot tell, and how surely a fix removes a cause. */
  readonly links: Readonly<Record<string, number>>;
  /** How usual a cause is: its share of failed prints. */
  readonly usual: Readonly<Record<string, number>>;
  /** What an answer does to the odds of a cause, before it is scaled so that the average print changes nothing. */
  readonly odds: Readonly<Record<string, number>>;
  /** Words for a chance on the screen, highest first: the word holds from this chance upward. */
  readonly chances: readonly { readonly word: string; readonly from: number }[];
}

/** What time, filament and giving up are worth, in minutes; shown to the person and theirs to change. */
export interface Weights {
  /** Share of waiting that counts as time spent. */
  readonly waitingShare: number;
  readonly minutesPerGram: number;
  /** A print of the whole part, where the person has not said. */
  readonly reprintMinutes: number;
  readonly reprintGrams: number;
  /** A small test piece. */
  readonly pieceMinutes: number;
  readonly pieceGrams: number;
  /** "Stop and redesign, or ask someone": the end of every plan. */
  readonly callMinutes: number;
  /** Each further change in one test print: the print then tells less. */
  readonly bundleMinutes: number;
  /** Power that chances are raised to before they are shown. */
  readonly sharpness: number;
  readonly questions: number;
  readonly moreQuestions: number;
}

/** A place on the print (it has others under it) or what exactly is seen there (it has none). */
export interface Symptom extends Entry {
  readonly title: string;
  /** The symptom above it in the tree; none for the places at the top. */
  readonly under?: string;
  readonly order: number;
  readonly look?: string;
  /** Plain characters, at most 9 lines of 60. */
  readonly drawing?: string;
  readonly alsoCalled: readonly string[];
  readonly tellApart: Readonly<Record<string, { readonly by: string; readonly how: string }>>;
  /** Chance that it shows although no known cause is present. */
  readonly leak: number;
  /** A caution to show at once, before any question. */
  readonly stopNow?: string;
}

/** Something a cause brings about and that can be looked for. */
export interface Sign extends Entry {
  /** A short label, as in "pops at the nozzle: often". */
  readonly name: string;
  readonly ask: string;
  /** The first stands for "absent". */
  readonly levels: readonly Answer[];
  readonly topic: string;
  readonly look: string;
  readonly confusedWith?: string;
  readonly effortSeconds: number;
  readonly cannotTell: number;
  /** Chance that each level or a higher one shows without any known cause; one entry for each level from the second on. */
  readonly leak: readonly number[];
  /** A small print that has to be made to see it. */
  readonly test?: { readonly minutes: number; readonly grams: number };
  readonly askWhen?: Condition;
  readonly alsoCalled: readonly string[];
}

export interface Answer {
  readonly id: string;
  readonly text: string;
}

/** Something about this print that causes do not change. */
export type Fact = ChoiceFact | NumberFact | ComputedFact;

interface FactCommon extends Entry {
  /** A short label, as in "filament: nylon". */
  readonly name: string;
  readonly topic: string;
}

interface Asked {
  readonly ask: string;
  readonly look: string;
  readonly confusedWith?: string;
  readonly effortSeconds: number;
  readonly cannotTell: number;
  /** When and how it began, what was changed, what it follows: asked early. */
  readonly onset: boolean;
  /** Asked before anything else. */
  readonly first: boolean;
  readonly askWhen?: Condition;
  readonly alsoCalled: readonly string[];
}

/** One of several answers; yes/no and the material are choices too. */
export interface ChoiceFact extends FactCommon, Asked {
  readonly kind: 'choice' | 'yes_no' | 'material';
  readonly answers: readonly Answer[];
  /** How many of ten failed prints have each answer, in the order of `answers`; scaled to add up to 1. */
  readonly usual: readonly number[];
  /** The same for prints in one material. */
  readonly usualFor: Readonly<Record<string, readonly number[]>>;
}

export interface NumberFact extends FactCommon, Asked {
  readonly kind: 'number';
  readonly unit: string;
  /** Plausible values; others are refused with this range. */
  readonly range: readonly [number, number];
  /** One failed print in ten lies below the first, half below the second, one in ten above the third. */
  readonly typical: readonly [number, number, number];
  readonly typicalFor: Readonly<Record<string, readonly [number, number, number]>>;
  /** While unknown, take the middle and count the spread as uncertainty, instead of weighing the alternatives. */
  readonly assume: boolean;
  /** Material property whose range advice must not leave, such as `nozzle`. */
  readonly withinMaterial?: string;
  /** A number of a description, with its unit and between these, is this one even where nothing names it. */
  readonly saidAlone?: readonly [number, number];
}

/** Worked out from other facts; never asked. */
export interface ComputedFact extends FactCommon {
  readonly kind: 'computed';
  readonly unit: string;
  readonly value: Expression;
  /** Good for ranking only: its number is never shown. */
  readonly rankOnly: boolean;
}

/** What is wrong: in the filament, the machine, the settings, the part's shape or the room. */
export interface Cause extends Entry {
  readonly theme: string;
  readonly name: string;
  readonly why: string;
  readonly usual: Worded;
  readonly links: readonly Link[];
  readonly factors: readonly Factor[];
  readonly mistakenFor: Readonly<Record<string, string>>;
  readonly sources: readonly string[];
}

/** How often a cause on its own brings about a sign or symptom. */
export interface Link {
  readonly sign: string;
  /** Chance of each level or a higher one; one entry for each level from the second on, falling. */
  readonly atLeast: readonly number[];
  /** The first of these whose condition holds is used instead. */
  readonly when: readonly { readonly when: Condition; readonly atLeast: readonly number[] }[];
  readonly because?: string;
}

/** What a fact does to the odds of a cause. */
export type Factor =
  | {
      readonly kind: 'answers';
      readonly fact: string;
      readonly odds: Readonly<Record<string, Worded>>;
      readonly because?: string;
    }
  | {
      readonly kind: 'limit';
      readonly fact: string;
      /** On which side of the limit it is bad. */
      readonly badSide: 'below' | 'above';
      readonly limit: Expression;
      /** How sharp the limit is, in the fact's unit: one standard deviation. */
      readonly width: number;
      readonly bad: Worded;
      readonly good: Worded;
      readonly because?: string;
    }
  | { readonly kind: 'when'; readonly when: Condition; readonly odds: Worded; readonly because?: string };

/** A concrete change that removes causes. */
export interface Fix extends Entry {
  readonly theme: string;
  readonly do: string;
  /** What is changed: the id of a fact, or trade words. */
  readonly set?: string;
  readonly from?: Expression;
  /** One value, or a lower and an upper one. */
  readonly to: readonly Expression[];
  readonly unit?: string;
  /** Why this number: the text cut at its `{expression}` places; not shown when one of them is unknown. */
  readonly whyNumber?: readonly (string | Expression)[];
  /** Says why there is no number, where there is none. */
  readonly noNumber?: string;
  readonly handsOnMinutes: Expression;
  readonly waitingMinutes: Expression;
  readonly grams: Expression;
  readonly reprint: 'whole' | 'piece' | 'none';
  readonly removes: Readonly<Record<string, Worded>>;
  /** Signs, symptoms and causes that it makes likelier, with the sentence that says so. */
  readonly worsens: Readonly<Record<string, string>>;
  readonly sideEffects: readonly string[];
  readonly seenWhenItWorked: string;
  readonly cautions: readonly string[];
  /** Offered only when this is not known to be false. */
  readonly when?: Condition;
  readonly caps: readonly Cap[];
  readonly alsoCalled: readonly string[];
  readonly sources: readonly string[];
}

/** A bound on a fix's number, beside the material's own range. */
export interface Cap {
  /** Holds unless this is known to be false: what is unknown is treated as the careful case. */
  readonly when?: Condition;
  readonly atMost?: Expression;
  readonly atLeast?: Expression;
  readonly because: string;
}

export interface Material extends Entry {
  readonly name: string;
  readonly family: string;
  readonly alsoCalled: readonly string[];
  /** Of ten failed prints, how many are in it; scaled to add up to 1. */
  readonly usual: number;
  /** Ranges by name, such as `nozzle` or `glass_transition`; units by `materialUnits`. */
  readonly properties: Readonly<Record<string, Range>>;
  readonly chamber?: string;
  readonly fumes?: string;
  readonly sources: readonly string[];
}

export interface Range {
  readonly low: number;
  readonly high: number;
  readonly mid: number;
  readonly known: 'retrieved' | 'from memory' | 'common practice';
}

export interface Caution extends Entry {
  readonly text: string;
  /** Shown whenever this holds, whatever the fix. */
  readonly when?: Condition;
  /** Stops everything: shown before any question. */
  /** Shown for prints of more than four hours. */
  readonly longPrints: boolean;
  readonly stopNow: boolean;
  /** Words in a person's own description that call for it. */
  readonly words: readonly string[];
  readonly sources: readonly string[];
}

export interface Source extends Entry {
  readonly what: string;
  readonly known: 'retrieved' | 'from memory' | 'common practice';
}

/** True, false, or unknown while a fact is missing. */
export type Condition =
  | { readonly kind: 'all' | 'any'; readonly of: readonly Condition[] }
  | { readonly kind: 'not'; readonly of: Condition }
  /** A choice fact has one of these answers, a sign one of these levels, a symptom is seen (`yes`) or not (`no`). */
  | { readonly kind: 'is'; readonly name: string; readonly values: readonly string[] }
  | {
      readonly kind: 'compare';
      readonly name: string;
      readonly below?: Expression;
      readonly above?: Expression;
    };

/** A checked value with a unit; `text` as the author wrote it. Values inside are in base units: see `units.ts`. */
export interface Expression {
  readonly text: string;
  readonly unit: string;
  readonly node: Node;
  /** Facts it reads, directly; `material` when it reads a property of the material. */
  readonly reads: readonly string[];
}

export type Node =
  | { readonly op: 'number'; readonly value: number }
  | { readonly op: 'fact'; readonly id: string }
  | { readonly op: 'material'; readonly property: string; readonly end: 'low' | 'high' | 'mid' }
  | { readonly op: 'call'; readonly name: string; readonly args: readonly Node[] }
  | {
      readonly op: '+' | '-' | '*' | '/' | '<' | '<=' | '>' | '>=' | 'and' | 'or';
      readonly left: Node;
      readonly right: Node;
    }
  | { readonly op: 'negate' | 'not'; readonly of: Node }
  | { readonly op: 'is'; readonly id: string; readonly values: readonly string[] }
  | { readonly op: 'if'; readonly test: Node; readonly then: Node; readonly otherwise: Node };
