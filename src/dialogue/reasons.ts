import { decibans, leaveOneOut, logOdds, shareOut } from '../inference/explain.ts';
import { infer } from '../inference/posterior.ts';
import { evaluate } from '../knowledge/evaluate.ts';
import type { Case } from '../model/case.ts';
import type { Model } from '../model/model.ts';
import { buildState, type State, scenariosOf } from '../model/state.ts';
import { chancesOf } from './chances.ts';
import { labelAnswer } from './labels.ts';
import { showQuantity } from './quantity.ts';

/** One answer's weight for or against a cause being the culprit; the weights of all reasons add up to the total. */
export interface Reason {
  /** The fact, sign, symptom or fix that was answered; `others` for several weak answers together. */
  readonly id: string;
  readonly text: string;
  /** Ten times the decimal logarithm of what it does to the odds, averaged over all orders of the answers. */
  readonly decibans: number;
}

/** Exact for this many answers; weaker ones beyond are counted together. 2 ^ 8 evaluations. */
const mostItems = 8;
/** Joint values of unknown facts weighed while reasons are worked out. */
const jointValues = 8;

interface Item {
  readonly id: string;
  readonly text: string;
  readonly isFact: boolean;
  readonly take: (from: Case, into: Case) => Case;
}

/**
 * Reasons for each of some causes: what each answer did to the odds that this cause is the culprit, from the complaint
 * alone to all that is known (Shapley value of the log-odds; Good 1985 for the scale).
 */
export function reasonsFor(model: Model, known: Case, causes: readonly number[]): Reason[][] {
  const items = listItems(model, known);
  const groups = groupItems(model, known, causes, items);
  const value = valuer(model, known, causes, groups);
  const shares = shareOut(groups.length, value);
  return causes.map((cause, at) =>
    groups
      .map((group, index) => ({
        id: group.length === 1 ? group[0]!.id : 'others',
        text: group.length === 1 ? textFor(model, known, cause, group[0]!) : 'the other answers together',
        decibans: decibans(shares[index]![at] as number),
      }))
      .filter((reason) => Math.abs(reason.decibans) > 1e-9)
      .sort((a, b) => Math.abs(b.decibans) - Math.abs(a.decibans) || (a.id < b.id ? -1 : 1)),
  );
}

/** Reads as a reason for and as one against. */
const wordingText = 'your own words, beside the reports of others';

function listItems(model: Model, known: Case): Item[] {
  const { knowledge } = model;
  const items: Item[] = [];
  if (known.words !== undefined && model.likeness !== undefined) {
    items.push({
      id: 'words',
      text: wordingText,
      isFact: false,
      take: (from, into) => ({ ...into, words: from.words! }),
    });
  }
  for (const [id, value] of Object.entries(known.facts)) {
    items.push({
      id,
      text: labelAnswer(knowledge, id, value),
      isFact: true,
      take: (from, into) => ({ ...into, facts: { ...into.facts, [id]: from.facts[id]! } }),
    });
  }
  for (const [id, level] of Object.entries(known.signs)) {
    items.push({
      id,
      text: labelAnswer(knowledge, id, level),
      isFact: false,
      take: (from, into) => ({ ...into, signs: { ...into.signs, [id]: from.signs[id]! } }),
    });
  }
  for (const [id, seen] of Object.entries(known.symptoms)) {
    if (id === known.complaint) continue;
    items.push({
      id,
      text: labelAnswer(knowledge, id, seen),
      isFact: false,
      take: (from, into) => ({ ...into, symptoms: { ...into.symptoms, [id]: from.symptoms[id]! } }),
    });
  }
  for (const [id, outcome] of Object.entries(known.tried)) {
    const what = knowledge.fixes[id]?.do ?? id;
    items.push({
      id,
      text: `tried${outcome === 'better' ? ', better' : outcome === 'worse' ? ', worse' : ' without effect'}: ${what}`,
      isFact: false,
      take: (from, into) => ({ ...into, tried: { ...into.tried, [id]: from.tried[id]! } }),
    });
  }
  return items;
}

/** Strong answers each on their own; what leaving out moves least is put together in one group. */
function groupItems(model: Model, known: Case, causes: readonly number[], items: readonly Item[]): Item[][] {
  if (items.length <= mostItems) return items.map((item) => [item]);
  const shares = leaveOneOut(items.length, (left) => {
    const rest = items.filter((_, index) => index !== left);
    return evaluateCase(
      model,
      causes,
      rest.reduce((into, item) => item.take(known, into), bare(known)),
    );
  });
  const effect = shares.map((share) => share.reduce((sum, figure) => sum + Math.abs(figure), 0));
  const order = items
    .map((_, index) => index)
    .sort((a, b) => (effect[b] as number) - (effect[a] as number) || a - b);
  const strong = order.slice(0, mostItems - 1).sort((a, b) => a - b);
  const weak = order.slice(mostItems - 1).sort((a, b) => a - b);
  return [...strong.map((index) => [items[index]!]), weak.map((index) => items[index]!)];
}

function bare(known: Case): Case {
  const { words: _, ...rest } = known;
  return { ...rest, facts: {}, signs: {}, symptoms: {}, tried: {} };
}

function evaluateCase(model: Model, causes: readonly number[], known: Case): Float64Array {
  const state = buildState(model, known, jointValues);
  const beliefs = infer(scenariosOf(state).scenarios, state.evidence);
  const chances = chancesOf(beliefs, model.knowledge.weights.sharpness);
  return Float64Array.from(causes, (cause) => logOdds(chances.causes[cause] as number));
}

function valuer(model: Model, known: Case, causes: readonly number[], groups: readonly Item[][]) {
  return (mask: number) => {
    let part = bare(known);
    groups.forEach((group, index) => {
      if (mask & (1 << index)) for (const item of group) part = item.take(known, part);
    });
    return evaluateCase(model, causes, part);
  };
}

/** The answer, and where it was held against a limit, by how much it misses or keeps it. */
function textFor(model: Model, known: Case, cause: number, item: Item): string {
  if (!item.isFact) return item.text;
  const state = buildState(model, known, 1);
  const margin = limitText(state, cause, item.id);
  return margin === undefined ? item.text : `${item.text} (${margin})`;
}

function limitText(state: State, cause: number, fact: string): string | undefined {
  const { model, situation } = state;
  for (const { factor, weighed, assumed } of model.factors[cause]!) {
    if (factor.kind !== 'limit') continue;
    if (factor.fact !== fact && !weighed.some((grid) => grid.fact === fact) && !assumed.includes(fact))
      continue;
    const measured = model.knowledge.facts[factor.fact];
    if (measured === undefined || (measured.kind === 'computed' && measured.rankOnly)) continue;
    const x = situation.value(factor.fact);
    const limit = evaluate(factor.limit, situation);
    if (x === undefined || limit === undefined) continue;
    const unit = 'unit' in measured ? measured.unit : undefined;
    const bound = factor.badSide === 'below' ? 'should be at least' : 'should be at most';
    const name = factor.fact === fact ? '' : `${measured.name} ${showQuantity(x, unit)}, `;
    return `${name}${bound} ${showQuantity(limit, unit)}`;
  }
  return undefined;
}
