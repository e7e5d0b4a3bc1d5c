import type { Fact, KnowledgeBase } from '../knowledge/knowledgeBase.ts';

/** A fact's alternatives while it is unknown, and how usual each is. */
export interface Grid {
  readonly fact: string;
  readonly size: number;
  /** An answer id, or one of three values that stand for the spread of a number, which may depend on the material. */
  valueAt(index: number, material: string | undefined): string | number;
  /** Chance of each alternative, among all failed prints or among those in one material; adds up to 1. */
  weights(material: string | undefined): Float64Array;
  readonly dependsOnMaterial: boolean;
}

/**
 * Weights that the 10, 50 and 90 percent points of a spread must have to keep its mean and variance (Swanson's rule;
 * Keefer and Bodily, Management Science 29, 1983, from memory).
 */
const threePoints = Float64Array.of(0.3, 0.4, 0.3);

/** A fact that is asked and, while unknown, weighed; the others are computed, or taken at their middle. */
export function isWeighed(fact: Fact): boolean {
  return fact.kind !== 'computed' && !(fact.kind === 'number' && fact.assume);
}

function scaled(parts: readonly number[]): Float64Array {
  const sum = parts.reduce((a, b) => a + b, 0);
  return Float64Array.from(parts, (part) => part / sum);
}

export function buildGrid(fact: Fact): Grid {
  if (fact.kind === 'computed')
    throw new RangeError(`${fact.id} is computed and has no alternatives of its own`);
  if (fact.kind === 'number') {
    return {
      fact: fact.id,
      size: 3,
      valueAt: (index, material) =>
        ((material && fact.typicalFor[material]) || fact.typical)[index] as number,
      weights: () => threePoints,
      dependsOnMaterial: Object.keys(fact.typicalFor).length > 0,
    };
  }
  const general = scaled(fact.usual);
  const byMaterial = new Map(Object.entries(fact.usualFor).map(([id, parts]) => [id, scaled(parts)]));
  return {
    fact: fact.id,
    size: fact.answers.length,
    valueAt: (index) => fact.answers[index]!.id,
    weights: (material) => (material && byMaterial.get(material)) || general,
    dependsOnMaterial: byMaterial.size > 0,
  };
}

export function buildGrids(knowledge: KnowledgeBase): Map<string, Grid> {
  const grids = new Map<string, Grid>();
  for (const fact of Object.values(knowledge.facts)) if (isWeighed(fact)) grids.set(fact.id, buildGrid(fact));
  return grids;
}
