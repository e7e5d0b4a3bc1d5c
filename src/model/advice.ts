import { evaluate, holds } from '../knowledge/evaluate.ts';
import type { Fix, KnowledgeBase, Weights } from '../knowledge/knowledgeBase.ts';
import type { Case } from './case.ts';
import { roundForUnit } from './rounding.ts';
import type { Situation } from './situation.ts';

/** A fix with the numbers of this case. */
export interface Advice {
  readonly fix: Fix;
  readonly from?: number;
  /** One value, or a lower and an upper one; none where the fix has no number or a needed fact is unknown. */
  readonly to: readonly number[];
  readonly unit?: string;
  /** Why the number was held back, where a bound did so. */
  readonly heldBack: readonly string[];
  readonly minutes: { readonly handsOn: number; readonly waiting: number; readonly reprint: number };
  readonly grams: number;
  /** All of it in minutes, by the weights. */
  readonly cost: number;
  /** The part of the cost that several changes share when they are tested in one print. */
  readonly testCost: number;
}

/**
 * @returns the fix with its numbers, or undefined where it does not apply: its condition is known to be false, or the
 *   setting already stands where the fix, held within the material's range, would put it
 */
export function adviseFix(
  knowledge: KnowledgeBase,
  fix: Fix,
  situation: Situation,
  known: Case,
): Advice | undefined {
  if (fix.when && holds(fix.when, situation) === false) return undefined;
  const numbers = numbersOf(knowledge, fix, situation);
  if (numbers === undefined) return undefined;
  return { fix, ...numbers, ...costOf(fix, situation, known, knowledge.weights) };
}

type Numbers = Pick<Advice, 'from' | 'to' | 'unit' | 'heldBack'>;

function numbersOf(knowledge: KnowledgeBase, fix: Fix, situation: Situation): Numbers | undefined {
  const fact = fix.set === undefined ? undefined : knowledge.facts[fix.set];
  const unit = fix.unit ?? (fact && 'unit' in fact ? fact.unit : undefined);
  const from = fix.from ? evaluate(fix.from, situation) : fact ? situation.value(fact.id) : undefined;
  const wanted: number[] = [];
  for (const expression of fix.to) {
    const value = evaluate(expression, situation);
    if (value !== undefined) wanted.push(value);
  }
  const place = unit === undefined ? {} : { unit };
  const start =
    from === undefined || (fact && situation.get(fact.id) === undefined && !fix.from) ? undefined : from;
  const known = start === undefined ? {} : { from: roundForUnit(start, unit) };
  if (wanted.length < fix.to.length || wanted.length === 0)
    return { ...known, to: [], ...place, heldBack: [] };
  const { low, high, heldBack } = boundsOf(knowledge, fix, situation);
  const to = wanted.map((value) => roundForUnit(Math.min(high.value, Math.max(low.value, value)), unit));
  const because = heldBack(wanted);
  if (start !== undefined && pointless(roundForUnit(start, unit), wanted, to)) return undefined;
  return { ...known, to, ...place, heldBack: because };
}

/** Nothing left to change, or held back so far that it would now go the other way. */
function pointless(from: number, wanted: readonly number[], to: readonly number[]): boolean {
  if (to.length === 1) {
    const [target] = to as [number];
    return target === from || Math.sign(target - from) !== Math.sign((wanted[0] as number) - from);
  }
  const [low, high] = to as [number, number];
  return from >= Math.min(low, high) && from <= Math.max(low, high);
}

interface Bound {
  value: number;
  because: string;
}

function boundsOf(knowledge: KnowledgeBase, fix: Fix, situation: Situation) {
  const low: Bound = { value: Number.NEGATIVE_INFINITY, because: '' };
  const high: Bound = { value: Number.POSITIVE_INFINITY, because: '' };
  const fact = fix.set === undefined ? undefined : knowledge.facts[fix.set];
  const property = fact?.kind === 'number' ? fact.withinMaterial : undefined;
  if (property !== undefined) {
    const material = situation.answer('material');
    const name = (material && knowledge.materials[material]?.name) || 'this plastic';
    tighten(low, situation.material(property, 'low'), `${name} wants at least this`, Math.max);
    tighten(high, situation.material(property, 'high'), `${name} takes no more than this`, Math.min);
  }
  for (const cap of fix.caps) {
    // Unknown counts as the careful case: only a condition known to be false lifts the bound.
    if (cap.when && holds(cap.when, situation) === false) continue;
    tighten(low, cap.atLeast && evaluate(cap.atLeast, situation), cap.because, Math.max);
    tighten(high, cap.atMost && evaluate(cap.atMost, situation), cap.because, Math.min);
  }
  const heldBack = (wanted: readonly number[]) => {
    const reasons: string[] = [];
    if (wanted.some((value) => value < low.value)) reasons.push(low.because);
    if (wanted.some((value) => value > high.value)) reasons.push(high.because);
    return reasons;
  };
  return { low, high, heldBack };
}

function tighten(
  bound: Bound,
  value: number | undefined,
  because: string,
  pick: (a: number, b: number) => number,
): void {
  if (value === undefined || pick(bound.value, value) === bound.value) return;
  bound.value = value;
  bound.because = because;
}

function costOf(fix: Fix, situation: Situation, known: Case, weights: Weights) {
  const handsOn = evaluate(fix.handsOnMinutes, situation) ?? 0;
  const waiting = evaluate(fix.waitingMinutes, situation) ?? 0;
  const reprint = reprintOf(fix, known, weights);
  const grams = (evaluate(fix.grams, situation) ?? 0) + reprint.grams;
  const testCost = reprint.minutes + reprint.grams * weights.minutesPerGram;
  const own = handsOn + waiting * weights.waitingShare + (grams - reprint.grams) * weights.minutesPerGram;
  return { minutes: { handsOn, waiting, reprint: reprint.minutes }, grams, cost: own + testCost, testCost };
}

function reprintOf(fix: Fix, known: Case, weights: Weights): { minutes: number; grams: number } {
  if (fix.reprint === 'none') return { minutes: 0, grams: 0 };
  const whole = {
    minutes: known.reprint?.minutes ?? weights.reprintMinutes,
    grams: known.reprint?.grams ?? weights.reprintGrams,
  };
  if (fix.reprint === 'whole') return whole;
  // A part smaller than the usual test piece is its own test piece.
  return {
    minutes: Math.min(whole.minutes, weights.pieceMinutes),
    grams: Math.min(whole.grams, weights.pieceGrams),
  };
}
