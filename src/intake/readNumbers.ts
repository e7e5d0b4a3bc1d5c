import type { NumberFact } from '../knowledge/knowledgeBase.ts';
import type { Token } from './cutClauses.ts';
import { findNumbers, inUnit, type WrittenNumber } from './findNumbers.ts';
import type { Match, Meter } from './phraseNet.ts';

/** A name that a number stands beside; `other` where the number is none that is asked for. */
export interface NumberName {
  readonly fact: NumberFact;
  readonly other: boolean;
}

export interface NumberRead {
  readonly id: string;
  readonly value: number;
  readonly first: number;
  readonly end: number;
  readonly from: number;
  readonly to: number;
}

interface Pair {
  readonly anchor: number;
  readonly number: number;
  readonly distance: number;
  readonly numberFirst: boolean;
  readonly value: number;
}

/** Words between a number and the name it belongs to, at most: with its unit written, and bare. */
const widest = 12;
const widestBare = 3;

/**
 * Gives each number to the nearest name of a fact in its clause that takes its unit and size; a name and a number serve
 * once. Where two names are as near, the order in which the clause begins decides: "speed 60, bed 60" or "60 speed, 60 bed".
 * A number that no name takes goes by its unit and size, where they leave one of `alone`.
 */
export function readNumbers(
  text: string,
  tokens: readonly Token[],
  names: readonly Match<NumberName>[],
  alone: readonly NumberFact[],
  meter: Meter,
): NumberRead[] {
  const anchors = wholeNames(tokens, names);
  const numbers = findNumbers(text, tokens);
  const numberFirst = numbersLead(tokens, anchors, numbers);
  const pairs: Pair[] = [];
  let start = 0;
  numbers.forEach((number, index) => {
    while (start < anchors.length && anchors[start]!.first < number.first - 2 * widest) start += 1;
    for (let at = start; at < anchors.length && anchors[at]!.first <= number.end + widest; at++) {
      meter.steps += 1;
      const pair = pairOf(tokens, anchors[at]!, number);
      if (pair) pairs.push({ ...pair, anchor: at, number: index });
    }
  });
  const leads = (pair: Pair) =>
    pair.numberFirst === (numberFirst.get(tokens[numbers[pair.number]!.first]!.clause) ?? false);
  const isOther = ({ anchor }: Pair) => Number(anchors[anchor]!.what.other);
  pairs.sort(
    (a, b) =>
      a.distance - b.distance ||
      isOther(b) - isOther(a) ||
      Number(leads(b)) - Number(leads(a)) ||
      a.number - b.number,
  );
  const facts = new Map<string, Set<string>>();
  const placeOf = ({ anchor, number }: Pair) => `${number} ${anchors[anchor]!.first} ${anchors[anchor]!.end}`;
  for (const pair of pairs) {
    const key = placeOf(pair);
    facts.set(key, (facts.get(key) ?? new Set()).add(anchors[pair.anchor]!.what.fact.id));
  }
  const takenNumbers = new Set<number>();
  const takenAnchors = new Set<string>();
  const read: NumberRead[] = [];
  for (const pair of pairs) {
    const { what, first, end } = anchors[pair.anchor]!;
    const { fact } = what;
    const place = `${fact.id} ${first}`;
    if (takenNumbers.has(pair.number) || takenAnchors.has(place)) continue;
    takenNumbers.add(pair.number);
    // Two facts go by the same name, and the number would do for both: neither is meant surely.
    if (facts.get(placeOf(pair))!.size > 1) continue;
    takenAnchors.add(place);
    if (what.other) continue;
    const { from, to } = numbers[pair.number]!;
    read.push({
      id: fact.id,
      value: pair.value,
      first,
      end,
      from: Math.min(from, tokens[first]!.from),
      to: Math.max(to, tokens[end - 1]!.to),
    });
  }
  for (const [index, number] of numbers.entries()) {
    if (takenNumbers.has(index) || number.unit === undefined) continue;
    const fitting = alone.flatMap((fact) => {
      const value = inUnit(number, fact.unit);
      const [low, high] = fact.saidAlone!;
      return value !== undefined && value >= low && value <= high ? [{ id: fact.id, value }] : [];
    });
    if (fitting.length === 1) read.push({ ...fitting[0]!, ...number, value: fitting[0]!.value });
  }
  return read;
}

/** Without names that are part of a longer one: "speed" in "first layer speed". A longer one with a number in it is no name. */
function wholeNames(tokens: readonly Token[], anchors: readonly Match<NumberName>[]): Match<NumberName>[] {
  const sorted = [...anchors].sort(
    (a, b) => a.first - b.first || b.end - a.end || b.parts.length - a.parts.length,
  );
  let longest: Match<NumberName> | undefined;
  return sorted.filter((anchor) => {
    const { first, end } = anchor;
    const same = longest?.first === first && longest.end === end;
    if (longest && (same ? anchor.parts.length < longest.parts.length : end <= longest.end)) return false;
    if (!tokens.slice(first, end).some(({ value }) => value !== undefined)) longest = anchor;
    return true;
  });
}

function pairOf(
  tokens: readonly Token[],
  anchor: Match<NumberName>,
  number: WrittenNumber,
): Omit<Pair, 'anchor' | 'number'> | undefined {
  // "PLA, 205": what comes next after a comma still belongs together.
  const next =
    number.first === anchor.end && tokens[anchor.first]!.sentence === tokens[number.first]!.sentence;
  if (!next && tokens[anchor.first]!.clause !== tokens[number.first]!.clause) return undefined;
  const numberFirst = number.first < anchor.first;
  // A phrase may hold the number in a gap of its own.
  const distance = Math.max(0, numberFirst ? anchor.first - number.end : number.first - anchor.end);
  if (distance > (number.unit === undefined ? widestBare : widest)) return undefined;
  const value = inUnit(number, anchor.what.fact.unit);
  const [low, high] = anchor.what.fact.range;
  if (value === undefined || value < low || value > high) return undefined;
  return { distance, numberFirst, value };
}

/** For each clause, whether its first number stands before its first name. */
function numbersLead(
  tokens: readonly Token[],
  anchors: readonly Match<unknown>[],
  numbers: readonly WrittenNumber[],
): ReadonlyMap<number, boolean> {
  const firstAnchor = new Map<number, number>();
  for (const { first } of anchors) {
    const { clause } = tokens[first]!;
    if (!firstAnchor.has(clause)) firstAnchor.set(clause, first);
  }
  const lead = new Map<number, boolean>();
  for (const { first } of numbers) {
    const { clause } = tokens[first]!;
    if (!lead.has(clause)) lead.set(clause, first < (firstAnchor.get(clause) ?? 0));
  }
  return lead;
}
