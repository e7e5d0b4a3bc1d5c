import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { lowestSymptoms } from '../model/lowestSymptoms.ts';

export const listKinds = ['symptoms', 'signs', 'facts', 'causes', 'fixes'] as const;
export type ListKind = (typeof listKinds)[number];

/** One name of the knowledge with all that a script needs to use it. */
export interface ListItem {
  readonly id: string;
  readonly text: string;
  /** For symptoms: the place it stands under, and whether it can be a complaint. */
  readonly under?: string | null;
  readonly complaint?: boolean;
  readonly kind?: string;
  readonly ask?: string;
  readonly answers?: readonly { readonly id: string; readonly text: string }[];
  readonly unit?: string;
  readonly range?: readonly [number, number];
  readonly removes?: readonly string[];
  readonly local?: string;
}

/** Every entry of a kind, by id. */
export function listItems(knowledge: KnowledgeBase, kind: ListKind): ListItem[] {
  const lowest = new Set(lowestSymptoms(knowledge));
  const byId = <T extends { id: string }>(entries: Readonly<Record<string, T>>) =>
    Object.values(entries).sort((a, b) => (a.id < b.id ? -1 : 1));
  const mark = (entry: { local?: string }) => (entry.local === undefined ? {} : { local: entry.local });
  switch (kind) {
    case 'symptoms':
      return byId(knowledge.symptoms).map((symptom) => ({
        id: symptom.id,
        text: symptom.title,
        under: symptom.under ?? null,
        complaint: lowest.has(symptom.id),
        ...mark(symptom),
      }));
    case 'signs':
      return byId(knowledge.signs).map((sign) => ({
        id: sign.id,
        text: sign.name,
        ask: sign.ask,
        answers: sign.levels,
        ...mark(sign),
      }));
    case 'facts':
      return byId(knowledge.facts).map((fact) => ({
        id: fact.id,
        text: fact.name,
        kind: fact.kind,
        ...('ask' in fact ? { ask: fact.ask } : {}),
        ...('answers' in fact ? { answers: fact.answers } : {}),
        ...('unit' in fact ? { unit: fact.unit } : {}),
        ...('range' in fact ? { range: fact.range } : {}),
        ...mark(fact),
      }));
    case 'causes':
      return byId(knowledge.causes).map((cause) => ({ id: cause.id, text: cause.name, ...mark(cause) }));
    case 'fixes':
      return byId(knowledge.fixes).map((fix) => ({
        id: fix.id,
        text: fix.do,
        removes: Object.keys(fix.removes),
        ...mark(fix),
      }));
    default:
      return kind satisfies never;
  }
}
