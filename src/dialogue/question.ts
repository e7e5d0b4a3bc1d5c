import type { Answer, KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { Model } from '../model/model.ts';

export type QuestionKind = 'fact' | 'sign' | 'symptom';

/** Something that can be asked, ready to be shown. */
export interface Question {
  readonly id: string;
  readonly kind: QuestionKind;
  readonly text: string;
  /** A few words, for a list. */
  readonly short: string;
  /** Choices; empty for a number. */
  readonly answers: readonly Answer[];
  readonly unit?: string;
  readonly range?: readonly [number, number];
  readonly look: string;
  readonly confusedWith?: string;
  readonly topic: string;
  readonly effortSeconds: number;
  readonly cannotTell: number;
  readonly test?: { readonly minutes: number; readonly grams: number };
  readonly onset: boolean;
  readonly first: boolean;
}

/** How long it takes to compare the print with a drawing of a symptom, and how often that stays undecided. */
const symptomEffort = { seconds: 10, cannotTell: 0.05 };

const yesNo: readonly Answer[] = [
  { id: 'yes', text: 'yes' },
  { id: 'no', text: 'no' },
];

/** @returns the question that asks for this fact, sign or symptom; undefined when it cannot be asked */
export function questionFor(knowledge: KnowledgeBase, id: string): Question | undefined {
  const fact = knowledge.facts[id];
  if (fact !== undefined) {
    if (fact.kind === 'computed') return undefined;
    const shared = {
      id,
      kind: 'fact' as const,
      text: fact.ask,
      short: fact.name,
      look: fact.look,
      ...(fact.confusedWith === undefined ? {} : { confusedWith: fact.confusedWith }),
      topic: fact.topic,
      effortSeconds: fact.effortSeconds,
      cannotTell: fact.cannotTell,
      onset: fact.onset,
      first: fact.first,
    };
    if (fact.kind === 'number') return { ...shared, answers: [], unit: fact.unit, range: fact.range };
    return { ...shared, answers: fact.answers };
  }
  const sign = knowledge.signs[id];
  if (sign !== undefined) {
    return {
      id,
      kind: 'sign',
      text: sign.ask,
      short: sign.name,
      // The strongest answer first: it is the one being asked about.
      answers: [...sign.levels].reverse(),
      look: sign.look,
      ...(sign.confusedWith === undefined ? {} : { confusedWith: sign.confusedWith }),
      topic: sign.topic,
      effortSeconds: sign.effortSeconds,
      cannotTell: sign.cannotTell,
      ...(sign.test === undefined ? {} : { test: sign.test }),
      onset: false,
      first: false,
    };
  }
  const symptom = knowledge.symptoms[id];
  if (symptom === undefined) return undefined;
  return {
    id,
    kind: 'symptom',
    text: `Do you also see this: ${lowerFirst(symptom.title)}?`,
    short: lowerFirst(symptom.title),
    answers: yesNo,
    look: symptom.look ?? '',
    topic: 'symptoms',
    effortSeconds: symptomEffort.seconds,
    cannotTell: symptomEffort.cannotTell,
    onset: false,
    first: false,
  };
}

/** Everything that can be asked, in a fixed order. */
export function allQuestions(model: Model): Question[] {
  const { knowledge } = model;
  const ids = [
    ...Object.keys(knowledge.facts).sort(),
    ...model.observables.map((observable) => observable.id),
  ];
  return ids.flatMap((id) => questionFor(knowledge, id) ?? []);
}

export function lowerFirst(text: string): string {
  // A word that is all capitals is a name or a short form and stays.
  return /^[A-Z][a-z ]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}
