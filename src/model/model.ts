import { readsOf } from '../knowledge/evaluate.ts';
import type { Cause, Factor, KnowledgeBase, Link } from '../knowledge/knowledgeBase.ts';
import { buildGrids, type Grid, isWeighed } from './grid.ts';
import { lowestSymptoms } from './lowestSymptoms.ts';
import { oddsFactor, uncertaintyOf } from './odds.ts';
import { factsBehind, namesRead } from './reads.ts';
import { Situation } from './situation.ts';
import { average, inOrder, sizeOf, tabulate } from './table.ts';

/** A factor with what it takes to evaluate it. */
export interface PreparedFactor {
  readonly factor: Factor;
  /** Facts it depends on that are weighed while unknown. */
  readonly weighed: readonly Grid[];
  /** Facts it depends on that are assumed while unknown. */
  readonly assumed: readonly string[];
  /** What it averages to over all failed prints; the factor is divided by it, so that the average print changes nothing. */
  readonly scale: () => number;
}

/** Something observable: a sign, or a symptom at the end of the tree. */
export interface Observable {
  readonly id: string;
  readonly levels: readonly string[];
  /** Chance of each level or a higher one without any known cause; from the second level on. */
  readonly leak: readonly number[];
  readonly parents: readonly { readonly cause: number; readonly link: Link }[];
  /** Facts that the conditions of its links depend on. */
  readonly reads: readonly string[];
}

/**
 * How far a description speaks for each cause by its wording alone: natural logarithms of factors on the odds, by id. Only
 * differences count; a cause that is left out has 0.
 */
export type Likeness = (words: string) => Readonly<Record<string, number>>;

/** The knowledge, arranged for computing: everything that does not depend on the case. */
export interface Model {
  readonly knowledge: KnowledgeBase;
  readonly causes: readonly Cause[];
  readonly causeIndex: ReadonlyMap<string, number>;
  readonly factors: readonly (readonly PreparedFactor[])[];
  /** For each cause, the asked facts that bear on it. */
  readonly bearing: readonly (readonly string[])[];
  readonly observables: readonly Observable[];
  readonly observableIndex: ReadonlyMap<string, number>;
  /** Indices of the observables that have links with conditions. */
  readonly conditional: readonly number[];
  readonly grids: ReadonlyMap<string, Grid>;
  /** Left out, descriptions count only by what is read in them. */
  readonly likeness?: Likeness;
}

/** More joint values than this and a scale is worked out with the least varied numbers at their middle. */
const largestScaleTable = 2000;

export function buildModel(knowledge: KnowledgeBase, likeness?: Likeness): Model {
  const byId = (a: { id: string }, b: { id: string }) => (a.id < b.id ? -1 : 1);
  const causes = Object.values(knowledge.causes).sort(byId);
  const causeIndex = new Map(causes.map((cause, index) => [cause.id, index]));
  const grids = buildGrids(knowledge);
  const factors = causes.map((cause) =>
    cause.factors.map((factor) => prepareFactor(factor, knowledge, grids)),
  );
  const bearing = factors.map((prepared) => [
    ...new Set(prepared.flatMap(({ weighed, assumed }) => [...weighed.map((grid) => grid.fact), ...assumed])),
  ]);
  const observables = listObservables(knowledge, causes);
  const observableIndex = new Map(observables.map((observable, index) => [observable.id, index]));
  const conditional = observables.flatMap((observable, index) =>
    observable.reads.length > 0 ? [index] : [],
  );
  return {
    knowledge,
    causes,
    causeIndex,
    factors,
    bearing,
    observables,
    observableIndex,
    conditional,
    grids,
    ...(likeness === undefined ? {} : { likeness }),
  };
}

function prepareFactor(factor: Factor, knowledge: KnowledgeBase, grids: Map<string, Grid>): PreparedFactor {
  const behind = [...factsBehind(knowledge, namesRead(factor))];
  const weighed = inOrder(behind.filter((id) => isWeighed(knowledge.facts[id]!)).map((id) => grids.get(id)!));
  const assumed = behind.filter((id) => !isWeighed(knowledge.facts[id]!));
  let scale: number | undefined;
  const compute = () => {
    const situation = new Situation(knowledge);
    const axes = [...weighed];
    while (sizeOf(axes) > largestScaleTable) {
      const last = axes.pop()!;
      situation.put(last.fact, last.valueAt(Math.floor(last.size / 2), undefined));
    }
    const spread = factor.kind === 'limit' ? () => uncertaintyOf(factor.fact, assumed, situation) : () => 0;
    return average(
      tabulate(axes, situation, () => oddsFactor(factor, situation, spread())),
      new Map(),
      undefined,
    );
  };
  return {
    factor,
    weighed,
    assumed,
    scale: () => {
      scale ??= compute();
      return scale;
    },
  };
}

function listObservables(knowledge: KnowledgeBase, causes: readonly Cause[]): Observable[] {
  const parents = new Map<string, { cause: number; link: Link }[]>();
  causes.forEach((cause, index) => {
    for (const link of cause.links) {
      const list = parents.get(link.sign) ?? [];
      list.push({ cause: index, link });
      parents.set(link.sign, list);
    }
  });
  const readsOfLinks = (list: readonly { link: Link }[]) => [
    ...factsBehind(
      knowledge,
      list.flatMap(({ link }) => link.when.flatMap(({ when }) => readsOf(when))),
    ),
  ];
  const symptoms = lowestSymptoms(knowledge).map((id) => ({
    id,
    levels: ['no', 'yes'],
    leak: [knowledge.symptoms[id]!.leak],
    parents: parents.get(id) ?? [],
    reads: readsOfLinks(parents.get(id) ?? []),
  }));
  const signs = Object.values(knowledge.signs)
    .map((sign) => ({
      id: sign.id,
      levels: sign.levels.map((level) => level.id),
      leak: sign.leak,
      parents: parents.get(sign.id) ?? [],
      reads: readsOfLinks(parents.get(sign.id) ?? []),
    }))
    .sort((a, b) => (a.id < b.id ? -1 : 1));
  return [...symptoms, ...signs];
}
