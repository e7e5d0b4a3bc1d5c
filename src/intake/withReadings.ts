import type { Case } from '../model/case.ts';
import type { Reading, Readings } from './readWords.ts';

/**
 * A case with readings that fill only what it does not say itself; `used` are those that did. Symptoms are left to the
 * person: taken unasked, they made real cases come out worse. Pure.
 */
export function withReadings(known: Case, readings: Readings): { case: Case; used: readonly Reading[] } {
  const open = ({ id }: Reading) =>
    !(id in known.facts || id in known.signs || id in known.tried || known.unknown.includes(id));
  const facts = readings.facts.filter(open);
  const signs = readings.signs.filter(open);
  const tried = readings.tried.filter(open);
  const values = <T>(list: readonly Reading<T>[]) =>
    Object.fromEntries(list.map(({ id, value }) => [id, value]));
  return {
    case: {
      ...known,
      facts: { ...values(facts), ...known.facts },
      signs: { ...values(signs), ...known.signs },
      tried: { ...values(tried), ...known.tried },
    },
    used: [...facts, ...signs, ...tried],
  };
}
