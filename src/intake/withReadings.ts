import type { Case } from '../model/case.ts';
import type { Reading, Readings } from './readWords.ts';

/** A case with readings that fill only what it does not say itself; `used` are those that did. Pure. */
export function withReadings(known: Case, readings: Readings): { case: Case; used: readonly Reading[] } {
  const open = ({ id }: Reading) =>
    !(id in known.facts || id in known.signs || id in known.tried || known.unknown.includes(id));
  const symptoms = readings.symptoms.filter(({ id }) => !(id in known.symptoms || id === known.complaint));
  const facts = readings.facts.filter(open);
  const signs = readings.signs.filter(open);
  const tried = readings.tried.filter(open);
  const values = <T>(list: readonly Reading<T>[]) =>
    Object.fromEntries(list.map(({ id, value }) => [id, value]));
  return {
    case: {
      ...known,
      symptoms: { ...Object.fromEntries(symptoms.map(({ id }) => [id, true])), ...known.symptoms },
      facts: { ...values(facts), ...known.facts },
      signs: { ...values(signs), ...known.signs },
      tried: { ...values(tried), ...known.tried },
    },
    used: [...symptoms, ...facts, ...signs, ...tried],
  };
}
