import { evaluate, holds } from '../knowledge/evaluate.ts';
import type { Factor } from '../knowledge/knowledgeBase.ts';
import type { Situation } from './situation.ts';

/**
 * Standard normal distribution function, Abramowitz and Stegun, Handbook of Mathematical Functions, 26.2.17 (absolute
 * error below 7.5e-8; coefficients from memory, tested against the handbook's table 26.1).
 */
export function normalCdf(z: number): number {
  const x = Math.abs(z);
  const t = 1 / (1 + 0.2316419 * x);
  const poly =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const upper = (Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)) * poly;
  return z >= 0 ? 1 - upper : upper;
}

/** Between the 10 and the 90 percent point of a normal spread lie 2 x 1.2816 standard deviations. */
const tenToNinety = 2 * 1.2815515655446004;

/**
 * How uncertain a fact's value is, as one standard deviation in its unit, because some of the numbers behind it are only
 * assumed: each is moved over its spread in turn and the effects are added as squares.
 */
export function uncertaintyOf(fact: string, assumed: readonly string[], situation: Situation): number {
  let sum = 0;
  for (const name of assumed) {
    if (situation.get(name) !== undefined) continue;
    const points = situation.spread(name);
    if (points === undefined) continue;
    situation.put(name, points[0]);
    const low = situation.value(fact);
    situation.put(name, points[2]);
    const high = situation.value(fact);
    situation.put(name, undefined);
    if (low !== undefined && high !== undefined) sum += ((high - low) / tenToNinety) ** 2;
  }
  return Math.sqrt(sum);
}

/**
 * What a factor does to the odds of its cause, before scaling; 1 when what it reads is not known. For a limit, the log of
 * the factor runs from its good to its bad value along the normal distribution function, so that a little over the
 * limit counts a little.
 * @param uncertainty standard deviation of the fact's value, in its unit
 */
export function oddsFactor(factor: Factor, situation: Situation, uncertainty: number): number {
  switch (factor.kind) {
    case 'answers': {
      const answer = situation.answer(factor.fact);
      return answer === undefined ? 1 : (factor.odds[answer]?.value ?? 1);
    }
    case 'when':
      return holds(factor.when, situation) === true ? factor.odds.value : 1;
    case 'limit': {
      const x = situation.value(factor.fact);
      const limit = evaluate(factor.limit, situation);
      if (x === undefined || limit === undefined) return 1;
      const margin = factor.badSide === 'below' ? limit - x : x - limit;
      const share = normalCdf(margin / Math.hypot(factor.width, uncertainty));
      return Math.exp(share * Math.log(factor.bad.value) + (1 - share) * Math.log(factor.good.value));
    }
    default:
      return factor satisfies never;
  }
}
