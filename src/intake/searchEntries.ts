import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { lowestSymptoms } from '../model/lowestSymptoms.ts';

export const searchKinds = ['symptom', 'cause', 'sign', 'fix'] as const;
export type SearchKind = (typeof searchKinds)[number];

/** What of an entry is searched. */
export interface SearchEntry {
  readonly kind: SearchKind;
  readonly id: string;
  readonly title: string;
  /** Other names, and the sentences in which people complain of it. */
  readonly alsoCalled: readonly string[];
  /** How to look, why it comes about, or what is asked. */
  readonly sentence: string;
  readonly local?: string;
}

/** All entries that free words can find. Of the symptoms only the lowest: a place is no complaint. */
export function searchEntries(knowledge: KnowledgeBase): SearchEntry[] {
  const { peopleSay } = knowledge.wording;
  const mark = (local: string | undefined) => (local === undefined ? {} : { local });
  return [
    ...lowestSymptoms(knowledge).map((id) => {
      const { title, look = '', local, ...symptom } = knowledge.symptoms[id]!;
      const alsoCalled = [...symptom.alsoCalled, ...(peopleSay[id] ?? [])];
      return { kind: 'symptom' as const, id, title, alsoCalled, sentence: look, ...mark(local) };
    }),
    ...Object.values(knowledge.causes).map(({ id, name, why, local }) => {
      // Who thinks of the remedy means what it removes.
      const remedies = Object.values(knowledge.fixes).filter((fix) => Object.hasOwn(fix.removes, id));
      const alsoCalled = [...remedies.flatMap((fix) => fix.alsoCalled), ...(peopleSay[id] ?? [])];
      return { kind: 'cause' as const, id, title: name, alsoCalled, sentence: why, ...mark(local) };
    }),
    ...Object.values(knowledge.signs).map(({ id, name, ask, look, alsoCalled, local }) => {
      const sentence = `${ask} ${look}`;
      return { kind: 'sign' as const, id, title: name, alsoCalled, sentence, ...mark(local) };
    }),
    ...Object.values(knowledge.fixes).map(({ id, do: title, seenWhenItWorked, local, ...fix }) => {
      const alsoCalled = [...fix.alsoCalled, ...(peopleSay[id] ?? [])];
      return { kind: 'fix' as const, id, title, alsoCalled, sentence: seenWhenItWorked, ...mark(local) };
    }),
  ];
}
