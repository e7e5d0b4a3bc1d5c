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
 * The table without one axis, averaged over it.
 * @param material the material, where it is known; where it is an axis of the table, that axis leads
 */
export function withoutAxis(table: Table, fact: string, material: string | undefined): Table {
  const { axes, values } = table;
  const at = axes.findIndex((axis) => axis.fact === fact);
  const axis = axes[at];
  if (axis === undefined) return table;
  const inner = sizeOf(axes.slice(at + 1));
  const outer = sizeOf(axes.slice(0, at));
  const [leading] = axes;
  const byMaterial = at > 0 && leading!.fact === materialFact;
  const perMaterial = byMaterial ? outer / leading!.size : outer;
  const result = new Float64Array(outer * inner);
  let weights = axis.weights(material);
  for (let before = 0; before < outer; before++) {
    if (byMaterial && before % perMaterial === 0) {
      weights = axis.weights(leading!.valueAt(before / perMaterial, undefined) as string);
    }
    for (let index = 0; index < axis.size; index++) {
      const weight = weights[index] as number;
      const from = (before * axis.size + index) * inner;
      for (let after = 0; after < inner; after++) {
        result[before * inner + after] =
          (result[before * inner + after] as number) + weight * (values[from + after] as number);
      }
    }
  }
  return { axes: axes.filter((other) => other !== axis), values: result };
}

const contracted = new WeakMap<Table, Map<string, Table>>();

/** The table over only those of its axes that are supposed something about; the others averaged out. Kept for next time. */
export function overSupposed(table: Table, supposed: Supposed, material: string | undefined): Table {
  let key = material ?? '';
  for (const axis of table.axes) if (supposed.has(axis.fact)) key += `|${axis.fact}`;
  const kept = contracted.get(table) ?? new Map<string, Table>();
  contracted.set(table, kept);
  const there = kept.get(key);
  if (there) return there;
  // From the last to the first, so that the material, on which the others' weights may depend, goes last.
  const made = [...table.axes]
    .reverse()
    .filter((axis) => !supposed.has(axis.fact))
    .reduce((left, axis) => withoutAxis(left, axis.fact, material), table);
  kept.set(key, made);
  return made;
}

/**
 * The table's average over how usual the alternatives are, given those that are supposed.
 * @param material the material, where it is known
 */
export function average(table: Table, supposed: Supposed, material: string | undefined): number {
  return valueAt(overSupposed(table, supposed, material), supposed);
}

/** The value of a table whose axes are all supposed something about. */
export function valueAt({ axes, values }: Table, supposed: Supposed): number {
  let offset = 0;
  for (const axis of axes) offset = offset * axis.size + (supposed.get(axis.fact) as number);
  return values[offset] as number;
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
