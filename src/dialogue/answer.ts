import type { Case } from '../model/case.ts';
import type { Question } from './question.ts';

/** What the person said: an answer or level id, a number in the question's unit, or that they cannot tell. */
export type Reply = { readonly value: string | number } | 'unknown';

/** The case with one more answer; an earlier answer to the same question is replaced. Pure. */
export function withAnswer(known: Case, question: Pick<Question, 'id' | 'kind'>, reply: Reply): Case {
  const cleared = withoutAnswer(known, question.id);
  if (reply === 'unknown') return { ...cleared, unknown: [...cleared.unknown, question.id] };
  const { value } = reply;
  switch (question.kind) {
    case 'fact':
      return { ...cleared, facts: { ...cleared.facts, [question.id]: value } };
    case 'sign':
      return { ...cleared, signs: { ...cleared.signs, [question.id]: String(value) } };
    case 'symptom':
      return { ...cleared, symptoms: { ...cleared.symptoms, [question.id]: value === 'yes' } };
    default:
      return question.kind satisfies never;
  }
}

export function withoutAnswer(known: Case, id: string): Case {
  return {
    ...known,
    facts: without(known.facts, id),
    signs: without(known.signs, id),
    symptoms: without(known.symptoms, id),
    unknown: known.unknown.filter((other) => other !== id),
  };
}

export function isAnswered(known: Case, id: string): boolean {
  return (
    id === known.complaint ||
    id in known.facts ||
    id in known.signs ||
    id in known.symptoms ||
    known.unknown.includes(id)
  );
}

function without<T>(record: Readonly<Record<string, T>>, id: string): Readonly<Record<string, T>> {
  if (!(id in record)) return record;
  const { [id]: _, ...rest } = record;
  return rest;
}
