import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileCondition } from '../../src/knowledge/condition.ts';
import { evaluateBoolean, evaluateNode, holds, type Lookup } from '../../src/knowledge/evaluate.ts';
import { compileExpression } from '../../src/knowledge/expression.ts';
import { formulas } from '../../src/knowledge/formulas.ts';
import { units } from '../../src/knowledge/units.ts';
import { scope } from './expressionScope.ts';

const scraps = [
  ...scope.facts.keys(),
  ...Object.keys(scope.properties).map((name) => `material.${name}_mid`),
  ...formulas.keys(),
  ...units.keys(),
  ...['PLA', 'ABS', 'yes', 'is', 'not', 'and', 'or', 'if', 'min', 'max', 'abs', 'round_to', 'between'],
  ...[
    '+',
    '-',
    '*',
    '/',
    '<',
    '<=',
    '>',
    '>=',
    '(',
    ')',
    '[',
    ']',
    ',',
    '.',
    '0',
    '1',
    '0.4',
    '1e308',
    '1e-308',
  ],
  ...['constructor', '__proto__', '\u0000', '\u001b[2J', '°', '💧', ''],
];
const soup = fc.array(fc.constantFrom(...scraps), { maxLength: 40 }).map((words) => words.join(' '));

/** Expressions that are mostly sound: bare numbers and ratios go with everything. */
const { sound } = fc.letrec<{ sound: string; test: string }>((tie) => ({
  sound: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    fc.constantFrom('0', '1', '3.5', '1e308', '1e-308', 'overlap', 'layer_height / line_width'),
    fc.double({ noNaN: true, noDefaultInfinity: true, min: 0 }).map(String),
    fc
      .tuple(tie('sound'), fc.constantFrom('+', '-', '*', '/'), tie('sound'))
      .map(([a, op, b]) => `(${a} ${op} ${b})`),
    fc
      .tuple(fc.constantFrom('min', 'max', 'round_to'), tie('sound'), tie('sound'))
      .map(([f, a, b]) => `${f}(${a}, ${b})`),
    fc.tuple(tie('sound'), tie('sound'), tie('sound')).map(([a, b, c]) => `between(${a}, ${b}, ${c})`),
    fc.tuple(tie('test'), tie('sound'), tie('sound')).map(([a, b, c]) => `if(${a}, ${b}, ${c})`),
    tie('sound').map((a) => `-abs(${a})`),
  ),
  test: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    fc.constantFrom('material is PLA or ABS', 'draught is not yes'),
    fc
      .tuple(tie('sound'), fc.constantFrom('<', '<=', '>', '>='), tie('sound'))
      .map(([a, op, b]) => `${a} ${op} ${b}`),
    fc.tuple(tie('test'), fc.constantFrom('and', 'or'), tie('test')).map(([a, op, b]) => `(${a} ${op} ${b})`),
    tie('test').map((a) => `not (${a})`),
  ),
}));

const anyNumber = fc.option(fc.double(), { nil: undefined });
const someFacts: fc.Arbitrary<Lookup> = fc
  .record({
    number: anyNumber,
    other: anyNumber,
    answer: fc.option(fc.constantFrom('PLA', 'yes', 'none', 'nonsense'), { nil: undefined }),
  })
  .map(({ number, other, answer }) => ({
    value: (id) => (id.length % 2 === 0 ? number : other),
    answer: () => answer,
    material: () => other,
  }));

function check(text: unknown, lookup: Lookup): boolean {
  let compiledOnce = false;
  for (const expects of ['value', 'test'] as const) {
    const result = compileExpression(text, scope, { expects });
    if (!result.ok) {
      const length = typeof text === 'string' || typeof text === 'number' ? String(text).length : 1;
      expect(result.start).toBeGreaterThanOrEqual(0);
      expect(result.end).toBeGreaterThanOrEqual(result.start);
      expect(result.end).toBeLessThanOrEqual(Math.max(length, 1));
      expect(result.message).not.toBe('');
      continue;
    }
    compiledOnce = true;
    const value = evaluateNode(result.expression.node, lookup);
    expect(value === undefined || Number.isFinite(value)).toBe(true);
    expect([true, false, undefined]).toContain(evaluateBoolean(result.expression.node, lookup));
    // What a snapshot keeps must come to the same.
    expect(evaluateNode(JSON.parse(JSON.stringify(result.expression.node)), lookup)).toBe(value);
  }
  return compiledOnce;
}

describe('any expression', () => {
  it('is compiled or refused, whatever the text', () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.string({ unit: 'binary', maxLength: 600 }), soup, fc.anything()),
        someFacts,
        (text, lookup) => {
          check(text, lookup);
        },
      ),
      { numRuns: 3000 },
    );
  });

  it('comes to a finite number or to nothing', () => {
    let sane = 0;
    fc.assert(
      fc.property(sound, someFacts, (text, lookup) => {
        if (check(text, lookup)) sane += 1;
      }),
      { numRuns: 3000 },
    );
    // Otherwise this would say nothing about evaluation.
    expect(sane).toBeGreaterThan(1500);
  });

  it('never turns what is settled when more becomes known', () => {
    const told: Lookup = {
      value: () => 0.4,
      answer: (id) => (id === 'material' ? 'PLA' : 'no'),
      material: () => 3,
    };
    const untold: Lookup = { value: () => undefined, answer: () => undefined, material: () => undefined };
    let settled = 0;
    fc.assert(
      fc.property(sound, (text) => {
        const result = compileExpression(text, scope);
        if (!result.ok) return;
        const before = evaluateNode(result.expression.node, untold);
        if (before === undefined) return;
        settled += 1;
        expect(evaluateNode(result.expression.node, told)).toBe(before);
      }),
      { numRuns: 2000 },
    );
    expect(settled).toBeGreaterThan(200);
  });
});

describe('any condition', () => {
  const limit = fc.constantFrom<unknown>(3, '2 * 1.5', '-1', 'min(1, 2)');
  const part = fc.letrec<{ sound: unknown; odd: unknown; leaf: unknown }>((tie) => ({
    leaf: fc.oneof(
      fc.record({ material: fc.constantFrom<unknown>('PLA', ['ABS', 'ASA']) }),
      fc.record({ draught: fc.constantFrom('yes', 'no'), popping: fc.constantFrom('none', 'much') }),
      fc.record({ layer_height: fc.record({ below: limit }), overlap: fc.record({ above: limit }) }),
    ),
    sound: fc.oneof(
      { depthSize: 'small', withCrossShrink: true },
      tie('leaf'),
      fc.record({ not: tie('sound') }),
      fc.record({ any: fc.array(tie('sound'), { minLength: 1, maxLength: 3 }) }),
      fc.record({ all: fc.array(tie('sound'), { minLength: 1, maxLength: 3 }) }),
    ),
    odd: fc.dictionary(
      fc.constantFrom(...scope.facts.keys(), 'any', 'all', 'not', 'constructor', '__proto__'),
      fc.oneof(
        fc.constantFrom<unknown>(
          'PLA',
          'yes',
          'nonsense',
          ['PLA', 3],
          3,
          true,
          null,
          { below: 'x' },
          { above: '' },
        ),
        tie('sound'),
        fc.array(tie('sound'), { maxLength: 3 }),
      ),
      { maxKeys: 3 },
    ),
  }));

  it('is compiled or refused, and then true, false or unknown', () => {
    let sane = 0;
    fc.assert(
      fc.property(fc.oneof(part.sound, part.odd, fc.anything()), someFacts, (plain, lookup) => {
        const result = compileCondition(plain, scope);
        if (!result.ok) {
          expect(result.message).not.toBe('');
          expect(Array.isArray(result.path)).toBe(true);
          return;
        }
        sane += 1;
        expect([true, false, undefined]).toContain(holds(result.condition, lookup));
      }),
      { numRuns: 3000 },
    );
    expect(sane).toBeGreaterThan(500);
  });
});
