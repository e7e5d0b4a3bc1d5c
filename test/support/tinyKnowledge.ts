import type {
  Cause,
  ChoiceFact,
  Expression,
  Factor,
  Fix,
  KnowledgeBase,
  Link,
  NumberFact,
  Sign,
  Symptom,
  Wording,
} from '../../src/knowledge/knowledgeBase.ts';
import { noWording } from '../../src/knowledge/snapshot.ts';

/** Small knowledge for tests of the layers above: invented, and only about how the parts fit together. */
const entry = (id: string) => ({ id, file: `${id}.yaml` });

export const plainNumber = (value: number, unit = 'ratio'): Expression => ({
  text: String(value),
  unit,
  node: { op: 'number', value },
  reads: [],
});

export const factValue = (id: string, unit = 'ratio'): Expression => ({
  text: id,
  unit,
  node: { op: 'fact', id },
  reads: [id],
});

export function symptom(id: string, under?: string, leak = 0.01): Symptom {
  return {
    ...entry(id),
    title: id,
    ...(under === undefined ? {} : { under }),
    order: 1,
    alsoCalled: [],
    tellApart: {},
    leak,
  };
}

export function sign(id: string, leak: readonly number[] = [0.01], extra: Partial<Sign> = {}): Sign {
  const levels = leak.length === 1 ? ['no', 'yes'] : ['none', 'some', 'much'];
  return {
    ...entry(id),
    name: id,
    ask: `${id}?`,
    levels: levels.map((level) => ({ id: level, text: level })),
    topic: 'signs',
    look: 'look',
    effortSeconds: 10,
    cannotTell: 0,
    leak,
    alsoCalled: [],
    ...extra,
  };
}

const asked = {
  ask: 'which?',
  look: 'look',
  topic: 'facts',
  effortSeconds: 10,
  cannotTell: 0,
  onset: false,
  first: false,
  alsoCalled: [],
};

export function choice(
  id: string,
  usual: Readonly<Record<string, number>>,
  extra: Partial<ChoiceFact> = {},
): ChoiceFact {
  return {
    ...entry(id),
    ...asked,
    name: id,
    kind: 'choice',
    answers: Object.keys(usual).map((answer) => ({ id: answer, text: answer })),
    usual: Object.values(usual),
    usualFor: {},
    ...extra,
  };
}

export function number(
  id: string,
  typical: readonly [number, number, number],
  extra: Partial<NumberFact> = {},
): NumberFact {
  return {
    ...entry(id),
    ...asked,
    name: id,
    kind: 'number',
    unit: 'mm',
    range: [0, 1000],
    typical,
    typicalFor: {},
    assume: false,
    ...extra,
  };
}

export function link(signId: string, ...atLeast: number[]): Link {
  return { sign: signId, atLeast, when: [] };
}

export function cause(
  id: string,
  usual: number,
  links: readonly Link[],
  factors: readonly Factor[] = [],
): Cause {
  return {
    ...entry(id),
    theme: 'test',
    name: id,
    why: id,
    usual: { word: 'data', value: usual },
    links,
    factors,
    mistakenFor: {},
    sources: [],
  };
}

export function answers(fact: string, odds: Readonly<Record<string, number>>): Factor {
  return {
    kind: 'answers',
    fact,
    odds: Object.fromEntries(
      Object.entries(odds).map(([answer, value]) => [answer, { word: 'data', value }]),
    ),
  };
}

export function limit(
  fact: string,
  badSide: 'below' | 'above',
  at: number,
  width: number,
  bad: number,
  good: number,
): Factor {
  return {
    kind: 'limit',
    fact,
    badSide,
    limit: plainNumber(at),
    width,
    bad: { word: 'data', value: bad },
    good: { word: 'data', value: good },
  };
}

export function fix(
  id: string,
  removes: Readonly<Record<string, number>>,
  minutes: number,
  extra: Partial<Fix> = {},
): Fix {
  return {
    ...entry(id),
    theme: 'test',
    do: id,
    to: [],
    noNumber: 'a test',
    handsOnMinutes: plainNumber(minutes),
    waitingMinutes: plainNumber(0),
    grams: plainNumber(0),
    reprint: 'none',
    removes: Object.fromEntries(
      Object.entries(removes).map(([id_, value]) => [id_, { word: 'data', value }]),
    ),
    worsens: {},
    sideEffects: [],
    seenWhenItWorked: 'it is gone',
    cautions: [],
    caps: [],
    alsoCalled: [],
    sources: [],
    ...extra,
  };
}

type Entries = {
  readonly [K in keyof Omit<
    KnowledgeBase,
    'words' | 'weights' | 'wording'
  >]?: readonly KnowledgeBase[K][string][];
} & { readonly wording?: Partial<Wording> };

export function knowledgeOf(entries: Entries): KnowledgeBase {
  const byId = <T extends { readonly id: string }>(list: readonly T[] = []) =>
    Object.fromEntries(list.map((item) => [item.id, item]));
  return {
    words: {
      links: {},
      usual: {},
      odds: {},
      chances: [
        { word: 'likely', from: 0.65 },
        { word: 'about even', from: 0.35 },
        { word: 'unlikely', from: 0 },
      ],
    },
    weights: {
      waitingShare: 0.1,
      minutesPerGram: 0.5,
      reprintMinutes: 120,
      reprintGrams: 30,
      pieceMinutes: 20,
      pieceGrams: 3,
      callMinutes: 480,
      bundleMinutes: 0,
      sharpness: 1,
      questions: 8,
      moreQuestions: 12,
    },
    wording: { ...noWording, ...entries.wording },
    symptoms: byId(entries.symptoms),
    signs: byId(entries.signs),
    facts: byId(entries.facts),
    causes: byId(entries.causes),
    fixes: byId(entries.fixes),
    materials: byId(entries.materials),
    cautions: byId(entries.cautions),
    sources: byId(entries.sources),
  };
}
