import type { Grid } from './grid.ts';
import { materialFact, type Situation } from './situation.ts';

/** A number for every joint value of some unknown facts, the last axis running fastest. */
export interface Table {
  readonly axes: readonly Grid[];
  readonly values: Float64Array;
}

/** Which alternative of a fact is supposed, by fact id. */
export type Supposed = ReadonlyMap<string, number>;

/** The material first, for what a number's alternatives are may depend on it; then by id, so that the order is fixed. */
export function inOrder(axes: Iterable<Grid>): Grid[] {
  return [...axes].sort((a, b) =>
    a.fact === b.fact
      ? 0
      : a.fact === materialFact
        ? -1
        : b.fact === materialFact
          ? 1
          : a.fact < b.fact
            ? -1
            : 1,
  );
}

export function sizeOf(axes: readonly Grid[]): number {
  return axes.reduce((product, axis) => product * axis.size, 1);
}

/** Evaluates `compute` for every joint value of the axes; the situation is left as it was found. */
export function tabulate(axes: readonly Grid[], situation: Situation, compute: () => number): Table {
  const values = new Float64Array(sizeOf(axes));
  let at = 0;
  const visit = (depth: number) => {
    const axis = axes[depth];
    if (axis === undefined) {
      values[at++] = compute();
      return;
    }
    for (let index = 0; index < axis.size; index++) {
      situation.put(axis.fact, axis.valueAt(index, situation.answer(materialFact)));
      visit(depth + 1);
    }
    situation.put(axis.fact, undefined);
  };
  visit(0);
  return { axes, values };
}

/**
 * The table's average over how usual the alternatives are, given those that are supposed.
 * @param material the material, where it is known
 */
export function average(table: Table, supposed: Supposed, material: string | undefined): number {
  const { axes, values } = table;
  const visit = (depth: number, offset: number, current: string | undefined): number => {
    const axis = axes[depth];
    if (axis === undefined) return values[offset] as number;
    const isMaterial = axis.fact === materialFact;
    const fixed = supposed.get(axis.fact);
    if (fixed !== undefined) {
      const next = isMaterial ? (axis.valueAt(fixed, current) as string) : current;
      return visit(depth + 1, offset * axis.size + fixed, next);
    }
    const weights = axis.weights(current);
    let sum = 0;
    for (let index = 0; index < axis.size; index++) {
      const weight = weights[index] as number;
      if (weight === 0) continue;
      const next = isMaterial ? (axis.valueAt(index, current) as string) : current;
      sum += weight * visit(depth + 1, offset * axis.size + index, next);
    }
    return sum;
  };
  return visit(0, 0, material);
}

/** The table without one axis, averaged over it. */
export function withoutAxis(table: Table, fact: string, material: string | undefined): Table {
  const left = table.axes.filter((axis) => axis.fact !== fact);
  const values = new Float64Array(sizeOf(left));
  const supposed = new Map<string, number>();
  let at = 0;
  const visit = (depth: number) => {
    const axis = left[depth];
    if (axis === undefined) {
      values[at++] = average(table, supposed, material);
      return;
    }
    for (let index = 0; index < axis.size; index++) {
      supposed.set(axis.fact, index);
      visit(depth + 1);
    }
    supposed.delete(axis.fact);
  };
  visit(0);
  return { axes: left, values };
}

/** Adds the logarithms of several tables over the union of their axes, to a constant. */
export function addUp(constant: number, tables: readonly Table[], axes: readonly Grid[]): Table {
  const values = new Float64Array(sizeOf(axes)).fill(constant);
  const index = new Int32Array(axes.length);
  const places = tables.map((table) => table.axes.map((axis) => axes.findIndex((a) => a.fact === axis.fact)));
  for (let at = 0; at < values.length; at++) {
    tables.forEach((table, t) => {
      let offset = 0;
      table.axes.forEach((axis, depth) => {
        offset = offset * axis.size + (index[places[t]![depth]!] as number);
      });
      values[at] = (values[at] as number) + Math.log(table.values[offset] as number);
    });
    for (let depth = axes.length - 1; depth >= 0; depth--) {
      index[depth] = (index[depth] as number) + 1;
      if ((index[depth] as number) < axes[depth]!.size) break;
      index[depth] = 0;
    }
  }
  return { axes, values };
}
