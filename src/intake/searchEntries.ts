import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { lowestSymptoms } from '../model/lowestSymptoms.ts';

export const searchKinds = ['symptom', 'cause', 'sign', 'fix'] as const;
export type SearchKind = (typeof searchKinds)[number];

/** What of an entry is searched. */
export interface SearchEntry {
  readonly kind: SearchKind;
  readonly id: string;
  readonly title: string;
  readonly alsoCalled: readonly string[];
  /** How to look, why it comes about, or what is asked. */
  readonly sentence: string;
  readonly local?: string;
}

/** All entries that free words can find. Of the symptoms only the lowest: a place is no complaint. */
export function searchEntries(knowledge: KnowledgeBase): SearchEntry[] {
  const mark = (local: string | undefined) => (local === undefined ? {} : { local });
  return [
    ...lowestSymptoms(knowledge).map((id) => {
      const { title, alsoCalled, look = '', local } = knowledge.symptoms[id]!;
      return { kind: 'symptom' as const, id, title, alsoCalled, sentence: look, ...mark(local) };
    }),
    ...Object.values(knowledge.causes).map(({ id, name, why, local }) => {
      // Who thinks of the remedy means what it removes.
      const alsoCalled = Object.values(knowledge.fixes)
        .filter((fix) => Object.hasOwn(fix.removes, id))
        .flatMap((fix) => fix.alsoCalled);
      return { kind: 'cause' as const, id, title: name, alsoCalled, sentence: why, ...mark(local) };
    }),
    ...Object.values(knowledge.signs).map(({ id, name, ask, look, alsoCalled, local }) => {
      const sentence = `${ask} ${look}`;
      return { kind: 'sign' as const, id, title: name, alsoCalled, sentence, ...mark(local) };
    }),
    ...Object.values(knowledge.fixes).map(({ id, do: title, alsoCalled, seenWhenItWorked, local }) => {
      return { kind: 'fix' as const, id, title, alsoCalled, sentence: seenWhenItWorked, ...mark(local) };
    }),
  ];
}
