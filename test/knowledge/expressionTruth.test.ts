import { describe, expect, it } from 'vitest';
import {
  evaluate,
  evaluateBoolean,
  evaluateNode,
  holds,
  type Lookup,
  readsOf,
} from '../../src/knowledge/evaluate.ts';
import type { Condition } from '../../src/knowledge/knowledgeBase.ts';
import { compiled, lookupOf, nothingKnown, numberOf } from './expressionScope.ts';

type Truth = boolean | undefined;

// Published: Kleene, Introduction to Metamathematics (1952), section 64: the strong three-valued connectives.
const table: readonly (readonly [Truth, Truth, Truth, Truth])[] = [
  // a, b, a and b, a or b
  [true, true, true, true],
  [true, undefined, undefined, true],
  [true, false, false, true],
  [undefined, true, undefined, true],
  [undefined, undefined, undefined, undefined],
  [undefined, false, false, undefined],
  [false, true, false, true],
  [false, undefined, false, undefined],
  [false, false, false, false],
];

const known = (a: Truth, b: Truth): Lookup =>
  lookupOf({
    ...(a !== undefined && { draught: a ? 'yes' : 'no' }),
    ...(b !== undefined && { drive: b ? 'bowden' : 'direct' }),
  });
const a: Condition = { kind: 'is', name: 'draught', values: ['yes'] };
const b: Condition = { kind: 'is', name: 'drive', values: ['bowden'] };
const not = (truth: Truth): Truth => (truth === undefined ? undefined : !truth);

describe('three-valued logic', () => {
  it.each(table)('a %s, b %s: and %s, or %s', (truthA, truthB, and, or) => {
    const lookup = known(truthA, truthB);
    const truthOf = (text: string): Truth =>
      evaluateBoolean(compiled(text, { expects: 'test' }).node, lookup);
    expect(truthOf('draught is yes and drive is bowden')).toBe(and);
    expect(truthOf('draught is yes or drive is bowden')).toBe(or);
    expect(truthOf('not draught is yes')).toBe(not(truthA));
    expect(truthOf('not (draught is yes and drive is bowden)')).toBe(not(and));
    expect(holds({ kind: 'all', of: [a, b] }, lookup)).toBe(and);
    expect(holds({ kind: 'any', of: [a, b] }, lookup)).toBe(or);
    expect(holds({ kind: 'not', of: a }, lookup)).toBe(not(truthA));
    expect(holds({ kind: 'not', of: { kind: 'any', of: [a, b] } }, lookup)).toBe(not(or));
  });

  it('takes an empty "all" as true and an empty "any" as false', () => {
    expect(holds({ kind: 'all', of: [] }, nothingKnown)).toBe(true);
    expect(holds({ kind: 'any', of: [] }, nothingKnown)).toBe(false);
  });
});

describe('comparison with a limit', () => {
  const limit = (text: string) => compiled(text, { expectedUnit: 'mm' });
  const inside: Condition = {
    kind: 'compare',
    name: 'layer_height',
    above: limit('0.1'),
    below: limit('0.5 * nozzle_diameter'),
  };

  it.each([
    [{ layer_height: 0.15, nozzle_diameter: 0.4 }, true],
    [{ layer_height: 0.2, nozzle_diameter: 0.4 }, false],
    [{ layer_height: 0.1, nozzle_diameter: 0.4 }, false],
    [{ layer_height: 0.05 }, false],
    [{ layer_height: 0.15 }, undefined],
    [{ nozzle_diameter: 0.4 }, undefined],
    [{}, undefined],
    [{ layer_height: Number.NaN, nozzle_diameter: 0.4 }, undefined],
  ])('%o: %s', (facts, truth) => {
    expect(holds(inside, lookupOf(facts))).toBe(truth);
  });

  it('takes a limit that has no answer as unknown', () => {
    const broken: Condition = { kind: 'compare', name: 'layer_height', below: limit('1 mm / 0') };
    expect(holds(broken, lookupOf({ layer_height: 1 }))).toBeUndefined();
  });

  it('says what it reads, once each', () => {
    expect(
      readsOf({ kind: 'all', of: [inside, { kind: 'not', of: { kind: 'any', of: [a, b, inside] } }] }),
    ).toEqual(['layer_height', 'nozzle_diameter', 'draught', 'drive']);
    const byMaterial: Condition = {
      kind: 'compare',
      name: 'bed_temperature',
      below: compiled('material.bed_low', { expectedUnit: 'degC' }),
    };
    expect(readsOf(byMaterial)).toEqual(['bed_temperature', 'material']);
  });
});

describe('unknown', () => {
  it.each([
    'layer_height',
    '0 * layer_height',
    'layer_height - layer_height',
    'min(0.1, layer_height)',
    'max(layer_height, 0.1)',
    'abs(layer_height - 1)',
    'round_to(1, layer_height)',
    'between(1, 0, layer_height)',
    '-layer_height',
    'material.nozzle_low',
    'line_overlap(45, layer_height, 0.4)',
    'if(draught is yes, 1, 2)',
    'if(layer_height < 1, 1 mm, 2 mm)',
    'if(1 < 2, layer_height, 1)',
    '1 / (2 - 2)',
    '0 / 0',
    '1e308 * 10',
    '1e308 + 1e308',
    '-1e308 - 1e308',
    '1e308 * 10 - 1e308 * 10',
    'round_to(1, 0)',
    'round_to(1, -1)',
    'between(1, 5, 0)',
    'line_overlap(0, 0.2, 0.4)',
    'line_overlap(91, 0.2, 0.4)',
    'dew_point(20, 0)',
  ])('%s', (text) => {
    expect(numberOf(text)).toBeUndefined();
  });

  it('does not stand in the way of what it cannot turn', () => {
    expect(numberOf('if(draught is yes, 2, 2)')).toBe(2);
    expect(numberOf('if(1 < 2, 1, layer_height / 1 mm)')).toBe(1);
    expect(numberOf('if(draught is yes, 1 < 2, 3 < 4)', {}, { expects: 'test' })).toBe(1);
    expect(numberOf('1 < 2 or layer_height > 3', {}, { expects: 'test' })).toBe(1);
  });

  it('takes a lookup that gives no number at its word', () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      expect(numberOf('layer_height', { layer_height: value })).toBeUndefined();
      expect(numberOf('material.nozzle_low', { 'material.nozzle_low': value })).toBeUndefined();
    }
  });

  it('passes on a fault that is not about ranges', () => {
    const broken: Lookup = {
      ...nothingKnown,
      value: () => {
        throw new TypeError('broken');
      },
    };
    expect(() => evaluate(compiled('layer_height'), broken)).toThrow(TypeError);
    expect(() => evaluateNode({ op: 'call', name: 'nothing_such', args: [] }, nothingKnown)).toThrow(
      /nothing_such/,
    );
  });
});
