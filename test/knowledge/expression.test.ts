import { describe, expect, it } from 'vitest';
import { evaluate } from '../../src/knowledge/evaluate.ts';
import { compileExpression, LONGEST_EXPRESSION, reservedWords } from '../../src/knowledge/expression.ts';
import { compiled, lookupOf, numberOf, scope } from './expressionScope.ts';

const known = {
  overhang_angle: 40,
  layer_height: 0.2,
  line_width: 0.4,
  nozzle_diameter: 0.4,
  print_speed: 60,
  nozzle_temperature: 230,
  fan_percent: 40,
  open_hours: 12,
  material: 'ABS',
  drive: 'bowden',
  'material.nozzle_low': 220,
  'material.nozzle_mid': 240,
  'material.drying_hours_high': 6,
};

describe('numbers', () => {
  it.each([
    ['2 * nozzle_diameter', 0.8],
    ['1 + 2 * 3', 7],
    ['(1 + 2) * 3', 9],
    ['10 - 4 - 3', 3],
    ['24 / 4 / 3', 2],
    ['-2 * -3', 6],
    ['- - 5', 5],
    ['-(2 + 3)', -5],
    ['.5 + 1.', 1.5],
    ['1.5e-1', 0.15],
    ['  7  ', 7],
    ['10 / 4', 2.5],
    ['min(3, 1, 2)', 1],
    ['max(3, 1, 2)', 3],
    ['abs(2 - 5)', 3],
    ['round_to(0.33, 0.1)', 0.3],
    ['round_to(0.15, 0.1)', 0.2],
    ['round_to(237, 5)', 235],
    ['round_to(-7, 5)', -5],
    ['between(7, 0, 5)', 5],
    ['between(-1, 0, 5)', 0],
    ['between(3, 0, 5)', 3],
    ['if(material is ABS, 1, 2)', 1],
    ['if(drive is direct, 1, 2)', 2],
    ['nozzle_temperature - material.nozzle_mid', -10],
    ['flow(line_width, layer_height, print_speed)', 4.8],
  ])('%s', (text, result) => {
    expect(numberOf(text, known)).toBeCloseTo(result, 12);
  });

  it('takes a plain number from YAML', () => {
    for (const value of [0, 0.2, -40, 60, 1e21, 5e-324]) expect(numberOf(value)).toBe(value);
    expect(numberOf(0.2, {}, { expectedUnit: 'mm' })).toBe(0.2);
  });

  it('rounds to decimals as they are written', () => {
    for (let n = 1; n <= 40; n++) {
      expect(numberOf(`round_to(${n / 20}, 0.05)`)).toBe(n / 20);
      expect(numberOf(`round_to(${n / 10}, 0.1)`)).toBe(n / 10);
    }
  });

  it('lists what it reads, once each', () => {
    expect(compiled('if(material is PLA, line_width, line_width * overlap)').reads).toEqual([
      'material',
      'line_width',
      'overlap',
    ]);
    expect(compiled('material.nozzle_high').reads).toEqual(['material']);
    expect(compiled('1 mm').reads).toEqual([]);
  });

  it('keeps the text as written', () => {
    expect(compiled(' 2*nozzle_diameter ').text).toBe(' 2*nozzle_diameter ');
  });
});

describe('units in expressions', () => {
  it.each([
    ['2 * nozzle_diameter', 'mm'],
    ['layer_height * line_width * print_speed', 'mm3/s'],
    ['layer_height / line_width', 'ratio'],
    ['line_width / print_speed', 's'],
    ['nozzle_temperature - bed_temperature', 'K'],
    ['nozzle_temperature + 10 K', 'degC'],
    ['10 K + nozzle_temperature', 'degC'],
    ['nozzle_temperature - 5 K', 'degC'],
    ['2 * (nozzle_temperature - bed_temperature) + bed_temperature', 'degC'],
    ['min(material.bed_high, 100 degC)', 'degC'],
    ['round_to(nozzle_temperature, 5 K)', 'degC'],
    ['fan_percent / 100 percent', 'ratio'],
    ['overlap * 100 percent', 'percent'],
    ['material.drying_hours_low + 30 min', 'h'],
    ['if(material is PLA, 2 mm, 5)', 'mm'],
    ['between(fan_percent, 0, 100)', 'percent'],
    ['line_overlap(overhang_angle, layer_height, line_width)', 'ratio'],
    ['3', 'ratio'],
    ['1 mm * 1 mm / (1 s * 1 s)', 'mm2/s2'],
  ])('%s is in %s', (text, unit) => {
    expect(compiled(text).unit).toBe(unit);
  });

  it.each([
    ['open_hours', 'min', 720],
    ['30 min', 'h', 0.5],
    ['open_hours + 30 min', 'h', 12.5],
    ['material.drying_hours_high', 'min', 360],
    ['max(90 min, 1 h)', 'h', 1.5],
    ['open_hours * 1 mm/s', 'mm', 43_200],
    ['4', 'min', 4],
    ['-10', 'degC', -10],
    ['if(drive is bowden, 5, 1)', 'mm', 5],
    ['2 * 30', 'min', 60],
    ['layer_height + 0.05', 'mm', 0.25],
    ['min(material.nozzle_low, 200)', 'degC', 200],
    ['-20 degC', 'degC', -20],
    ['shrink_strain(90 1e-6/K, 105 degC, 25 degC)', 'ratio', 0.0072],
  ])('%s given in %s', (text, unit, result) => {
    const expression = compiled(text, { expectedUnit: unit });
    expect(expression.unit).toBe(unit);
    expect(evaluate(expression, lookupOf(known))).toBeCloseTo(result, 12);
  });

  it('leaves numbers alone that are in the unit wanted', () => {
    expect(compiled('nozzle_diameter', { expectedUnit: 'mm' }).node).toEqual({
      op: 'fact',
      id: 'nozzle_diameter',
    });
    expect(compiled('4 h', { expectedUnit: 'min' }).node).toEqual({ op: 'number', value: 240 });
  });

  it('tells units that begin alike', () => {
    expect(compiled('2 mm').unit).toBe('mm');
    expect(compiled('2 mm/s').unit).toBe('mm/s');
    expect(compiled('2 mm/s2').unit).toBe('mm/s2');
    expect(compiled('2 mm / 4 s').unit).toBe('mm/s');
    expect(compiled('2mm3/s').unit).toBe('mm3/s');
    expect(compiled('10 min').unit).toBe('min');
    expect(compiled('10 m').unit).toBe('m');
    expect(compiled('8 deg').unit).toBe('deg');
    expect(compiled('8 degC').unit).toBe('degC');
  });

  it('counts two lengths as equal that differ in the last digit only', () => {
    // 1.35 / 0.45 falls just short of, or just above, 3 in binary; three lines are not "below three lines".
    expect(numberOf('if(1.35 mm / 0.45 mm < 3, 1, 0)')).toBe(0);
    expect(numberOf('if(1.35 mm / 0.45 mm > 3, 1, 0)')).toBe(0);
    expect(numberOf('if(0.1 + 0.2 <= 0.3, 1, 0)')).toBe(1);
    expect(numberOf('if(2.999 < 3, 1, 0)')).toBe(1);
  });
});

describe('tests', () => {
  it.each([
    ['overhang_angle < 45', true],
    ['overhang_angle < 45 deg and material is ABS', true],
    ['overhang_angle >= 40', true],
    ['not overhang_angle > 45', true],
    ['material is ABS or ASA', true],
    ['material is [PLA, PETG]', false],
    ['material is not PLA', true],
    ['material is PLA or drive is bowden', true],
    ['material is PLA or ASA and drive is bowden', false],
    ['(material is PLA or PETG) or overhang_angle < 41', true],
    ['open_hours > 600 min', true],
    ['nozzle_temperature - material.nozzle_mid < 0 K', true],
    ['if(drive is bowden, material is ABS, material is PLA)', true],
    ['material is PLA or material is ABS', true],
  ])('%s', (text, truth) => {
    expect(numberOf(text, known, { expects: 'test' })).toBe(truth ? 1 : 0);
  });

  it('binds "and" before "or", "not" before both', () => {
    expect(
      numberOf(
        'draught is yes or draught is no and drive is direct',
        { draught: 'yes', drive: 'bowden' },
        { expects: 'test' },
      ),
    ).toBe(1);
    expect(
      numberOf(
        'not draught is yes and drive is direct',
        { draught: 'no', drive: 'bowden' },
        { expects: 'test' },
      ),
    ).toBe(0);
  });
});

/** The mistake, the part of the text it must point at, and what must be said. */
const mistakes: readonly (readonly [string, string, RegExp])[] = [
  ['overhng_angle < 30', 'overhng_angle', /no fact named "overhng_angle"; did you mean "overhang_angle"\?/],
  ['nozzle_pressure', 'nozzle_pressure', /no fact named "nozzle_pressure"$/],
  ['material is Nylon', 'Nylon', /"Nylon" is not an answer of material/],
  ['material is PLA or Petg', 'Petg', /"Petg" is not an answer of material; did you mean "PETG"\?/],
  ['material is [PLA, abs]', 'abs', /did you mean "ABS"\?/],
  [
    'layer_height > 0.2 s',
    'layer_height > 0.2 s',
    /units do not match: "layer_height" is in mm, "0.2 s" in s/,
  ],
  ['layer_height + print_speed', 'layer_height + print_speed', /is in mm, "print_speed" in mm\/s/],
  ['nozzle_temperature > 10 K', 'nozzle_temperature > 10 K', /is in degC, "10 K" in K/],
  ['min(fan_percent, overlap)', 'min(fan_percent, overlap)', /is in percent, "overlap" in ratio/],
  ['if(draught is yes, 1 mm, 2 s)', 'if(draught is yes, 1 mm, 2 s)', /is in mm, "2 s" in s/],
  ['nozzle_temperature + bed_temperature', 'nozzle_temperature + bed_temperature', /cannot be added/],
  ['10 K - nozzle_temperature', '10 K - nozzle_temperature', /cannot be taken/],
  ['nozzle_temperature + 10', '10', /needs a unit beside a temperature/],
  ['nozzle_temperature + 10 mm', 'nozzle_temperature + 10 mm', /is in degC, "10 mm" in mm/],
  ['2 * nozzle_temperature', 'nozzle_temperature', /cannot be multiplied/],
  ['-nozzle_temperature', '-nozzle_temperature', /means nothing/],
  ['abs(nozzle_temperature)', 'abs(nozzle_temperature)', /abs cannot be taken of degC/],
  ['round_to(nozzle_temperature, 5 degC)', 'round_to(nozzle_temperature, 5 degC)', /units do not match/],
  [
    'line_overlp(overhang_angle, 1, 1)',
    'line_overlp',
    /no function named "line_overlp"; did you mean "line_overlap"\?/,
  ],
  ['line_overlap(overhang_angle, 1)', 'line_overlap(overhang_angle, 1)', /takes 3 values, not 2/],
  [
    'line_overlap(layer_height, 0.2, 0.4)',
    'layer_height',
    /takes the overhang angle in deg, "layer_height" is in mm/,
  ],
  ['dew_point()', 'dew_point()', /takes 2 values, not 0/],
  ['min(1)', 'min(1)', /takes two values or more/],
  ['if(draught is yes, 1)', 'if(draught is yes, 1)', /takes 3 values, not 2/],
  ['overlap(1)', 'overlap', /no function named "overlap"/],
  ['min + 1', 'min', /"min" is a function/],
  ['dew_point + 1', 'dew_point', /"dew_point" is a function/],
  ['material + 1', 'material', /has answers, not a number/],
  ['layer_height is 3', '3', /after "is" stands an answer/],
  ['layer_height is PLA', 'layer_height', /is a number, it has no answers/],
  ['2 is PLA', '2', /asks for the answer to a fact/],
  ['material is', 'is', /after "is" stands an answer/],
  ['if(layer_height, 1, 2)', 'layer_height', /is a number where yes or no is needed/],
  ['1 + (layer_height < 1)', '(layer_height < 1)', /is true or false where a number is needed/],
  ['layer_height < 1', 'layer_height < 1', /is true or false where a number is needed/],
  ['if(1 < 2 < 3, 1, 2)', '<', /only two values can be compared/],
  ['material.glue_low', 'glue_low', /materials have no property "glue_low"/],
  ['material.nozle_low', 'nozle_low', /did you mean "nozzle_low"\?/],
  ['material.nozzle', 'nozzle', /a low end, a high end and a middle/],
  ['material.', '', /after the dot stands a property/],
  ['drive.nozzle_low', 'drive', /"drive" has no properties/],
  ['3 hours', 'hours', /no unit named "hours"; did you mean "h"\?/],
  ['3 layer_height', 'layer_height', /no unit named "layer_height"/],
  ['0.2 mm layer_height', 'layer_height', /cannot stand here/],
  ['30 %', '%', /has no meaning here/],
  ['60 °C', '°', /has no meaning here/],
  ['layer_height == 1', '=', /has no meaning here/],
  ['2 *', '', /ends too early/],
  ['(1 + 2', '', /ends too early/],
  ['1 + 2)', ')', /cannot stand here/],
  ['1 2', '2', /a number cannot stand here/],
  ['and', 'and', /cannot stand here/],
  ['material in PLA', 'in', /"in" is not known/],
  ['1e999', '1e999', /too large/],
  ['', '', /is empty/],
  ['  ', '  ', /is empty/],
];

describe('mistakes', () => {
  it.each(mistakes)('%s', (text, place, message) => {
    const result = compileExpression(text, scope);
    expect(result.ok).toBe(false);
    if (result.ok) return;
    expect(result.message).toMatch(message);
    expect(text.slice(result.start, result.end)).toBe(place);
  });

  it.each([
    ['nozzle_diameter', 's', /"nozzle_diameter" is in mm, s is needed/],
    ['overlap', 'percent', /"overlap" is in ratio, percent is needed/],
    ['fan_percent', 'ratio', /"fan_percent" is in percent, ratio is needed/],
    ['10 K', 'degC', /"10 K" is in K, degC is needed/],
    ['nozzle_temperature', 'K', /is in degC, K is needed/],
    ['layer_height < 1', 'mm', /is true or false where a number is needed/],
    ['1', 'minutes', /no unit named "minutes"; did you mean "min"\?/],
  ])('%s where %s is wanted', (text, unit, message) => {
    expect(compileExpression(text, scope, { expectedUnit: unit })).toMatchObject({
      ok: false,
      start: 0,
      end: text.length,
      message: expect.stringMatching(message),
    });
  });

  it('helps with percent, ratio, degC and K', () => {
    const help = (text: string, expectedUnit: string): string | undefined => {
      const result = compileExpression(text, scope, { expectedUnit });
      return result.ok ? undefined : result.help;
    };
    expect(help('fan_percent', 'ratio')).toMatch(/Divide by "100 percent"/);
    expect(help('overlap', 'percent')).toMatch(/Multiply by "100 percent"/);
    expect(help('10 K', 'degC')).toMatch(/degC \+ K is degC/);
  });

  it('wants a test where one is expected', () => {
    expect(compileExpression('layer_height', scope, { expects: 'test' })).toMatchObject({
      ok: false,
      message: '"layer_height" is a number where yes or no is needed',
    });
  });

  it.each([null, undefined, true, Number.NaN, Number.POSITIVE_INFINITY, [1], { a: 1 }, Symbol('x'), 1n])(
    'refuses what is neither number nor text: %s',
    (value) => {
      expect(compileExpression(value, scope)).toMatchObject({
        ok: false,
        message: 'a number or an expression is needed',
      });
    },
  );
});

describe('bounds', () => {
  it('takes what is just short enough and refuses one character more', () => {
    const text = '1+'.repeat(LONGEST_EXPRESSION / 2 - 1);
    expect(numberOf(`${text}12`)).toBe(LONGEST_EXPRESSION / 2 - 1 + 12);
    expect(compileExpression(`${text}123`, scope)).toMatchObject({
      ok: false,
      message: /longer than 500/ as unknown,
    });
  });

  it('refuses what is nested too deep, in every way to nest', () => {
    const nested = (open: string, close: string, depth: number): string =>
      `${open.repeat(depth)}1${close.repeat(depth)}`;
    for (const [open, close] of [
      ['(', ')'],
      ['- ', ''],
      ['abs(', ')'],
    ] as const) {
      expect(compileExpression(nested(open, close, 40), scope).ok).toBe(true);
      const refused = compileExpression(nested(open, close, 41), scope);
      expect(refused.ok || refused.message).toMatch(/nested more than 40 deep/);
    }
    const refused = compileExpression(`${'not '.repeat(41)}draught is yes`, scope, { expects: 'test' });
    expect(refused.ok || refused.message).toMatch(/nested more than 40 deep/);
  });

  it('refuses units that multiply beyond all numbers', () => {
    const refused = compileExpression(Array.from({ length: 40 }, () => '1 GPa').join('*'), scope);
    expect(refused.ok || refused.message).toMatch(/more than can be reckoned with/);
  });

  it('keeps a number too large for its new unit unknown, in a snapshot as well', () => {
    const expression = compiled('1e308 h', { expectedUnit: 's' });
    expect(evaluate(expression, lookupOf({}))).toBeUndefined();
    expect(evaluate(JSON.parse(JSON.stringify(expression)), lookupOf({}))).toBeUndefined();
  });
});

describe('escape', () => {
  const inherited = [
    'constructor',
    '__proto__',
    'prototype',
    'toString',
    'hasOwnProperty',
    'valueOf',
    'this',
    'globalThis',
    'process',
    'require',
    'eval',
  ];

  it.each(inherited)('%s is no name, function, answer, property or unit', (word) => {
    for (const text of [
      word,
      `${word}(1)`,
      `${word}.nozzle_low`,
      `material is ${word}`,
      `material.${word}`,
      `material.${word}_low`,
      `material.nozzle_low.${word}`,
      `material.nozzle_low(${word})`,
      `material[${word}]`,
      `3 ${word}`,
      `min.${word}(1)`,
    ]) {
      expect(compileExpression(text, scope).ok, text).toBe(false);
      expect(compileExpression(text, scope, { expects: 'test' }).ok, text).toBe(false);
    }
    expect(compileExpression('1', scope, { expectedUnit: word }).ok).toBe(false);
  });

  it('has words that no fact may be called', () => {
    for (const word of reservedWords) expect(compileExpression(word, scope).ok).toBe(false);
  });
});
