import type { Grid } from './grid.ts';
import type { Model, PreparedFactor } from './model.ts';
import { oddsFactor, uncertaintyOf } from './odds.ts';
import type { Situation } from './situation.ts';
import { addUp, inOrder, sizeOf, type Table, tabulate, withoutAxis } from './table.ts';

/** More joint values of unknown facts than this and the least influential are averaged out of their factor. */
const largestCauseTable = 1024;

export interface CauseTable {
  /** Chance of the cause for every joint value of the unknown facts that bear on it. */
  readonly chance: Table;
  /** Facts that had to be averaged in the odds instead of in the chance. */
  readonly averaged: readonly string[];
}

/** A factor over its unknown facts, scaled so that the average print changes nothing. */
export function factorTable(prepared: PreparedFactor, situation: Situation): Table {
  const { factor, weighed, assumed } = prepared;
  const unknown = weighed.filter((grid) => situation.get(grid.fact) === undefined);
  const scale = prepared.scale();
  return tabulate(unknown, situation, () => {
    const spread = factor.kind === 'limit' ? uncertaintyOf(factor.fact, assumed, situation) : 0;
    return oddsFactor(factor, situation, spread) / scale;
  });
}

/** How much a table varies along its axes: the range of its logarithm. */
function variation(table: Table): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of table.values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return Math.log(high / low);
}

/** Tables worked out before, by cause and by what is known of the facts that bear on it: most answers leave most of them. */
const kept = new WeakMap<Model, Map<string, CauseTable>>();
const mostKept = 5000;

export function causeTable(
  model: Model,
  cause: number,
  situation: Situation,
  material: string | undefined,
): CauseTable {
  let tables = kept.get(model);
  if (tables === undefined || tables.size > mostKept) {
    tables = new Map();
    kept.set(model, tables);
  }
  let key = String(cause);
  for (const fact of model.bearing[cause]!) key += `|${situation.get(fact) ?? ''}`;
  const there = tables.get(key);
  if (there) return there;
  const made = makeTable(model, cause, situation, material);
  tables.set(key, made);
  return made;
}

function makeTable(
  model: Model,
  cause: number,
  situation: Situation,
  material: string | undefined,
): CauseTable {
  const usual = model.causes[cause]!.usual.value;
  let tables = model.factors[cause]!.map((prepared) => factorTable(prepared, situation));
  const averaged: string[] = [];
  let axes = unionOf(tables);
  while (sizeOf(axes) > largestCauseTable) {
    const weakest = weakestAxis(axes, tables);
    averaged.push(weakest);
    tables = tables.map((table) =>
      table.axes.some((axis) => axis.fact === weakest) ? withoutAxis(table, weakest, material) : table,
    );
    axes = unionOf(tables);
  }
  const logOdds = addUp(Math.log(usual / (1 - usual)), tables, axes);
  const chance = { axes, values: logOdds.values.map((value) => 1 / (1 + Math.exp(-value))) };
  return { chance, averaged };
}

function unionOf(tables: readonly Table[]): Grid[] {
  const axes = new Map<string, Grid>();
  for (const table of tables) for (const axis of table.axes) axes.set(axis.fact, axis);
  return inOrder(axes.values());
}

/** The axis whose factors vary least; a number's axis cannot outlive the material that its values depend on. */
function weakestAxis(axes: readonly Grid[], tables: readonly Table[]): string {
  const needsMaterial = axes.some((axis) => axis.dependsOnMaterial);
  let weakest = axes[axes.length - 1]!.fact;
  let least = Number.POSITIVE_INFINITY;
  for (const axis of axes) {
    if (axis.fact === 'material' && needsMaterial) continue;
    const reach = tables
      .filter((table) => table.axes.some((other) => other.fact === axis.fact))
      .reduce((sum, table) => sum + variation(table), 0);
    if (reach < least) {
      least = reach;
      weakest = axis.fact;
    }
  }
  return weakest;
}
