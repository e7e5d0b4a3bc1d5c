import { describe, expect, it } from 'vitest';
import {
  type ConditionLabels,
  compileCondition,
  describe as inWords,
} from '../../src/knowledge/condition.ts';
import { holds, readsOf } from '../../src/knowledge/evaluate.ts';
import type { Condition } from '../../src/knowledge/knowledgeBase.ts';
import { lookupOf, scope } from './expressionScope.ts';

function conditionOf(plain: unknown): Condition {
  const result = compileCondition(plain, scope);
  if (!result.ok) throw new Error(`refused: ${result.message}`);
  return result.condition;
}

describe('a condition', () => {
  it('of one part is that part', () => {
    expect(conditionOf({ material: 'ABS' })).toEqual({ kind: 'is', name: 'material', values: ['ABS'] });
    expect(conditionOf({ popping: ['some', 'much', 'some'] })).toEqual({
      kind: 'is',
      name: 'popping',
      values: ['some', 'much'],
    });
  });

  it('of several parts asks for all of them', () => {
    const condition = conditionOf({
      material: ['ABS', 'ASA'],
      overhang_angle: { below: 30 },
      any: [{ draught: 'yes' }, { fan_percent: { above: 50 } }],
      not: { drive: 'bowden' },
    });
    const enough = { material: 'ASA', overhang_angle: 25, fan_percent: 60, drive: 'direct' };
    expect(holds(condition, lookupOf(enough))).toBe(true);
    expect(holds(condition, lookupOf({ ...enough, drive: 'bowden' }))).toBe(false);
    expect(holds(condition, lookupOf({ ...enough, overhang_angle: 30 }))).toBe(false);
    expect(holds(condition, lookupOf({ ...enough, fan_percent: 50 }))).toBeUndefined();
    expect(holds(condition, lookupOf({ ...enough, fan_percent: 50, draught: 'no' }))).toBe(false);
    expect(readsOf(condition)).toEqual(['material', 'overhang_angle', 'draught', 'fan_percent', 'drive']);
  });

  it('takes limits in any unit of the kind, and expressions', () => {
    const condition = conditionOf({
      open_hours: { below: '90 min' },
      layer_height: { above: '0.5 * nozzle_diameter' },
    });
    expect(holds(condition, lookupOf({ open_hours: 1, layer_height: 0.3, nozzle_diameter: 0.4 }))).toBe(true);
    expect(holds(condition, lookupOf({ open_hours: 1.5, layer_height: 0.3, nozzle_diameter: 0.4 }))).toBe(
      false,
    );
  });

  it('joins lists within each other', () => {
    const condition = conditionOf({
      all: [{ any: [{ draught: 'yes' }, { not: { drive: 'direct' } }] }, { material: 'PLA' }],
    });
    expect(holds(condition, lookupOf({ drive: 'bowden', material: 'PLA' }))).toBe(true);
    expect(holds(condition, lookupOf({ drive: 'direct', draught: 'no', material: 'PLA' }))).toBe(false);
  });

  it('takes an answer that YAML reads as a number', () => {
    const sizes = new Map([['nozzle', { answers: ['0.4', '0.6'] }]]);
    expect(compileCondition({ nozzle: 0.4 }, { facts: sizes, properties: {} })).toMatchObject({ ok: true });
  });
});

const refused: readonly (readonly [unknown, (string | number)[], 'key' | 'value', RegExp])[] = [
  [
    { overhng_angle: { below: 3 } },
    ['overhng_angle'],
    'key',
    /no fact, sign or symptom named "overhng_angle"; did you mean "overhang_angle"\?/,
  ],
  [{ material: 'Nylon' }, ['material'], 'value', /"Nylon" is not an answer of material$/],
  [
    { material: ['PLA', 'abs'] },
    ['material', 1],
    'value',
    /"abs" is not an answer of material; did you mean "ABS"\?/,
  ],
  [{ material: [] }, ['material'], 'value', /no answer of material is given/],
  [{ material: { below: 3 } }, ['material'], 'value', /an answer of material is needed/],
  [{ draught: true }, ['draught'], 'value', /true is not an answer of draught; did you mean "yes"\?/],
  [{ draught: false }, ['draught'], 'value', /did you mean "no"\?/],
  [{ draught: null }, ['draught'], 'value', /an answer of draught is needed/],
  [
    { layer_height: 0.2 },
    ['layer_height'],
    'value',
    /layer_height is a number: say what it is below or above/,
  ],
  [{ layer_height: {} }, ['layer_height'], 'value', /no limit is given/],
  [
    { layer_height: { belo: 0.2 } },
    ['layer_height', 'belo'],
    'key',
    /"belo" is not known here; did you mean "below"\?/,
  ],
  [{ layer_height: { below: '0.2 s' } }, ['layer_height', 'below'], 'value', /"0.2 s" is in s, mm is needed/],
  [
    { layer_height: { below: null } },
    ['layer_height', 'below'],
    'value',
    /a number or an expression is needed/,
  ],
  [
    { layer_height: { above: 0.3, below: 0.2 } },
    ['layer_height'],
    'value',
    /no number is both above 0.3 and below 0.2/,
  ],
  [
    { any: [{ draught: 'yes' }, { drive: 'bowdn' }] },
    ['any', 1, 'drive'],
    'value',
    /did you mean "bowden"\?/,
  ],
  [{ any: { draught: 'yes' } }, ['any'], 'value', /"any" takes a list/],
  [{ all: [] }, ['all'], 'value', /"all" takes a list/],
  [{ not: [{ draught: 'yes' }] }, ['not'], 'value', /a condition is a mapping/],
  [{}, [], 'value', /this condition is empty/],
  [null, [], 'value', /a condition is a mapping/],
  [[{ draught: 'yes' }], [], 'value', /a condition is a mapping/],
  ['material is PLA', [], 'value', /a condition is a mapping/],
  [JSON.parse('{"__proto__": "yes"}'), ['__proto__'], 'key', /no fact, sign or symptom named "__proto__"/],
  [{ constructor: 'yes' }, ['constructor'], 'key', /no fact, sign or symptom named "constructor"/],
  [{ prototype: { below: 1 } }, ['prototype'], 'key', /no fact, sign or symptom named "prototype"/],
  [{ layer_height: JSON.parse('{"__proto__": 1}') }, ['layer_height', '__proto__'], 'key', /not known here/],
  [{ material: 'constructor' }, ['material'], 'value', /"constructor" is not an answer of material/],
];

describe('a mistake in a condition', () => {
  it.each(refused)('%o', (plain, path, at, message) => {
    expect(compileCondition(plain, scope)).toMatchObject({
      ok: false,
      path,
      at,
      message: expect.stringMatching(message),
    });
  });

  it('inside an expression has its place in the text', () => {
    expect(compileCondition({ layer_height: { below: '2 * nozle_diameter' } }, scope)).toMatchObject({
      ok: false,
      start: 4,
      end: 18,
    });
  });

  it('is refused when it never ends', () => {
    const loop: Record<string, unknown> = {};
    loop['not'] = loop;
    expect(compileCondition(loop, scope)).toMatchObject({
      ok: false,
      message: expect.stringMatching(/at most 20 deep/),
    });
    let wide: unknown = { draught: 'yes' };
    for (let i = 0; i < 15; i++) wide = { any: [wide, wide, wide] };
    expect(compileCondition(wide, scope)).toMatchObject({
      ok: false,
      message: expect.stringMatching(/at most 500 parts/),
    });
  });
});

describe('in words', () => {
  const labels: ConditionLabels = {
    name: (id) => (id === 'material' ? 'filament' : id === 'flow' ? 'plastic flow' : id.replaceAll('_', ' ')),
    answer: (_, answer) => answer,
  };
  it.each([
    [
      { material: ['ABS', 'ASA'], overhang_angle: { below: 30 } },
      'filament is ABS or ASA, and overhang angle below 30 deg',
    ],
    [{ material: ['PLA', 'ABS', 'ASA'] }, 'filament is PLA, ABS or ASA'],
    [{ draught: 'yes' }, 'draught: yes'],
    [{ not: { draught: 'yes' } }, 'draught: not yes'],
    [{ not: { material: 'PLA' } }, 'filament is not PLA'],
    [{ not: { layer_height: { above: '0.3 mm' } } }, 'layer height not above 0.3 mm'],
    [{ fan_percent: { above: 20, below: 60 } }, 'fan percent above 20 percent and below 60 percent'],
    [{ open_hours: { below: '90 min' } }, 'open hours below 1.5 h'],
    [{ overlap: { below: 0.5 } }, 'overlap below 0.5'],
    [{ layer_height: { above: '0.7 * nozzle_diameter' } }, 'layer height above 0.7 * nozzle diameter'],
    [{ bed_temperature: { below: 'material.bed_low' } }, "bed temperature below the material's lowest bed"],
    [
      { any: [{ draught: 'yes' }, { material: 'ABS', drive: 'bowden' }] },
      'draught: yes, or (filament is ABS, and drive is bowden)',
    ],
    [
      { not: { any: [{ material: 'ABS' }, { drive: 'bowden' }] } },
      'not (filament is ABS, or drive is bowden)',
    ],
    [
      { print_speed: { above: 'speed_for_flow(flow, line_width, layer_height)' } },
      'print speed above speed_for_flow(plastic flow, line width, layer height)',
    ],
    [
      { flow: { above: '0.9 * min(flow, flow(line_width, 0.2, 60))' } },
      'plastic flow above 0.9 * min(plastic flow, flow(line width, 0.2, 60))',
    ],
  ])('%o', (plain, words) => {
    expect(inWords(conditionOf(plain), labels)).toBe(words);
  });
});
