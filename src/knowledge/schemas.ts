import * as z from 'zod';

/**
 * The form of every kind of entry, as it is written. Words, names, expressions and conditions are looked at later, when
 * all entries are known; here only what a file can be held to by itself. Editors read the same as JSON Schema, with the
 * descriptions as help.
 */
const text = z.string().trim().min(1).max(3000);
// One line: it stands in lists and tables.
const short = z
  .string()
  .trim()
  .min(1)
  .max(200)
  .regex(/^[^\n\t]*$/);
const id = z.string().regex(/^[a-z][a-z0-9_]{1,59}$/);
const anyId = z.string().regex(/^[A-Za-z][A-Za-z0-9_]{0,59}$/);
const yes = z.union([z.boolean(), z.enum(['yes', 'no'])]);
const word = z.union([z.string().max(60), z.number()]);
const expression = z.union([z.string().max(500), z.number()]);
const condition = z.record(z.string(), z.unknown());
const chance = z.number().gt(0).lt(1);
const seconds = z.number().min(0).max(86_400);

const names = z
  .array(short)
  .max(80)
  .meta({
    description: 'Other names that people use: everyday words, many of them.',
    examples: [['hairs', 'cobwebs', 'angel hair']],
  });
const phrases = z.array(z.string().trim().min(1).max(300)).max(80);
const said = phrases.meta({
  description:
    'Phrases by which people say this in their own words: rows of words in lower case, `(a|b c)` one of these, `*` up to three words, `clog-` any word that begins so, `~feeder` a word of that group, `a & b` both in one sentence.',
  examples: [['(replaced|changed) * nozzle', 'new nozzle']],
});
const saidByAnswer = z.record(anyId, phrases).meta({
  description: 'For each answer the phrases by which people say it; a denial turns yes into no by itself.',
  examples: [{ yes: ['feeder clicks', 'clicking from the (extruder|feeder)'] }],
});
const sources = z
  .array(anyId)
  .max(40)
  .meta({
    description: 'Where the figures come from: keys of sources.yaml.',
    examples: [['trade_practice']],
  });
const because = text.meta({
  description: 'Why this word or number; needed where a bare number stands for a word.',
});
const link = word.meta({
  description: 'A word of the links in words.yaml; a number between 0 and 1 needs `because`.',
  examples: ['usually', 'sometimes'],
});
const odds = word.meta({
  description: 'A word of the odds in words.yaml.',
  examples: ['favours', 'strongly against'],
});
const when = (description: string) =>
  condition.meta({ description, examples: [{ material: ['ABS', 'ASA'], overhang_angle: { below: 30 } }] });
const value = (description: string, example: string | number) =>
  expression.meta({ description, examples: [example] });

const peopleSay = z
  .array(short)
  .max(200)
  .meta({
    description: 'Sentences in which people speak of it, as they would write them; for the search.',
    examples: [['there are hairs between the two posts']],
  });

const told = z
  .record(
    id,
    z
      .array(
        z
          .string()
          .trim()
          .min(1)
          .max(500)
          .regex(/^[^\n\t]*$/),
      )
      .min(1)
      .max(80),
  )
  .meta({
    description:
      'By symptom complained of, reports of people whose print failed from this cause and who did not know it: what they saw, in their own words. What words they share tells what an unknown description is about.',
    examples: [{ stringing: ['PETG that printed clean in spring leaves cobwebs everywhere, same profile'] }],
  });

export const symptomSchema = z
  .strictObject({
    title: short.meta({
      description: 'What the eye sees, in a few words.',
      examples: ['Edge of an overhang curls up'],
    }),
    under: id
      .meta({ description: 'Id of the symptom above it; left out for a place at the top.' })
      .optional(),
    order: z.number().meta({ description: 'Place in the list; the lowest first.' }).optional(),
    look: text.meta({ description: 'How to look, in a sentence or two.' }).optional(),
    drawing: z
      .string()
      .max(700)
      .meta({ description: 'At most 9 lines of 60 plain characters; needed for the lowest symptoms.' })
      .optional(),
    'also-called': names.optional(),
    'people-say': peopleSay.optional(),
    said: said.optional(),
    'tell-apart': z
      .record(
        id,
        z.strictObject({
          by: id.meta({ description: 'The sign or fact that tells the two apart.' }),
          how: text.meta({ description: 'How, in one sentence.' }),
        }),
      )
      .meta({ description: 'Symptoms that look alike, and how to tell this one from each.' })
      .optional(),
    'shows-unexplained': chance
      .meta({ description: 'Chance that it shows with no known cause; 0.01 if left out.' })
      .optional(),
    'stop-now': id
      .meta({ description: 'Id of a caution to show at once; only for smoke and the like.' })
      .optional(),
  })
  .meta({ id: 'symptom', description: 'What the eye sees on a bad print, or a place where it is seen.' });

export const signSchema = z
  .strictObject({
    name: short.meta({ description: 'Short label, as it stands in a list of reasons.' }),
    ask: text.meta({ description: 'The question, as one would ask it at the bench.' }),
    levels: z
      .record(id, short)
      .meta({
        description: 'Answers, the first for "absent"; left out for plain no and yes.',
        examples: [{ none: 'no', some: 'now and then', much: 'often' }],
      })
      .optional(),
    topic: short.meta({ description: 'Questions of one topic stay together.', examples: ['nozzle'] }),
    look: text.meta({ description: 'How to look, with the tools one has.' }),
    'confused-with': text.meta({ description: 'What it is easily taken for.' }).optional(),
    'effort-seconds': seconds.meta({ description: 'How long looking takes.' }),
    'cannot-tell': link.meta({ description: 'How often people cannot tell: a word of the links.' }),
    'shows-unexplained': z
      .union([chance, z.array(chance).max(6)])
      .meta({
        description:
          'Chance that it shows with no known cause, 0.01 if left out; or one for each level above "absent".',
      })
      .optional(),
    test: z
      .strictObject({ minutes: z.number().min(0).max(2000), grams: z.number().min(0).max(2000) })
      .meta({ description: 'Only if a small print must be made to see it.' })
      .optional(),
    'ask-when': when('Asked only when this holds.').optional(),
    'also-called': names.optional(),
    said: saidByAnswer.optional(),
    because: because.optional(),
  })
  .meta({ id: 'sign', description: 'Something a cause brings about and that can be looked for.' });

const asked = {
  name: short.meta({ description: 'Short label, as in "filament: nylon".' }),
  topic: short.meta({ description: 'Questions of one topic stay together.' }),
  ask: text.meta({ description: 'The question, as one would ask it at the bench.' }),
  look: text.meta({ description: 'Where to look or how to measure.' }),
  'confused-with': text.meta({ description: 'What it is easily taken for.' }).optional(),
  'effort-seconds': seconds.meta({ description: 'How long finding out takes.' }),
  'cannot-tell': link.meta({ description: 'How often people cannot tell: a word of the links.' }),
  onset: yes.meta({ description: 'When it began, what changed, what it follows: asked early.' }).optional(),
  first: yes.meta({ description: 'Asked before everything else.' }).optional(),
  'ask-when': when('Asked only when this holds.').optional(),
  'also-called': names.optional(),
};
const parts = z.record(anyId, z.number().min(0).max(1000)).meta({
  description: 'Of ten failed prints, how many have each answer.',
  examples: [{ sealed: 4, days: 3, weeks: 3 }],
});
const partsFor = z
  .record(anyId, parts)
  .meta({ description: 'The same for prints in one material, by its id.' })
  .optional();
const three = z.tuple([z.number(), z.number(), z.number()]).meta({
  description:
    'One failed print in ten lies below the first, half below the second, one in ten above the third.',
  examples: [[30, 45, 65]],
});
const unit = short.meta({
  description: 'mm, deg, degC, K, mm/s, mm3/s, s, min, h, g, percent, ratio and their like.',
});

export const factSchema = z
  .discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('choice'),
      ...asked,
      answers: z.record(anyId, short).meta({
        description: 'Answers by id.',
        examples: [{ sealed: 'in a sealed bag', days: 'open for days' }],
      }),
      usual: parts,
      'usual-for': partsFor,
      said: saidByAnswer.optional(),
    }),
    z.strictObject({
      kind: z.literal('yes_no'),
      ...asked,
      usual: parts,
      'usual-for': partsFor,
      said: saidByAnswer.optional(),
    }),
    z.strictObject({ kind: z.literal('material'), ...asked, said: saidByAnswer.optional() }),
    z.strictObject({
      kind: z.literal('number'),
      ...asked,
      unit,
      said: said
        .meta({
          description:
            'Names beside which its number stands; `no brim = 0` gives the value itself, `retraction speed = other` names another number.',
          examples: [['nozzle', 'print temp', '(not|un) heated = 20']],
        })
        .optional(),
      'said-alone': z
        .tuple([z.number(), z.number()])
        .meta({
          description: 'A number with its unit that lies between these needs no name beside it.',
          examples: [[170, 320]],
        })
        .optional(),
      range: z.tuple([z.number(), z.number()]).meta({
        description: 'Lowest and highest plausible value; others are refused.',
        examples: [[0, 90]],
      }),
      typical: three,
      'typical-for': z
        .record(anyId, three)
        .meta({ description: 'The same for prints in one material, by its id.' })
        .optional(),
      assume: yes.meta({ description: 'While unknown, take the middle.' }).optional(),
      'within-material': id
        .meta({ description: 'Property of the material whose range advice on this never leaves.' })
        .optional(),
    }),
    z.strictObject({
      kind: z.literal('computed'),
      name: short.meta({ description: 'Short label.' }),
      topic: short,
      unit,
      value: value('An expression of other facts.', 'line_overlap(overhang_angle, layer_height, line_width)'),
      'rank-only': yes.meta({ description: 'Good for ranking; its number is never shown.' }).optional(),
    }),
  ])
  .meta({ id: 'fact', description: 'Something about this print that causes do not change.' });

const degrees = {
  shows: link.meta({ description: 'How often any level above "absent" shows, with this cause alone.' }),
  much: link
    .meta({ description: 'How often the highest level shows; half of `shows` if left out.' })
    .optional(),
  because: because.optional(),
};
const linkForm = z
  .union([
    link,
    z.strictObject({
      ...degrees,
      when: z
        .array(z.strictObject({ if: when('Where this holds, these words count instead.'), ...degrees }))
        .max(12)
        .meta({ description: 'Other strengths under conditions; the first that holds counts.' })
        .optional(),
    }),
  ])
  .meta({ description: 'Of prints with this cause alone, how many show it.' });

export const causeSchema = z
  .strictObject({
    name: short.meta({ description: 'What is wrong, in a few words.', examples: ['Damp filament'] }),
    why: text.meta({ description: 'How it comes about, in two or three plain sentences.' }),
    usual: word.meta({
      description: 'Share of all failed prints: a word of `usual` in words.yaml; a number needs `because`.',
      examples: ['occasional'],
    }),
    'usual-because': because.optional(),
    because: because.optional(),
    signs: z.record(id, linkForm).meta({ description: 'Signs and lowest symptoms it shows, by id.' }),
    'likelier-when': z
      .record(id, z.record(z.string(), z.unknown()))
      .meta({
        description:
          'Facts that raise or lower its odds. Answers left out are neutral; numbers have a limit.',
        examples: [
          { spool_open: { sealed: 'strongly against', weeks: 'favours' } },
          { overhang_angle: { 'bad-below': 40, width: 6, bad: 'strongly favours', good: 'against' } },
        ],
      })
      .optional(),
    'also-when': z
      .array(z.strictObject({ if: when('What must hold.'), odds, because: because.optional() }))
      .max(30)
      .meta({ description: 'What several facts say together.' })
      .optional(),
    'people-say': peopleSay.optional(),
    told: told.optional(),
    'mistaken-for': z
      .record(id, text)
      .meta({ description: 'Causes that look alike, and how to tell this one from each.' })
      .optional(),
    sources: sources.optional(),
  })
  .meta({
    id: 'cause',
    description: 'What is wrong: in the filament, the machine, the settings, the part or the room.',
  });

export const fixSchema = z
  .strictObject({
    do: text.meta({
      description: 'What to do, as an instruction.',
      examples: ['Dry the spool before printing again.'],
    }),
    set: short.meta({ description: 'What is changed: the id of a fact, or trade words.' }).optional(),
    from: value('The value now; that of the fact if left out.', 'nozzle_temperature').optional(),
    to: z
      .union([expression, z.tuple([expression, expression])])
      .meta({
        description: 'The new value, or a lower and an upper one.',
        examples: ['min(material.drying_temperature_high, 60 degC)'],
      })
      .optional(),
    unit: unit.optional(),
    'why-this-number': text
      .meta({ description: 'Text with `{expression}` places; left out when one of them is unknown.' })
      .optional(),
    'no-number': text.meta({ description: 'Why there is no number, where there is no `to`.' }).optional(),
    'hands-on-minutes': value('Minutes of work.', 10),
    'waiting-minutes': value('Minutes of waiting; 0 if left out.', 'material.drying_hours_high').optional(),
    grams: value('Filament it takes, in grams; 0 if left out.', 2).optional(),
    reprint: z.enum(['whole', 'piece', 'none']).meta({
      description: 'What shows whether it worked: the whole part, a small test piece, or no print.',
    }),
    removes: z.record(id, link).meta({
      description: 'Causes it removes, and how surely.',
      examples: [{ damp_filament: 'nearly always' }],
    }),
    worsens: z
      .record(id, text)
      .meta({
        description: 'Signs, symptoms and causes it makes likelier, each with the sentence that says so.',
      })
      .optional(),
    'side-effects': z.array(text).max(12).meta({ description: 'What else it brings with it.' }).optional(),
    'seen-when-it-worked': text.meta({ description: 'How it shows that it worked.' }),
    cautions: z
      .array(anyId)
      .max(40)
      .meta({ description: 'Ids of cautions shown with it: heat, mains, fumes, fire, solvents, blades.' })
      .optional(),
    when: when('Left out of the plan when this is known to be false.').optional(),
    caps: z
      .array(
        z.strictObject({
          if: when('The bound holds unless this is known to be false.').optional(),
          'at-most': value('Highest value.', '240 degC').optional(),
          'at-least': value('Lowest value.', '0.8 mm').optional(),
          because: text.meta({ description: 'Why, in a sentence that is shown.' }),
        }),
      )
      .max(12)
      .meta({ description: "Bounds of its number, beside the material's own range." })
      .optional(),
    'also-called': names.optional(),
    'people-say': peopleSay.optional(),
    said: said.optional(),
    sources: sources.optional(),
    because: because.optional(),
  })
  .meta({ id: 'fix', description: 'A concrete change that removes causes, with its number.' });

export const cautionSchema = z
  .strictObject({
    text: text.meta({ description: 'The sentence that is shown.' }),
    when: when('Shown whenever this holds, whatever the fix.').optional(),
    'long-prints': yes.meta({ description: 'Shown for prints of more than four hours.' }).optional(),
    'stop-now': yes.meta({ description: 'Stops everything: shown before any question.' }).optional(),
    words: names.meta({ description: "Words in a person's own description that call for it." }).optional(),
    sources: sources.optional(),
  })
  .meta({ id: 'caution', description: 'A safety sentence that must be shown with a fix or a question.' });

const known = z.enum(['retrieved', 'from memory', 'common practice']).meta({
  description: 'How it is known: read in the source, recalled, or common practice without a source.',
});

export const materialSchema = z
  .strictObject({
    name: short.meta({ description: 'Name, as in "PLA (polylactic acid)".' }),
    family: short.meta({ description: 'Family of plastics.' }),
    'also-called': names.optional(),
    usual: z.number().gt(0).max(10).meta({ description: 'Of ten failed prints, how many are in it.' }),
    properties: z
      .record(
        id,
        z.strictObject({
          low: z.number(),
          high: z.number(),
          mid: z.number().meta({ description: 'Middle value; worked out if left out.' }).optional(),
          known,
          note: text.optional(),
        }),
      )
      .meta({ description: 'Ranges by property, each in its fixed unit.' }),
    chamber: text.meta({ description: 'What air around the part suits it.' }).optional(),
    fumes: text.meta({ description: 'What it gives off.' }).optional(),
    sources: sources.optional(),
  })
  .meta({ id: 'material', description: 'A family of plastics with the ranges advice must keep to.' });

export const sourcesSchema = z
  .record(
    id,
    z.strictObject({
      what: text.meta({ description: 'The citation, or what kind of source it is.' }),
      known,
    }),
  )
  .meta({ id: 'sources', description: 'Where what is said comes from.' });

const scale = z.record(z.string().max(60), z.number().min(0).max(1000));

export const wordsSchema = z
  .strictObject({
    links: scale.meta({ description: 'How often a cause shows a sign; between 0 and 1.' }),
    usual: scale.meta({ description: 'Share of all failed prints; between 0 and 1.' }),
    odds: scale.meta({ description: 'Factor on the odds of a cause.' }),
    chances: scale.meta({ description: 'Words on the screen; each holds from its number upward.' }),
  })
  .meta({ id: 'words', description: 'The scales of words and the number each stands for.' });

const minutes = z.number().min(0).max(100_000);

export const weightsSchema = z
  .strictObject({
    'waiting-share': z
      .number()
      .min(0)
      .max(1)
      .meta({ description: 'Share of waiting that counts as time spent.' }),
    'minutes-per-gram': minutes.meta({ description: 'What a gram of filament weighs, in minutes.' }),
    'reprint-minutes': minutes.meta({ description: 'A print of the whole part, where nobody has said.' }),
    'reprint-grams': minutes,
    'piece-minutes': minutes.meta({ description: 'A small test piece.' }),
    'piece-grams': minutes,
    'call-minutes': minutes.meta({ description: 'Stop and redesign, or ask someone.' }),
    'bundle-minutes': minutes.meta({
      description: 'Each further change in one test print: it then tells less.',
    }),
    sharpness: z
      .number()
      .min(0.2)
      .max(5)
      .meta({ description: 'Power that the chances shown are raised to; 1 leaves them as computed.' }),
    questions: z.number().min(1).max(100).meta({ description: 'The most questions asked.' }),
    'more-questions': z.number().min(1).max(200).meta({ description: 'The most on request.' }),
  })
  .meta({ id: 'weights', description: 'What time, filament and giving up are worth, in minutes.' });

export const synonymsSchema = z.record(id, z.array(z.string().trim().min(1).max(40)).min(1).max(80)).meta({
  id: 'synonyms',
  description: 'Groups of everyday words that mean about the same when searching; up to four words each.',
});

export const phraseWordsSchema = z.record(id, z.array(z.string().trim().min(1).max(40)).min(1).max(80)).meta({
  id: 'phrase_words',
  description: 'Groups of words that phrases of `said` name, as `~feeder`; up to four words each.',
});

export const changeSchema = z
  .strictObject({
    change: anyId.meta({ description: 'Id of the entry to change.' }).optional(),
    set: z
      .record(z.string(), z.unknown())
      .meta({
        description:
          'Keys of that entry with their new values; mappings are joined, anything else is replaced.',
        examples: [{ usual: 'common' }],
      })
      .optional(),
    'switch-off': z
      .array(anyId)
      .max(200)
      .meta({ description: 'Ids of entries that are not to be used.' })
      .optional(),
    because: text.meta({ description: 'Why, for whoever reads it next year.' }),
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
  synonyms: synonymsSchema,
  phrase_words: phraseWordsSchema,
  change: changeSchema,
} as const;

export type Kind = keyof typeof schemas;
export type Raw<K extends Kind> = z.infer<(typeof schemas)[K]>;
