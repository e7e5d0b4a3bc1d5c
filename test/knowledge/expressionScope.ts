import { evaluateNode, type Lookup } from '../../src/knowledge/evaluate.ts';
import { compileExpression, type Expected, type Named, type Scope } from '../../src/knowledge/expression.ts';
import type { Expression } from '../../src/knowledge/knowledgeBase.ts';
import { materialUnits } from '../../src/knowledge/units.ts';

const names: readonly (readonly [string, Named])[] = [
  ['overhang_angle', { unit: 'deg' }],
  ['layer_height', { unit: 'mm' }],
  ['line_width', { unit: 'mm' }],
  ['nozzle_diameter', { unit: 'mm' }],
  ['print_speed', { unit: 'mm/s' }],
  ['nozzle_temperature', { unit: 'degC' }],
  ['bed_temperature', { unit: 'degC' }],
  ['fan_percent', { unit: 'percent' }],
  ['overlap', { unit: 'ratio' }],
  ['open_hours', { unit: 'h' }],
  ['flow', { unit: 'mm3/s' }],
  ['material', { answers: ['PLA', 'PETG', 'ABS', 'ASA', 'PA6', 'TPU_95A'] }],
  ['drive', { answers: ['direct', 'bowden'] }],
  ['draught', { answers: ['yes', 'no'] }],
  ['popping', { answers: ['none', 'some', 'much'] }],
];

/** A few names of every kind, for tests of the language alone. */
export const scope: Scope = { facts: new Map(names), properties: materialUnits };

/** The expression, or a failed test that says why it was refused. */
export function compiled(text: unknown, expected: Expected = {}): Expression {
  const result = compileExpression(text, scope, expected);
  if (!result.ok) throw new Error(`refused: ${result.message}`);
  return result.expression;
}

/** What is known in a test; all else is unknown. */
export function lookupOf(known: Readonly<Record<string, number | string>>): Lookup {
  const get = (key: string): number | string | undefined =>
    Object.hasOwn(known, key) ? known[key] : undefined;
  const numberAt = (key: string): number | undefined => {
    const value = get(key);
    return typeof value === 'number' ? value : undefined;
  };
  return {
    value: numberAt,
    answer: (id) => {
      const value = get(id);
      return typeof value === 'string' ? value : undefined;
    },
    material: (property, end) => numberAt(`material.${property}_${end}`),
  };
}

export const nothingKnown: Lookup = lookupOf({});

/** The number an expression comes to; a test comes to 1 or 0. */
export function numberOf(
  text: unknown,
  known: Readonly<Record<string, number | string>> = {},
  expected: Expected = {},
): number | undefined {
  return evaluateNode(compiled(text, expected).node, lookupOf(known));
}
