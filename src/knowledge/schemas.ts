import * as z from 'zod';

/**
 * The form of every kind of entry, as it is written. Words, names, expressions and conditions are looked at later, when
 * all entries are known; here only what a file can be held to by itself. Editors read the same as JSON Schema.
 */
const text = z.string().trim().min(1).max(3000);
// One line: it stands in lists and tables.
const short = z
  .string()
  .trim()
  .min(1)
  .max(200)
  .regex(/^[^\n\t]*$/);
const id = z
  .string()
  .regex(/^[a-z][a-z0-9_]{1,59}$/)
  .meta({ description: 'The id of another entry: its file name without .yaml.' });
const anyId = z.string().regex(/^[A-Za-z][A-Za-z0-9_]{0,59}$/);
const yes = z.union([z.boolean(), z.enum(['yes', 'no'])]).meta({ description: 'yes or no' });
const word = z
  .union([z.string().max(60), z.number()])
  .meta({ description: 'A word of the scale in words.yaml; a number between 0 and 1 needs `because`.' });
const expression = z
  .union([z.string().max(500), z.number()])
  .meta({ description: 'A number, or an expression with units such as `min(material.bed_high, 80 degC)`.' });
const condition = z
  .record(z.string(), z.unknown())
  .meta({ description: 'All of it must hold, as in {material: [ABS, ASA], overhang_angle: {below: 30}}.' });
const chance = z.number().gt(0).lt(1);
const names = z.array(short).max(80).meta({ description: 'Other names that people use.' });
const ids = z.array(anyId).max(40);
const because = text.optional().meta({ description: 'Why this word.' });

export const symptomSchema = z
  .strictObject({
    title: short.meta({
      description: 'What the eye sees, in a few words.',
      examples: ['Edge of an overhang curls up'],
    }),
    under: id.optional().meta({ description: 'The symptom above it; left out for a place at the top.' }),
    order: z.number().optional(),
    look: text.optional(),
    drawing: z.string().max(700).optional().meta({ description: 'At most 9 lines of 60 plain characters.' }),
    'also-called': names.optional(),
    'tell-apart': z.record(id, z.strictObject({ by: id, how: text })).optional(),
    'shows-unexplained': chance.optional(),
    'stop-now': id.optional(),
  })
  .meta({ id: 'symptom', description: 'What the eye sees on a bad print, or a place where it is seen.' });

export const signSchema = z
  .strictObject({
    name: short,
    ask: text,
    levels: z.record(id, short).optional(),
    topic: short,
    look: text,
    'confused-with': text.optional(),
    'effort-seconds': z.number().min(0).max(86_400),
    'cannot-tell': word,
    'shows-unexplained': z.union([chance, z.array(chance).max(6)]).optional(),
    test: z
      .strictObject({ minutes: z.number().min(0).max(2000), grams: z.number().min(0).max(2000) })
      .optional(),
    'ask-when': condition.optional(),
    'also-called': names.optional(),
    because,
  })
  .meta({ id: 'sign', description: 'Something a cause brings about and that can be looked for.' });

const asked = {
  name: short,
  topic: short,
  ask: text,
  look: text,
  'confused-with': text.optional(),
  'effort-seconds': z.number().min(0).max(86_400),
  'cannot-tell': word,
  onset: yes.optional(),
  first: yes.optional(),
  'ask-when': condition.optional(),
  'also-called': names.optional(),
};
const parts = z.record(anyId, z.number().min(0).max(1000));
const range = z.tuple([z.number(), z.number()]);
const three = z.tuple([z.number(), z.number(), z.number()]);

export const factSchema = z
  .discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('choice'),
      ...asked,
      answers: z.record(anyId, short),
      usual: parts,
      'usual-for': z.record(anyId, parts).optional(),
    }),
    z.strictObject({
      kind: z.literal('yes_no'),
      ...asked,
      usual: parts,
      'usual-for': z.record(anyId, parts).optional(),
    }),
    z.strictObject({ kind: z.literal('material'), ...asked }),
    z.strictObject({
      kind: z.literal('number'),
      ...asked,
      unit: short,
      range,
      typical: three,
      'typical-for': z.record(anyId, three).optional(),
      assume: yes.optional(),
      'within-material': id.optional(),
    }),
    z.strictObject({
      kind: z.literal('computed'),
      name: short,
      topic: short,
      unit: short,
      value: expression,
      'rank-only': yes.optional(),
    }),
  ])
  .meta({ id: 'fact', description: 'Something about this print that causes do not change.' });

const link = z.union([
  word,
  z.strictObject({
    shows: word,
    much: word.optional(),
    when: z
      .array(z.strictObject({ if: condition, shows: word, much: word.optional(), because }))
      .max(12)
      .optional(),
    because,
  }),
]);

export const causeSchema = z
  .strictObject({
    name: short,
    why: text,
    usual: word,
    'usual-because': text.optional(),
    because,
    signs: z.record(id, link),
    'likelier-when': z.record(id, z.record(z.string(), z.unknown())).optional(),
    'also-when': z
      .array(z.strictObject({ if: condition, odds: word, because }))
      .max(30)
      .optional(),
    'mistaken-for': z.record(id, text).optional(),
    sources: ids.optional(),
  })
  .meta({
    id: 'cause',
    description: 'What is wrong: in the filament, the machine, the settings, the part or the room.',
  });

export const fixSchema = z
  .strictObject({
    do: text,
    set: short.optional(),
    from: expression.optional(),
    to: z.union([expression, z.tuple([expression, expression])]).optional(),
    unit: short.optional(),
    'why-this-number': text.optional(),
    'no-number': text.optional(),
    'hands-on-minutes': expression,
    'waiting-minutes': expression.optional(),
    grams: expression.optional(),
    reprint: z.enum(['whole', 'piece', 'none']),
    removes: z.record(id, word),
    worsens: z.record(id, text).optional(),
    'side-effects': z.array(text).max(12).optional(),
    'seen-when-it-worked': text,
    cautions: ids.optional(),
    when: condition.optional(),
    caps: z
      .array(
        z.strictObject({
          if: condition.optional(),
          'at-most': expression.optional(),
          'at-least': expression.optional(),
          because: text,
        }),
      )
      .max(12)
      .optional(),
    'also-called': names.optional(),
    sources: ids.optional(),
    because,
  })
  .meta({ id: 'fix', description: 'A concrete change that removes causes, with its number.' });

export const cautionSchema = z
  .strictObject({
    text,
    when: condition.optional(),
    'stop-now': yes.optional(),
    words: names.optional(),
    sources: ids.optional(),
  })
  .meta({ id: 'caution', description: 'A safety sentence that must be shown with a fix or a question.' });

const known = z.enum(['retrieved', 'from memory', 'common practice']);

export const materialSchema = z
  .strictObject({
    name: short,
    family: short,
    'also-called': names.optional(),
    usual: z.number().gt(0).max(10),
    properties: z.record(
      id,
      z.strictObject({
        low: z.number(),
        high: z.number(),
        mid: z.number().optional(),
        known,
        note: text.optional(),
      }),
    ),
    chamber: text.optional(),
    fumes: text.optional(),
    sources: ids.optional(),
  })
  .meta({ id: 'material', description: 'A family of plastics with the ranges advice must keep to.' });

export const sourcesSchema = z
  .record(id, z.strictObject({ what: text, known }))
  .meta({ id: 'sources', description: 'Where what is said comes from.' });

const scale = z.record(z.string(), z.number());

export const wordsSchema = z
  .strictObject({ links: scale, usual: scale, odds: scale, chances: scale })
  .meta({ id: 'words', description: 'The scales of words and the number each stands for.' });

const minutes = z.number().min(0).max(100_000);

export const weightsSchema = z
  .strictObject({
    'waiting-share': z.number().min(0).max(1),
    'minutes-per-gram': minutes,
    'reprint-minutes': minutes,
    'reprint-grams': minutes,
    'piece-minutes': minutes,
    'piece-grams': minutes,
    'call-minutes': minutes,
    questions: z.number().min(1).max(100),
    'more-questions': z.number().min(1).max(200),
  })
  .meta({ id: 'weights', description: 'What time, filament and giving up are worth, in minutes.' });

export const changeSchema = z
  .strictObject({
    change: anyId.optional().meta({ description: 'The id of the entry to change.' }),
    set: z
      .record(z.string(), z.unknown())
      .optional()
      .meta({ description: 'Keys of that entry with their new values.' }),
    'switch-off': z.array(anyId).max(200).optional(),
    because: text,
  })
  .meta({ id: 'change', description: 'A local change: one entry adjusted, or some switched off.' });

export const schemas = {
  symptom: symptomSchema,
  sign: signSchema,
  fact: factSchema,
  cause: causeSchema,
  fix: fixSchema,
  caution: cautionSchema,
  material: materialSchema,
  sources: sourcesSchema,
  words: wordsSchema,
  weights: weightsSchema,
  change: changeSchema,
} as const;

export type Kind = keyof typeof schemas;
export type Raw<K extends Kind> = z.infer<(typeof schemas)[K]>;
