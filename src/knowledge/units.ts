/** Powers of the base units: mm, s, g, K, deg, percent. */
export type Dimension = readonly [number, number, number, number, number, number];

/** What a number is measured in. A bare number has dimension `ONE` and factor 1. */
export interface Measure {
  readonly dimension: Dimension;
  /** How many base units one of these is; the base units are mm, s, g, K, deg, percent and their products. */
  readonly factor: number;
  /** A place on a scale with an arbitrary zero (degC), not a size: it cannot be doubled, and two cannot be added. */
  readonly point: boolean;
}

export interface Unit extends Measure {
  readonly name: string;
}

export const ONE: Dimension = [0, 0, 0, 0, 0, 0];

const table: readonly (readonly [string, number, Dimension])[] = [
  ['mm', 1, [1, 0, 0, 0, 0, 0]],
  ['m', 1000, [1, 0, 0, 0, 0, 0]],
  ['mm2', 1, [2, 0, 0, 0, 0, 0]],
  ['m2', 1e6, [2, 0, 0, 0, 0, 0]],
  ['mm3', 1, [3, 0, 0, 0, 0, 0]],
  ['m3', 1e9, [3, 0, 0, 0, 0, 0]],
  ['deg', 1, [0, 0, 0, 0, 1, 0]],
  ['K', 1, [0, 0, 0, 1, 0, 0]],
  ['s', 1, [0, 1, 0, 0, 0, 0]],
  ['min', 60, [0, 1, 0, 0, 0, 0]],
  ['h', 3600, [0, 1, 0, 0, 0, 0]],
  ['1/h', 1 / 3600, [0, -1, 0, 0, 0, 0]],
  ['mm/s', 1, [1, -1, 0, 0, 0, 0]],
  ['mm/s2', 1, [1, -2, 0, 0, 0, 0]],
  ['mm3/s', 1, [3, -1, 0, 0, 0, 0]],
  ['m2/s', 1e6, [2, -1, 0, 0, 0, 0]],
  ['g', 1, [0, 0, 1, 0, 0, 0]],
  ['kg', 1000, [0, 0, 1, 0, 0, 0]],
  ['kg/m3', 1e-6, [-3, 0, 1, 0, 0, 0]],
  ['g/m3', 1e-9, [-3, 0, 1, 0, 0, 0]],
  ['percent', 1, [0, 0, 0, 0, 0, 1]],
  ['ratio', 1, ONE],
  ['1e-6/K', 1e-6, [0, 0, 0, -1, 0, 0]],
  ['N', 1e6, [1, -2, 1, 0, 0, 0]],
  ['MPa', 1e6, [-1, -2, 1, 0, 0, 0]],
  ['GPa', 1e9, [-1, -2, 1, 0, 0, 0]],
  ['J', 1e9, [2, -2, 1, 0, 0, 0]],
  ['J/m2', 1000, [0, -2, 1, 0, 0, 0]],
  ['J/(kg K)', 1e6, [2, -2, 0, -1, 0, 0]],
  ['W', 1e9, [2, -3, 1, 0, 0, 0]],
  ['W/(m K)', 1e6, [1, -3, 1, -1, 0, 0]],
  ['W/(m2 K)', 1000, [0, -3, 1, -1, 0, 0]],
];

function buildUnits(): ReadonlyMap<string, Unit> {
  const known = new Map<string, Unit>();
  for (const [name, factor, dimension] of table) known.set(name, { name, factor, dimension, point: false });
  known.set('degC', { name: 'degC', factor: 1, dimension: [0, 0, 0, 1, 0, 0], point: true });
  return known;
}

/** All units an entry or an expression may use, by name. */
export const units: ReadonlyMap<string, Unit> = buildUnits();

/** Units of the material properties: the names that `material.<name>_low`, `_mid` and `_high` may use. */
export const materialUnits: Readonly<Record<string, string>> = Object.freeze({
  glass_transition: 'degC',
  solidify: 'degC',
  expansion: '1e-6/K',
  density: 'kg/m3',
  conductivity: 'W/(m K)',
  specific_heat: 'J/(kg K)',
  modulus: 'GPa',
  nozzle: 'degC',
  bed: 'degC',
  fan: 'percent',
  chamber: 'degC',
  moisture_50: 'percent',
  moulding_limit: 'percent',
  diffusion: 'm2/s',
  drying_temperature: 'degC',
  drying_hours: 'h',
  shrinkage: 'percent',
  melt_factor: 'ratio',
  bridge_span: 'mm',
  warp_rank: 'ratio',
});

export function isUnit(name: string): boolean {
  return units.has(name);
}

export function sameDimension(a: Dimension, b: Dimension): boolean {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** A number in one of these can be given in the other by a factor alone. degC and K cannot: their zeros differ. */
export function isConvertible(a: Measure, b: Measure): boolean {
  return a.point === b.point && sameDimension(a.dimension, b.dimension);
}

/** The number in another unit; undefined when a unit is not known or measures something else. */
export function convert(value: number, from: string, to: string): number | undefined {
  const a = units.get(from);
  const b = units.get(to);
  if (!(a && b && isConvertible(a, b))) return undefined;
  return a.factor === b.factor ? value : (value * a.factor) / b.factor;
}

const BASE = ['mm', 's', 'g', 'K', 'deg', 'percent'] as const;

function composeName(dimension: Dimension): string {
  const over: string[] = [];
  const under: string[] = [];
  dimension.forEach((power, i) => {
    const size = Math.abs(power);
    if (size > 0) (power > 0 ? over : under).push(size === 1 ? BASE[i]! : `${BASE[i]}${size}`);
  });
  const top = over.length === 0 ? '1' : over.join(' ');
  if (under.length === 0) return top;
  return `${top}/${under.length === 1 ? under[0] : `(${under.join(' ')})`}`;
}

/**
 * The unit to give a number of this measure in: the known one that needs no conversion, else the first known one of its
 * dimension, else a product of base units under a name that `units` does not hold.
 */
export function nearestUnit(measure: Measure): Unit {
  let nearest: Unit | undefined;
  for (const unit of units.values()) {
    if (!isConvertible(unit, measure)) continue;
    if (unit.factor === measure.factor) return unit;
    nearest ??= unit;
  }
  const { dimension, point } = measure;
  return nearest ?? { name: composeName(dimension), factor: 1, dimension, point };
}

/** What people write for a unit, and the name it has here. Only used to help with a mistake. */
export const unitAliases: ReadonlyMap<string, string> = new Map([
  ['c', 'degC'],
  ['celsius', 'degC'],
  ['degrees', 'deg'],
  ['degree', 'deg'],
  ['kelvin', 'K'],
  ['k', 'K'],
  ['hours', 'h'],
  ['hour', 'h'],
  ['hrs', 'h'],
  ['hr', 'h'],
  ['minutes', 'min'],
  ['minute', 'min'],
  ['mins', 'min'],
  ['seconds', 's'],
  ['second', 's'],
  ['secs', 's'],
  ['sec', 's'],
  ['grams', 'g'],
  ['gram', 'g'],
  ['pct', 'percent'],
  ['rh', 'percent'],
  ['millimetres', 'mm'],
  ['millimeters', 'mm'],
  ['mms', 'mm/s'],
]);
