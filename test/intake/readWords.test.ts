import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { baseForms } from '../../src/intake/baseForms.ts';
import type { Meter } from '../../src/intake/phraseNet.ts';
import { readWords } from '../../src/intake/readWords.ts';
import { withReadings } from '../../src/intake/withReadings.ts';
import type { Material } from '../../src/knowledge/knowledgeBase.ts';
import { cutPhrase } from '../../src/knowledge/phrase.ts';
import { emptyCase } from '../../src/model/case.ts';
import { choice, fix, knowledgeOf, number, sign } from '../support/tinyKnowledge.ts';

/** Invented knowledge: about how phrases are read, not about printing. */
const material = (id: string, name: string, alsoCalled: readonly string[]): Material => ({
  id,
  file: `${id}.yaml`,
  name,
  family: id,
  alsoCalled,
  usual: 1,
  properties: {},
  sources: [],
});

const knowledge = knowledgeOf({
  signs: [sign('popping'), sign('strings', [0.02, 0.01])],
  facts: [
    choice('spool', { dry: 5, wet: 5 }),
    choice('drive', { bowden: 5, direct: 5 }),
    choice('material', { PETG: 5, PA6: 3, TPU: 2 }, { kind: 'material' }),
    number('nozzle_temperature', [200, 220, 250], { unit: 'degC', range: [150, 400] }),
    number('nozzle_diameter', [0.2, 0.4, 0.6], { range: [0.1, 2] }),
    number('bed_temperature', [50, 60, 90], { unit: 'degC', range: [0, 150] }),
    number('print_speed', [30, 60, 120], { unit: 'mm/s', range: [1, 600], saidAlone: [15, 500] }),
    number('overhang_angle', [30, 45, 60], { unit: 'deg', range: [0, 90] }),
    number('part_height', [5, 30, 100], { range: [0.2, 1000] }),
    number('wall_height', [5, 30, 100], { range: [0.2, 1000] }),
    number('first_layer_speed', [15, 20, 30], { unit: 'mm/s', range: [1, 200] }),
    number('retraction_length', [0.5, 2, 6], { range: [0, 15] }),
    number('fan_percent', [30, 60, 100], { unit: 'percent', range: [0, 100] }),
    number('open_hours', [1, 10, 100], { unit: 'h', range: [0, 10000] }),
    number('height_a', [1, 2, 3]),
    number('height_b', [1, 2, 3]),
    number('tube_length', [100, 400, 700], {
      askWhen: { kind: 'is', name: 'drive', values: ['bowden'] },
    }),
  ],
  fixes: [fix('renew_nozzle', {}, 5), fix('dry_spool', {}, 5), fix('tension_belt', {}, 5)],
  materials: [
    material('PETG', 'PETG', ['petg', 'pet-g']),
    material('PA6', 'nylon 6', ['nylon', 'pa6']),
    material('PA12', 'nylon 12', ['nylon 12']),
    material('TPU', 'soft plastic', ['flexible']),
  ],
  wording: {
    phraseWords: { feeder: ['feeder', 'drive gear', 'pusher'] },
    saidByAnswer: {
      popping: { yes: ['pop', '(hear|heard) * crackl-'], no: ['silent nozzle'] },
      strings: {
        some: ['hair', 'of hair a bit'],
        much: ['lots of hair', 'hair everywhere', 'cobweb', 'hair & (whole|all) (over|)'],
      },
      spool: { dry: ['dried * overnight'], wet: ['wet', 'damp spool'] },
      drive: { bowden: ['bowden', 'long tube', '~feeder & frame'], direct: ['direct drive'] },
    },
    said: {
      nozzle_temperature: ['nozzle', 'print temp', 'temp'],
      nozzle_diameter: ['nozzle'],
      bed_temperature: ['bed', '(unheated|cold) bed = 20'],
      overhang_angle: ['slope', 'from upright = other'],
      part_height: ['tall'],
      wall_height: ['tall & wall'],
      print_speed: ['speed', 'print at', '(retract|retraction) speed = other', 'retraction * at = other'],
      first_layer_speed: ['first layer speed'],
      retraction_length: ['retraction', 'retract'],
      fan_percent: ['fan'],
      open_hours: ['sat out'],
      height_a: ['height'],
      height_b: ['height'],
      tube_length: ['tube length'],
      renew_nozzle: ['(swapped|replaced|changed) * nozzle', 'new nozzle'],
      dry_spool: ['dried * (spool|filament)', 'dry the (spool|filament)'],
      tension_belt: ['tighten * belt'],
    },
  },
});

const values = (text: string) => {
  const { facts, signs, tried } = readWords(knowledge, text);
  return Object.fromEntries([...facts, ...signs, ...tried].map(({ id, value }) => [id, value]));
};

describe('phrases', () => {
  it.each([
    ['the nozzle pops', { popping: 'yes' }],
    ['it keeps popping', { popping: 'yes' }],
    ['I heard a very loud crackling', { popping: 'yes' }],
    // Four words are more than a gap takes.
    ['I heard from over there some crackling', {}],
    ['no popping', { popping: 'no' }],
    ['it doesn’t really pop', { popping: 'no' }],
    ['never any loud pops', { popping: 'no' }],
    ['not at first, pops later', { popping: 'yes' }],
    ['it is a silent nozzle', { popping: 'no' }],
    ['not only pops', { popping: 'yes' }],
    ['maybe it pops', {}],
    ['no hairs', {}],
    ['not wet, dried it overnight', { spool: 'dry' }],
    ['Bowden setup', { drive: 'bowden' }],
    ['no bowden', {}],
    // A gap does not reach over a denial.
    ['I heard no crackling', {}],
    ['I heard, not often, crackling', {}],
    ['the drive gears sit on the frame', { drive: 'bowden' }],
    ['on the frame I have the feeder', { drive: 'bowden' }],
    ['the feeder is old. the frame is new', {}],
    ['no feeder on the frame', {}],
    ['hair over the whole thing', { strings: 'much' }],
    ['does it pop?', {}],
    ['why does it pop?', { popping: 'yes' }],
    ['it pops, should I call that a wet spool?', { popping: 'yes' }],
  ])('%s', (text, expected) => {
    expect(values(text)).toEqual(expected);
  });

  it('lets the longer phrase say it', () => {
    expect(values('hairs everywhere')).toEqual({ strings: 'much' });
    expect(values('a hair here and there')).toEqual({ strings: 'some' });
    // Also where it only shares words with the shorter one.
    expect(values('lots of hair a bit')).toEqual({ strings: 'some' });
  });

  it('drops what is said in two ways', () => {
    expect(values('a long tube, no, I mean direct drive')).not.toHaveProperty('drive');
    expect(values('it pops but on the other machine it does not pop')).toEqual({});
  });

  it('gives the words and where they stand', () => {
    const text = 'Well: I  heard it\tcrackle. No popping? Bed at 60 C.';
    const { facts } = readWords(knowledge, text);
    expect(facts).toEqual([{ id: 'bed_temperature', value: 60, words: 'Bed at 60 C', from: 39, to: 50 }]);
    expect(text.slice(39, 50)).toBe('Bed at 60 C');
    expect(readWords(knowledge, 'there is no popping').signs[0]!.words).toBe('no popping');
  });

  it('does not match over the end of a clause', () => {
    expect(values('I heard. Crackling paper')).toEqual({});
    expect(values('damp, spool')).toEqual({});
  });
});

describe('numbers', () => {
  it.each([
    ['nozzle 230', { nozzle_temperature: 230 }],
    ['printing with the nozzle at 230°C, bed 70 C', { nozzle_temperature: 230, bed_temperature: 70 }],
    ['230 nozzle 60 bed', { nozzle_temperature: 230, bed_temperature: 60 }],
    ['nozzle 230 and bed 60', { nozzle_temperature: 230, bed_temperature: 60 }],
    ['0.4 nozzle', { nozzle_diameter: 0.4 }],
    ['0,4 mm nozzle', { nozzle_diameter: 0.4 }],
    // 1 inch is 25.4 mm exactly (international yard and pound agreement, 1959).
    ['a 1/64 inch nozzle', { nozzle_diameter: 25.4 / 64 }],
    // The scales meet as C = (F - 32) / 1.8: 140 F is 60 C.
    ['bed at 140 F', { bed_temperature: 60 }],
    ['nozzle 230 to 245', { nozzle_temperature: 237.5 }],
    ['nozzle at 230-245 °C', { nozzle_temperature: 237.5 }],
    ['between 220 and 230 nozzle temp', { nozzle_temperature: 225 }],
    ['speed 60 mm/s, first layer speed 20mm/s', { print_speed: 60, first_layer_speed: 20 }],
    ['speed of 3600 mm/min', { print_speed: 60 }],
    ['50 mm per second print speed', { print_speed: 50 }],
    ['retraction 5 mm at 40 mm/s', { retraction_length: 5 }],
    ['fan at 100%', { fan_percent: 100 }],
    ['fan 30 percent', { fan_percent: 30 }],
    ['it sat out for 2 days', { open_hours: 48 }],
    ['sat out for 90 min', { open_hours: 1.5 }],
    ['bed was not 60', { bed_temperature: 60 }],
    ['no bed at 60', {}],
    ['bed 500', {}],
    ['bed 20x20x20', {}],
    ['bed for 3 prints', {}],
    ['retraction 1,200 mm', {}],
    ['nozzle 230 or was it nozzle 240', {}],
    // The unit and the size say enough.
    ['all of it with 50 mm/s', { print_speed: 50 }],
    ['all of it with 5 mm/s', {}],
    ['all of it with 50', {}],
    // A phrase may give the value itself, or keep a number from another name.
    ['printed on an unheated bed', { bed_temperature: 20 }],
    ['not on an unheated bed', {}],
    ['retraction speed 40 mm/s', {}],
    ['slope of 60 degrees', { overhang_angle: 60 }],
    ['slope 60 degrees from upright', {}],
    // Degrees without more.
    ['nozzle 222 degrees', { nozzle_temperature: 222 }],
    ['20 tall', { part_height: 20 }],
    ['the wall, 20 tall, sways', { wall_height: 20 }],
    ['I use bed, 70', { bed_temperature: 70 }],
    ['the bed, I use 70', {}],
    // Two facts go by this name.
    ['height 20 mm', {}],
    ['nozzle is fine. 230 people agree', {}],
    ['bed in a room where somebody once said something like 60', {}],
  ])('%s', (text, expected) => {
    const read = values(text);
    expect(Object.keys(read)).toEqual(Object.keys(expected));
    for (const [id, value] of Object.entries(expected)) expect(read[id]).toBeCloseTo(value, 3);
  });

  it('drops a fact that would not be asked', () => {
    expect(values('tube length 400 mm, bowden')).toEqual({ drive: 'bowden', tube_length: 400 });
    expect(values('tube length 400 mm, direct drive')).toEqual({ drive: 'direct' });
    const known = { facts: { drive: 'direct' } };
    expect(readWords(knowledge, 'tube length 400 mm', known).facts).toEqual([]);
  });
});

describe('materials', () => {
  it.each([
    ['printing PETG', { material: 'PETG' }],
    ['pet-g again', { material: 'PETG' }],
    ['some nylon part', { material: 'PA6' }],
    ['nylon 12 part', { material: 'PA12' }],
    ['PETG is bad, nylon is fine', {}],
    ['not petg', {}],
    ['on a flexible plate', {}],
    ['flexible filament', { material: 'TPU' }],
  ])('%s', (text, expected) => {
    expect(values(text)).toEqual(expected);
  });
});

describe('what was tried', () => {
  it.each([
    ['Swapped the nozzle, no change.', { renew_nozzle: 'no_change' }],
    ['New nozzle. Still the same.', { renew_nozzle: 'no_change' }],
    ['I replaced the old brass nozzle and it did not help', { renew_nozzle: 'no_change' }],
    [
      'already have a new nozzle, tightened the belts',
      { renew_nozzle: 'no_change', tension_belt: 'no_change' },
    ],
    ['dried the spool and it is a bit better', { dry_spool: 'better' }],
    ['dried the filament which helped', { dry_spool: 'better' }],
    ['dried the filament, not any better', { dry_spool: 'no_change' }],
    ['dried the filament, made it worse', {}],
    // What made no difference was tried; what merely goes on may have been so all along.
    ['just a new nozzle, no difference at all', { renew_nozzle: 'no_change' }],
    ['a nozzle of brass, new nozzle, useless', { renew_nozzle: 'no_change' }],
    ['the new nozzle, and it is still rough', {}],
    ['put a new nozzle in, same lumps', { renew_nozzle: 'no_change' }],
    // Nothing says how it came out.
    ['I tightened the belts', {}],
    ['should I dry the spool? still no luck', {}],
    ['I have not swapped the nozzle, still bad', {}],
    ['dry the filament first they say, no change in weather', {}],
  ])('%s', (text, expected) => {
    expect(values(text)).toEqual(expected);
  });
});

describe('a case with readings', () => {
  it('keeps what it says itself', () => {
    const readings = readWords(knowledge, 'nozzle 230, bed 60, pops, bowden');
    const known = { ...emptyCase, facts: { nozzle_temperature: 200 }, unknown: ['drive'] };
    const { case: full, used } = withReadings(known, readings);
    expect(full.facts).toEqual({ nozzle_temperature: 200, bed_temperature: 60 });
    expect(full.signs).toEqual({ popping: 'yes' });
    expect(used.map(({ id }) => id)).toEqual(['bed_temperature', 'popping']);
  });
});

describe('any text', () => {
  const words = fc.constantFrom(
    ...[
      'nozzle',
      'bed',
      '230',
      '0.4',
      'mm',
      'to',
      '-',
      ',',
      '.',
      'no',
      'not',
      'pop',
      'new',
      'still',
      'better',
    ],
    ...[
      'already',
      'dried',
      'the',
      'spool',
      'speed',
      '1/2',
      '"',
      '°',
      '\n',
      'nylon',
      'hear',
      'crackling',
      '٣',
      'İ',
    ],
  );
  const text = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 300 }),
    fc.array(words, { maxLength: 60 }).map((list) => list.join(' ')),
    fc.array(words, { maxLength: 60 }).map((list) => list.join('')),
  );

  it('never throws, and every reading is sound', () => {
    fc.assert(
      fc.property(text, (said) => {
        const { facts, signs, tried } = readWords(knowledge, said);
        const all = [...facts, ...signs, ...tried];
        expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
        for (const { id, value, from, to, words: quoted } of all) {
          expect(from).toBeGreaterThanOrEqual(0);
          expect(to).toBeLessThanOrEqual(said.length);
          expect(said.slice(from, to).replace(/\s+/g, ' ').trim()).toBe(quoted);
          const fact = knowledge.facts[id];
          if (fact?.kind === 'number') {
            expect(value).toBeGreaterThanOrEqual(fact.range[0]);
            expect(value).toBeLessThanOrEqual(fact.range[1]);
          }
        }
      }),
      { numRuns: 500 },
    );
  });

  it.each([
    'nozzle ',
    'nozzle 230 ',
    '230 to ',
    'hear ',
    'hear crackling ',
    'not pop ',
    'dried new ',
    'already new nozzle ',
    'swapped ',
    'x',
    '1',
    ',',
    '"',
    '  ',
    '\n',
    'no better ',
    'cobweb hair ',
    'hair all ',
    'feeder frame. ',
  ])('takes steps in proportion to the length: %j', (piece) => {
    const steps = (length: number) => {
      const meter: Meter = { steps: 0 };
      readWords(knowledge, piece.repeat(Math.ceil(length / piece.length)).slice(0, length), {}, meter);
      return meter.steps;
    };
    const small = steps(8 * 1024);
    const large = steps(64 * 1024);
    expect(large).toBeLessThanOrEqual(8 * small * 1.1 + 200);
  });

  it('reads no more than 64 KiB', () => {
    expect(readWords(knowledge, `${' '.repeat(65_536)}it pops`).signs).toEqual([]);
    expect(readWords(knowledge, `${' '.repeat(65_000)}it pops`).signs).toHaveLength(1);
  });
});

describe('the phrase language', () => {
  it('stands for rows of words', () => {
    const cut = cutPhrase('(a|b c|) d * e- & ~f');
    expect(cut).toEqual({
      ok: true,
      parts: [
        [
          {
            kind: 'choice',
            of: [
              [{ kind: 'words', texts: ['a'] }],
              [
                { kind: 'words', texts: ['b'] },
                { kind: 'words', texts: ['c'] },
              ],
              [],
            ],
          },
          { kind: 'words', texts: ['d'] },
          { kind: 'gap' },
          { kind: 'begins', text: 'e' },
        ],
        [{ kind: 'group', name: 'f' }],
      ],
      groups: ['f'],
    });
  });

  it.each([
    '(a',
    'a)',
    '(a|(b))',
    '* a',
    'a *',
    '',
    '()',
    'A',
    'a+',
    'a|b',
    'a '.repeat(81),
    `${'a'.repeat(301)}`,
    '(a|) * b',
    'a (b *|c)',
    'a & (b|)',
    'a & b & c & d & e',
    'a &',
    'a * b * c * d * e',
  ])('refuses %j', (phrase) => {
    expect(cutPhrase(phrase).ok).toBe(false);
  });

  // Spelling rules of English: a doubled consonant, a dropped e, y to i (any grammar of English).
  it.each([
    ['popping', 'pop'],
    ['scraping', 'scrape'],
    ['dried', 'dry'],
    ['clogs', 'clog'],
    ['badly', 'bad'],
    ['crosses', 'cross'],
    ['stuck', 'stick'],
    ['wound', 'wind'],
  ])('takes %s for a form of %s', (form, base) => {
    expect(baseForms(form)).toContain(base);
  });
});
