import { describe, expect, it } from 'vitest';
import { formulas } from '../../src/knowledge/formulas.ts';
import {
  convert,
  isUnit,
  materialUnits,
  nearestUnit,
  unitAliases,
  units,
} from '../../src/knowledge/units.ts';
import { numberOf } from './expressionScope.ts';

describe('units', () => {
  // Published: BIPM, The International System of Units, 9th edition: prefixes, tables 4 and 8. Exact by definition.
  it.each([
    [1, 'h', 'min', 60],
    [1, 'h', 's', 3600],
    [90, 'min', 'h', 1.5],
    [45, 's', 'min', 0.75],
    [2.5, 'm', 'mm', 2500],
    [1, 'm2', 'mm2', 1e6],
    [1, 'm3', 'mm3', 1e9],
    [1, 'kg', 'g', 1000],
    [1, 'GPa', 'MPa', 1000],
    [1, 'kg/m3', 'g/m3', 1000],
    [7, 'mm/s', 'mm/s', 7],
  ])('%d %s is %s', (value, from, to, result) => {
    expect(convert(value, from, to)).toBeCloseTo(result, 12);
  });

  it.each([
    ['ratio', 'percent'],
    ['degC', 'K'],
    ['K', 'degC'],
    ['mm', 's'],
    ['mm/s', 'mm/s2'],
    ['deg', 'degC'],
    ['deg', 'ratio'],
    ['g', 'mm'],
    ['J', 'W'],
    ['mm', 'furlong'],
    ['__proto__', 'mm'],
    ['constructor', 'constructor'],
  ])('%s is not turned into %s', (from, to) => {
    expect(convert(1, from, to)).toBeUndefined();
  });

  // The same brochure, table 4: derived units as products of others.
  it.each([
    ['1 N * 1 m', 'J', 1],
    ['1 J / 1 s', 'W', 1],
    ['1 W * 1 h', 'J', 3600],
    ['1 MPa * 1 mm2', 'N', 1],
    ['1 J / 1 m2', 'J/m2', 1],
    ['1000 kg/m3 * 1 mm3', 'g', 0.001],
    ['1 W/(m K) / (1 kg/m3 * 1 J/(kg K))', 'm2/s', 1],
    ['1 W/(m2 K) * 1 m2 * 1 K', 'W', 1],
    ['1 kg * 1 m / (1 s * 1 s)', 'N', 1],
    ['60 / 1 h', '1/h', 60],
    ['1 m2/s * 1 s', 'm2', 1],
  ])('%s is in %s', (text, unit, result) => {
    expect(numberOf(text, {}, { expectedUnit: unit })).toBeCloseTo(result, 12);
  });

  it('reckons with thermal expansion: a metre of steel grows 1.2 mm over 100 K', () => {
    // Handbook figure for steel, 12e-6 per K, recalled from memory.
    expect(numberOf('12 1e-6/K * 100 K * 1 m', {}, { expectedUnit: 'mm' })).toBeCloseTo(1.2, 12);
  });

  it('has every unit that properties, formulas and aliases name', () => {
    const named = [
      ...Object.values(materialUnits),
      ...unitAliases.values(),
      ...[...formulas.values()].flatMap((formula) => [formula.unit, ...formula.args.map((arg) => arg.unit)]),
    ];
    expect(named.filter((name) => !isUnit(name))).toEqual([]);
  });

  it('keeps the everyday units free of conversion', () => {
    const everyday = [
      'mm',
      'mm2',
      'mm3',
      'deg',
      'degC',
      'K',
      'mm/s',
      'mm/s2',
      'mm3/s',
      's',
      'g',
      'percent',
      'ratio',
    ];
    expect(everyday.map((name) => units.get(name)?.factor)).toEqual(everyday.map(() => 1));
  });

  it('names a measure by its unit, and one that has none by base units', () => {
    for (const unit of units.values()) expect(nearestUnit(unit).name).toBe(unit.name);
    const odd = { dimension: [2, -2, 0, 0, 0, 1], factor: 5, point: false } as const;
    expect(nearestUnit(odd)).toMatchObject({ name: 'mm2 percent/s2', factor: 1 });
  });
});
