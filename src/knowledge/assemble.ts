import { readCause } from './cause.ts';
import { checkForm, type Draft } from './draft.ts';
import type { Named, Scope } from './expression.ts';
import { answersOf, readFact } from './fact.ts';
import { readFix } from './fix.ts';
import type { KnowledgeBase, Weights, Wording, Words } from './knowledgeBase.ts';
import {
  readCaution,
  readMaterial,
  readSources,
  readWeights,
  readWords,
  standInWeights,
  standInWords,
} from './otherEntries.ts';
import type { Stack } from './overlay.ts';
import type { Problem } from './problem.ts';
import { type Context, Reading } from './reading.ts';
import type { Kind, Raw } from './schemas.ts';
import { readSign } from './sign.ts';
import { readSymptom } from './symptom.ts';
import { materialUnits } from './units.ts';

/** The entries that could be read, and what is wrong with the others. */
export interface Assembled {
  readonly knowledge: KnowledgeBase;
  readonly problems: readonly Problem[];
}

/** Turns drafts into typed entries. An entry with a problem is left out; all problems are gathered. */
export function assemble(stack: Stack): Assembled {
  const all = [...stack.drafts.values()];
  const problems: Problem[] = [];
  const sound = all.filter((draft) => {
    if (draft.raw === undefined) return false;
    const wrong = checkForm(draft);
    problems.push(...wrong);
    return wrong.length === 0;
  });
  const of = <K extends Kind>(kind: K) =>
    sound.filter((draft) => draft.kind === kind) as (Draft & { raw: Raw<K> })[];
  const words: Words = of('words').map((draft) => readWords(draft.raw))[0] ?? standInWords;
  const weights: Weights = of('weights').map((draft) => readWeights(draft.raw))[0] ?? standInWeights;
  const isSound = new Set(sound);
  const absent = [...all.filter((draft) => !isSound.has(draft)), ...stack.off.values()];
  const phraseWords = of('phrase_words')[0]?.raw ?? {};
  const context = {
    ...contextOf(words, of('fact'), of('sign'), of('symptom'), of('material'), absent),
    phraseWords: Object.keys(phraseWords),
  };
  const read = <K extends Kind, T>(
    kind: K,
    make: (reading: Reading, raw: Raw<K>) => T,
  ): Record<string, T> => {
    const entries: Record<string, T> = {};
    for (const draft of of(kind)) {
      const reading = new Reading(draft, context);
      const entry = make(reading, draft.raw);
      problems.push(...reading.problems);
      if (reading.problems.length === 0) entries[draft.id] = entry;
    }
    return entries;
  };
  const entries = {
    words,
    weights,
    symptoms: read('symptom', readSymptom),
    signs: read('sign', readSign),
    facts: read('fact', readFact),
    causes: read('cause', readCause),
    fixes: read('fix', readFix),
    materials: read('material', readMaterial),
    cautions: read('caution', readCaution),
    sources: Object.assign({}, ...Object.values(read('sources', readSources))),
  };
  const wording: Wording = {
    synonyms: of('synonyms')[0]?.raw ?? {},
    phraseWords,
    peopleSay: {
      ...listed(of('symptom'), entries.symptoms, (raw) => raw['people-say']),
      ...listed(of('cause'), entries.causes, (raw) => raw['people-say']),
      ...listed(of('fix'), entries.fixes, (raw) => raw['people-say']),
    },
    told: listed(of('cause'), entries.causes, ({ told }) => told),
    saidByAnswer: {
      ...listed(of('sign'), entries.signs, ({ said }) => said),
      ...listed(of('fact'), entries.facts, (raw) =>
        raw.kind === 'number' || raw.kind === 'computed' ? undefined : raw.said,
      ),
    },
    said: {
      ...listed(of('fact'), entries.facts, (raw) => (raw.kind === 'number' ? raw.said : undefined)),
      ...listed(of('symptom'), entries.symptoms, ({ said }) => said),
      ...listed(of('fix'), entries.fixes, ({ said }) => said),
    },
  };
  return { knowledge: { ...entries, wording }, problems };
}

/** What of the drafts is there, by id, for the entries that are sound. */
function listed<R, T>(
  drafts: readonly { readonly id: string; readonly raw: R }[],
  entries: Readonly<Record<string, unknown>>,
  pick: (raw: R) => T | undefined,
): Record<string, T> {
  return Object.fromEntries(
    drafts.flatMap(({ id, raw }) => {
      const picked = Object.hasOwn(entries, id) ? pick(raw) : undefined;
      return picked === undefined ? [] : [[id, picked]];
    }),
  );
}

function contextOf(
  words: Words,
  facts: readonly { id: string; raw: Raw<'fact'> }[],
  signs: readonly { id: string; raw: Raw<'sign'> }[],
  symptoms: readonly { id: string }[],
  materials: readonly { id: string; raw: Raw<'material'> }[],
  absent: readonly Draft[],
): Omit<Context, 'phraseWords'> {
  const named = new Map<string, Named>();
  const materialIds = materials.map(({ id }) => id).sort();
  // Materials that are absent stay words that may be used: an entry that mentions one is not wrong.
  const absentMaterials = absent.filter(({ kind }) => kind === 'material').map(({ id }) => id);
  for (const { id, raw } of facts) named.set(id, nameOf(raw, [...materialIds, ...absentMaterials]));
  const seen = new Map(named);
  for (const { id, raw } of signs) seen.set(id, { answers: Object.keys(raw.levels ?? { no: '', yes: '' }) });
  for (const { id } of symptoms) if (!seen.has(id)) seen.set(id, { answers: ['no', 'yes'] });
  const scopeOf = (names: ReadonlyMap<string, Named>): Scope => ({ facts: names, properties: materialUnits });
  const byId = new Map(materials.map((material) => [material.id, material.raw]));
  return {
    words,
    scope: scopeOf(named),
    seenScope: scopeOf(seen),
    materials: materialIds,
    absent: new Set(absent.map(({ id }) => id)),
    absentMaterials: new Set(absentMaterials),
    materialNames: new Map(
      materialIds.map((id) => [id, { text: byId.get(id)!.name, usual: byId.get(id)!.usual }]),
    ),
  };
}

function nameOf(raw: Raw<'fact'>, materials: readonly string[]): Named {
  switch (raw.kind) {
    case 'number':
    case 'computed':
      return { unit: raw.unit };
    case 'material':
      return { answers: materials };
    default:
      return { answers: answersOf(raw).map((answer) => answer.id) };
  }
}
