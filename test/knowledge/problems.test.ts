import { describe, expect, it } from 'vitest';
import { problemCodes } from '../../src/knowledge/problem.ts';
import { showProblem } from '../../src/terminal/showProblems.ts';
import { base, briefly, edited, type Files, load } from './smallBase.ts';

const damp = 'causes/filament/damp_filament.yaml';
const hot = 'causes/heat/nozzle_too_hot.yaml';
const dry = 'fixes/filament/dry_the_spool.yaml';
const cool = 'fixes/heat/cooler_nozzle.yaml';
const strings = 'symptoms/stringing.yaml';
const pops = 'signs/popping.yaml';
const spool = 'facts/spool_storage.yaml';
const nozzle = 'facts/nozzle_temperature.yaml';
const excess = 'facts/nozzle_excess.yaml';
const pla = 'materials/PLA.yaml';

/** A slip, and the first problem it gives: code, place, and what is marked there. */
const slips: readonly (readonly [
  what: string,
  files: Readonly<Record<string, string | undefined>>,
  expected: string,
])[] = [
  // What a file is
  [
    'a bracket left open',
    edited(damp, '[trade_practice]', '[trade_practice'),
    `bad-yaml knowledge/${damp}:14:1 `,
  ],
  ['a tab', edited(damp, '  popping', '\tpopping'), `bad-yaml knowledge/${damp}:7:1 \t`],
  ['a second document', { [damp]: `${base[damp]}---\nname: x\n` }, `bad-yaml knowledge/${damp}:14:1 ---`],
  [
    'an anchor',
    edited(damp, 'usual: occasional', 'usual: &u occasional'),
    `no-alias knowledge/${damp}:5:11 occasional`,
  ],
  ['an alias', edited(damp, 'usual: occasional', 'usual: *u'), `no-alias knowledge/${damp}:5:8 *u`],
  [
    'a tag',
    edited(damp, 'usual: occasional', 'usual: !!str occasional'),
    `no-alias knowledge/${damp}:5:14 occasional`,
  ],
  [
    'a key given twice',
    edited(damp, 'usual: occ', 'name: Wet\nusual: occ'),
    `duplicate-key knowledge/${damp}:5:1 name`,
  ],
  [
    'nesting',
    edited(damp, '[trade_practice]', '['.repeat(25) + ']'.repeat(25)),
    `too-deep knowledge/${damp}:13:30 [`,
  ],
  [
    'a thousand brackets',
    edited(damp, '[trade_practice]', '['.repeat(1000)),
    `too-deep knowledge/${damp}:13:610 [`,
  ],
  [
    'too many things',
    edited(damp, '[trade_practice]', `[${'1,'.repeat(20_001)}]`),
    `too-big knowledge/${damp}:13:39957 1`,
  ],
  ['an escape sequence', edited(damp, 'Damp', '\u001b[31mDamp'), `bad-text knowledge/${damp}:1:7 \u001b`],
  ['text turned around', edited(damp, 'Damp', '\u202eDamp'), `bad-text knowledge/${damp}:1:7 \u202e`],
  [
    'an escape in quotes',
    edited(damp, 'Damp filament', '"\\e[31mDamp"'),
    `bad-text knowledge/${damp}:1:7 "\\e[31mDamp"`,
  ],
  ['a reserved key', edited(damp, 'name:', '__proto__:'), `bad-id knowledge/${damp}:1:1 __proto__`],
  [
    'a name over two lines',
    edited(damp, 'Damp filament', '"Damp\\nfilament"'),
    `bad-text knowledge/${damp}:1:7 "Damp\\nfilament"`,
  ],
  ['an empty file', { 'signs/empty.yaml': '' }, 'wrong-kind knowledge/signs/empty.yaml:1:1 '],
  // Where it stands
  [
    'an unknown folder',
    { 'symptom/hairs.yaml': 'title: x' },
    'unknown-place knowledge/symptom/hairs.yaml:1:1 t',
  ],
  [
    'an unknown theme',
    { 'causes/filaments/x_y.yaml': 'name: x' },
    'unknown-place knowledge/causes/filaments/x_y.yaml:1:1 n',
  ],
  [
    'a cause outside a theme',
    { 'causes/x_y.yaml': 'name: x' },
    'unknown-place knowledge/causes/x_y.yaml:1:1 n',
  ],
  ['another ending', { 'signs/x_y.yml': 'name: x' }, 'unknown-place knowledge/signs/x_y.yml:1:1 n'],
  ['a bad file name', { 'signs/Popping-2.yaml': 'name: x' }, 'bad-id knowledge/signs/Popping-2.yaml:1:1 n'],
  [
    'a reserved file name',
    { 'signs/constructor.yaml': 'name: x' },
    'bad-id knowledge/signs/constructor.yaml:1:1 n',
  ],
  [
    'an id taken by another kind',
    { 'signs/stringing.yaml': base[pops]! },
    'duplicate-id knowledge/signs/stringing.yaml:1:1 n',
  ],
  // The form of an entry
  ['a missing key', edited(damp, 'usual: occasional ', '#'), `missing-key knowledge/${damp}:1:1 name`],
  [
    'a missing key further in',
    edited(hot, 'shows: sometimes}]', '}]'),
    `missing-key knowledge/${hot}:5:39 if`,
  ],
  [
    'a misspelt key',
    edited(damp, 'mistaken-for', 'mistakenfor'),
    `unknown-key knowledge/${damp}:11:1 mistakenfor`,
  ],
  [
    'a key of another kind of fact',
    edited(spool, 'usual-for', 'typical-for'),
    `unknown-key knowledge/${spool}:6:1 typical-for`,
  ],
  ['a list for a text', edited(damp, 'Damp filament', '[Damp]'), `wrong-kind knowledge/${damp}:1:7 [Damp]`],
  [
    'a list for a word',
    edited(damp, 'popping: usually', 'popping: [usually]'),
    `wrong-kind knowledge/${damp}:7:12 [usually]`,
  ],
  ['no value', edited(damp, 'Damp filament', ''), `wrong-kind knowledge/${damp}:1:7 `],
  [
    'a text for a number',
    edited(pops, 'seconds: 30', 'seconds: soon'),
    `wrong-kind knowledge/${pops}:6:17 soon`,
  ],
  [
    'an unknown kind of fact',
    edited(spool, 'kind: choice', 'kind: chioce'),
    `unknown-word knowledge/${spool}:2:7 chioce`,
  ],
  ['no kind of fact', edited(spool, 'kind: choice', '#'), `missing-key knowledge/${spool}:1:1 name`],
  [
    'an unknown choice',
    edited(dry, 'reprint: whole', 'reprint: hole'),
    `unknown-word knowledge/${dry}:8:10 hole`,
  ],
  ['a negative number', edited(pops, 'seconds: 30', 'seconds: -3'), `out-of-range knowledge/${pops}:6:17 -3`],
  [
    'a long text',
    edited(strings, 'Hairs between parts', 'x'.repeat(201)),
    `out-of-range knowledge/${strings}:1:8 ${'x'.repeat(201)}`,
  ],
  [
    'a key that is no id',
    edited(damp, 'popping: usually', 'Pop-Ping: usually'),
    `bad-id knowledge/${damp}:7:3 Pop-Ping`,
  ],
  // Words and numbers
  [
    'an unknown word',
    edited(damp, 'stringing: usually', 'stringing: usualy'),
    `unknown-word knowledge/${damp}:8:14 usualy`,
  ],
  [
    'an unknown word in the long form',
    edited(hot, '{shows: usually,', '{shows: usualy,'),
    `unknown-word knowledge/${hot}:5:22 usualy`,
  ],
  [
    'an unknown word of how usual',
    edited(damp, 'occasional ', 'ocasional '),
    `unknown-word knowledge/${damp}:5:8 ocasional`,
  ],
  [
    'an unknown word of the odds',
    edited(damp, 'open_air: favours', 'open_air: favors'),
    `unknown-word knowledge/${damp}:10:29 favors`,
  ],
  [
    'a number without a reason',
    edited(damp, 'stringing: usually', 'stringing: 0.7'),
    `needs-because knowledge/${damp}:8:14 0.7`,
  ],
  ['a chance of 1', edited(hot, '{shows: usually,', '{shows: 1,'), `out-of-range knowledge/${hot}:5:22 1`],
  [
    'a shrug',
    edited(damp, 'usual: occasional', 'usual: unknown'),
    `unknown-word knowledge/${damp}:5:8 unknown`,
  ],
  [
    'much more often than shows',
    edited(damp, 'popping: usually', 'popping: {shows: rarely, much: usually}'),
    `wrong-order knowledge/${damp}:7:34 usually`,
  ],
  [
    'degrees of a plain symptom',
    edited(damp, 'stringing: usually', 'stringing: {shows: usually, much: rarely}'),
    `unknown-key knowledge/${damp}:8:31 much`,
  ],
  [
    'leaks that rise',
    edited(pops, 'topic: nozzle', 'topic: nozzle\nshows-unexplained: [0.01, 0.02]'),
    `wrong-order knowledge/${pops}:5:20 [0.01, 0.02]`,
  ],
  [
    'a range upside down',
    edited(nozzle, '[150, 400]', '[400, 150]'),
    `wrong-order knowledge/${nozzle}:4:8 [400, 150]`,
  ],
  [
    'a spread outside the range',
    edited(nozzle, '[195, 220, 255]', '[95, 220, 255]'),
    `wrong-order knowledge/${nozzle}:5:10 [95, 220, 255]`,
  ],
  [
    'a property upside down',
    edited(pla, '{low: 190, high: 225,', '{low: 290, high: 225,'),
    `wrong-order knowledge/${pla}:5:11 {low: 290, high: 225, known: common practice}`,
  ],
  // Names
  ['an unknown sign', edited(damp, '  popping', '  poping'), `unknown-name knowledge/${damp}:7:3 poping`],
  [
    'an unknown fact',
    edited(damp, 'spool_storage', 'spool_storge'),
    `unknown-name knowledge/${damp}:10:3 spool_storge`,
  ],
  [
    'an unknown answer',
    edited(damp, 'open_air:', 'openair:'),
    `unknown-answer knowledge/${damp}:10:19 openair`,
  ],
  [
    'an unknown answer in a condition',
    edited(hot, 'box_closed: yes', 'box_closed: maybe'),
    `bad-condition knowledge/${hot}:10:38 maybe`,
  ],
  [
    'an answer that is not counted',
    edited(spool, 'usual: {sealed', 'usual: {shut: 1, sealed'),
    `unknown-answer knowledge/${spool}:5:9 shut`,
  ],
  [
    'an unknown name in a condition',
    edited(pops, '{material:', '{materiel:'),
    `bad-condition knowledge/${pops}:8:12 materiel`,
  ],
  [
    'a bad limit in a condition',
    edited(cool, '{above: 0 K}', '{above: 0 mm}'),
    `bad-condition knowledge/${cool}:9:31 0 mm`,
  ],
  [
    'an unknown cause removed',
    edited(dry, '{damp_filament', '{damp_fillament'),
    `unknown-name knowledge/${dry}:9:11 damp_fillament`,
  ],
  [
    'an unknown caution',
    edited(dry, '[no_food_oven]', '[no_food_ovn]'),
    `unknown-name knowledge/${dry}:11:12 no_food_ovn`,
  ],
  [
    'an unknown source',
    edited(damp, '[trade_practice]', '[trade_practise]'),
    `unknown-name knowledge/${damp}:13:11 trade_practise`,
  ],
  [
    'an unknown look-alike',
    edited(damp, 'nozzle_too_hot', 'nozzle_to_hot'),
    `unknown-name knowledge/${damp}:12:3 nozzle_to_hot`,
  ],
  [
    'an unknown place above',
    edited(strings, 'under: between_parts', 'under: between'),
    `unknown-name knowledge/${strings}:2:8 between`,
  ],
  [
    'an unknown teller',
    edited(strings, 'by: popping', 'by: hissing'),
    `unknown-name knowledge/${strings}:5:15 hissing`,
  ],
  ['an unknown material', edited(spool, '{ABS:', '{ABX:'), `unknown-name knowledge/${spool}:6:13 ABX`],
  ['an unknown property', edited(pla, '  nozzle:', '  nozle:'), `unknown-name knowledge/${pla}:5:3 nozle`],
  [
    'a property named like a method',
    edited(pla, '  nozzle:', '  constructor:'),
    `unknown-name knowledge/${pla}:5:3 constructor`,
  ],
  [
    'an unknown property to keep to',
    edited(nozzle, 'within-material: nozzle', 'within-material: nozzel'),
    `unknown-name knowledge/${nozzle}:7:18 nozzel`,
  ],
  [
    'a fact that is near the one set',
    edited(cool, 'set: nozzle_temperature', 'set: nozle_temperature'),
    `unknown-name knowledge/${cool}:2:6 nozle_temperature`,
  ],
  [
    'a link to a place',
    edited(damp, '  stringing: usually', '  between_parts: usually'),
    `not-lowest knowledge/${damp}:8:3 between_parts`,
  ],
  // Expressions
  [
    'an expression cut short',
    edited(excess, ' - material.nozzle_mid', ' -'),
    `bad-expression knowledge/${excess}:5:28 `,
  ],
  [
    'an unknown fact in an expression',
    edited(excess, 'nozzle_temperature -', 'nozle_temperature -'),
    `bad-expression knowledge/${excess}:5:8 nozle_temperature`,
  ],
  [
    'units that do not match',
    edited(dry, '60 degC', '60 mm'),
    `unit-mismatch knowledge/${dry}:3:5 min(material.drying_temperature_high, 60 mm)`,
  ],
  ['a wrong unit of a limit', edited(hot, '15 K', '15 mm'), `unit-mismatch knowledge/${hot}:8:30 15 mm`],
  [
    'an unknown unit',
    edited(nozzle, 'unit: degC', 'unit: degrees'),
    `unit-mismatch knowledge/${nozzle}:3:7 degrees`,
  ],
  [
    'a bad place in a text',
    edited(dry, '{material.drying_temperature_high}', '{material.drying}'),
    `bad-expression knowledge/${dry}:5:36 drying`,
  ],
  ['a limit on no side', edited(hot, 'bad-above: 15 K, ', ''), `missing-key knowledge/${hot}:8:19 width`],
  // Entries against each other
  [
    'a missing drawing',
    { [strings]: 'title: Hairs\nunder: between_parts\n' },
    `bad-drawing knowledge/${strings}:1:8 Hairs`,
  ],
  [
    'a wide drawing',
    edited(strings, '  __/', `  ${'_'.repeat(61)}/`),
    `bad-drawing knowledge/${strings}:6:1 drawing`,
  ],
  [
    'a drawing with signs of one terminal',
    edited(strings, '  __/', '  \u2501\u2501/'),
    `bad-drawing knowledge/${strings}:6:1 drawing`,
  ],
  [
    'a circle in the tree',
    edited('symptoms/between_parts.yaml', 'order: 1', 'under: stringing'),
    'cycle knowledge/symptoms/between_parts.yaml:2:8 stringing',
  ],
  [
    'a fact computed from itself',
    edited(excess, 'nozzle_temperature -', 'nozzle_temperature + nozzle_excess -'),
    `cycle knowledge/${excess}:5:8 nozzle_temperature + nozzle_excess - material.nozzle_mid`,
  ],
  [
    'a cause that no complaint leads to',
    edited(damp, '  stringing: usually\n', ''),
    `unreachable knowledge/${damp}:6:1 signs`,
  ],
  [
    'a cause without a fix',
    edited(cool, '{nozzle_too_hot', '{damp_filament'),
    `no-fix knowledge/${hot}:1:1 name: Nozzle too hot`,
  ],
  [
    'a fix without a number',
    edited(dry, 'to: min(material.drying_temperature_high, 60 degC)\n', ''),
    `no-number knowledge/${dry}:1:1 do: Dry the spool.`,
  ],
  [
    'no source',
    edited(damp, 'sources: [trade_practice]\n', ''),
    `no-source knowledge/${damp}:1:1 name: Damp filament`,
  ],
  [
    'a sign that nothing uses',
    { 'signs/hiss.yaml': base[pops]! },
    'unused knowledge/signs/hiss.yaml:1:1 name: pops',
  ],
  [
    'a phrase whose brackets do not close',
    edited(spool, 'cannot-tell: rarely', 'cannot-tell: rarely\nsaid: {open_air: [left (out|open]}'),
    'bad-phrase knowledge/facts/spool_storage.yaml:11:19 left (out|open',
  ],
  [
    'phrases for an answer that the fact has not',
    edited(spool, 'cannot-tell: rarely', 'cannot-tell: rarely\nsaid: {open: [left out]}'),
    'unknown-answer knowledge/facts/spool_storage.yaml:11:8 open',
  ],
];

describe('a knowledge file with a slip', () => {
  it('is a slip in a base that is sound', () => {
    expect(load().problems).toEqual([]);
  });

  it.each(slips)('%s', (_, files, expected) => {
    const { problems } = load(files);
    expect(briefly(problems)).toContain(expected);
    for (const problem of problems) {
      expect(problem.help).toMatch(/[.?]$/);
      expect(problem.message).not.toMatch(/\.$/);
    }
  });

  it('leaves two look-alikes apart only where something separates them', () => {
    const twin = {
      ...edited(
        hot,
        'likelier-when:\n  nozzle_excess: {bad-above: 15 K, width: 8, bad: favours, good: against}\n',
        '',
      ),
    };
    const same = `name: Twin\nwhy: x\nusual: rare\nsigns: {stringing: usually}\nmistaken-for: {other_twin: Cannot.}\nsources: [trade_practice]\n`;
    const files: Files = {
      ...twin,
      'causes/heat/one_twin.yaml': same,
      'causes/heat/other_twin.yaml': same.replace('mistaken-for: {other_twin: Cannot.}\n', ''),
      ...edited(cool, '{nozzle_too_hot', '{one_twin: usually, other_twin: usually, nozzle_too_hot'),
    };
    expect(briefly(load(files).problems)).toContain(
      'not-separated knowledge/causes/heat/one_twin.yaml:5:16 other_twin',
    );
    const apart = {
      ...files,
      'causes/heat/other_twin.yaml': same
        .replace('stringing: usually', 'stringing: rarely')
        .replace('mistaken-for: {other_twin: Cannot.}\n', ''),
    };
    expect(briefly(load(apart).problems).filter((line) => line.startsWith('not-separated'))).toEqual([]);
  });

  it('covers every code, with the tests of folders and of local changes', () => {
    const here = new Set(slips.map(([, , expected]) => expected.split(' ')[0]!));
    const elsewhere = ['unreadable', 'left-out', 'not-separated', 'keeps-safe', 'still-needed'];
    expect([...here, ...elsewhere].sort()).toEqual(Object.keys(problemCodes).sort());
  });

  it('offers the nearest word, name or key', () => {
    const help = (files: Files) =>
      load(files)
        .problems.map((problem) => problem.help)
        .join('\n');
    expect(help(edited(damp, 'stringing: usually', 'stringing: usualy'))).toContain(
      'Did you mean `usually`?',
    );
    expect(help(edited(damp, '  popping', '  poping'))).toContain('Did you mean `popping`?');
    expect(help(edited(damp, 'mistaken-for', 'mistakenfor'))).toContain('Did you mean `mistaken-for`?');
    expect(help(edited(spool, 'kind: choice', 'kind: chioce'))).toContain('Did you mean `choice`?');
    expect(help({ 'symptom/hairs.yaml': 'title: x' })).toContain('Did you mean `symptoms`?');
  });

  it('says how a drawing is indented', () => {
    const text = 'title: x\nunder: between_parts\ndrawing: |\n      ____\n  __/    \\\n';
    const [problem] = load({ 'symptoms/x_y.yaml': text }).problems;
    expect(problem).toMatchObject({ code: 'bad-yaml', line: 5 });
    expect(problem?.help).toContain('`|2`');
    expect(load({ 'symptoms/x_y.yaml': text.replace('|', '|2') }).problems).toEqual([]);
  });

  it('reads on the screen as the project wants its errors to read', () => {
    const [problem] = load(edited(damp, 'stringing: usually', 'stringing: usualy')).problems;
    expect(showProblem(problem!, 78)).toBe(`unknown word  knowledge/causes/filament/damp_filament.yaml:8:14

I was reading how often this cause shows \`stringing\`, and do not know this
word:

8 |   stringing: usualy
                 ^^^^^^

I know \`almost never\` to \`practically always\`. Did you mean \`usually\`?
The words and what each is worth are in knowledge/words.yaml.`);
  });
});

describe('an entry with a problem', () => {
  it('is left out, and the rest stands', () => {
    const { knowledge } = load(edited(damp, 'stringing: usually', 'stringing: usualy'));
    expect(Object.keys(knowledge.causes)).toEqual(['nozzle_too_hot']);
    expect(Object.keys(knowledge.signs)).toEqual(['popping']);
  });

  it('takes with it what leans on it, and says so', () => {
    const { knowledge, problems } = load(edited('cautions/no_food_oven.yaml', 'text:', 'tekst:'));
    expect(briefly(problems)).toContain(`left-out knowledge/${dry}:11:12 no_food_oven`);
    expect(Object.keys(knowledge.fixes)).toEqual(['cooler_nozzle']);
  });

  it('does not take with it what only mentions it', () => {
    const { knowledge, problems } = load(edited(pops, 'ask: Do', 'aks: Do'));
    expect([...new Set(problems.map((problem) => problem.file))]).toEqual([`knowledge/${pops}`]);
    expect(knowledge.causes['damp_filament']?.links.map((link) => link.sign)).toEqual(['stringing']);
    expect(knowledge.symptoms['stringing']?.tellApart).toEqual({});
  });

  it('is one source among many: the others stay, and so do those who name it', () => {
    const { knowledge, problems } = load(edited('sources.yaml', 'known: common practice', 'known: hearsay'));
    expect(briefly(problems)[0]).toBe('unknown-word knowledge/sources.yaml:1:51 hearsay');
    expect(Object.keys(knowledge.causes)).toHaveLength(2);
  });

  it('may be a material: facts keep their other rows, and it is no answer', () => {
    const { knowledge, problems } = load(edited('materials/ABS.yaml', 'family: styrenic\n', ''));
    expect(briefly(problems)).toEqual(['missing-key knowledge/materials/ABS.yaml:1:1 name']);
    const material = knowledge.facts['material'];
    expect(material?.kind === 'material' && material.answers.map((answer) => answer.id)).toEqual(['PLA']);
    const spoolKept = knowledge.facts['spool_storage'];
    expect(spoolKept?.kind === 'choice' && spoolKept.usualFor).toEqual({});
  });

  it('may be the end of a long chain of entries that lean on each other', () => {
    const chain: Record<string, string> = {};
    for (let i = 0; i < 3000; i++) chain[`symptoms/s_${i}.yaml`] = `title: S ${i}\nunder: s_${i + 1}\n`;
    const begun = performance.now();
    const { knowledge, problems } = load(chain);
    expect(Object.keys(knowledge.symptoms).filter((id) => id.startsWith('s_'))).toEqual([]);
    expect(problems.filter((problem) => problem.code === 'left-out')).toHaveLength(2998);
    expect(performance.now() - begun).toBeLessThan(20_000);
  });
});

describe('what is read', () => {
  const { knowledge } = load();

  it('gives words their numbers', () => {
    expect(knowledge.causes['damp_filament']?.usual).toEqual({ word: 'occasional', value: 0.02 });
  });

  it('fills in the degrees of a graded sign: the highest shows half as often as any', () => {
    const link = knowledge.causes['damp_filament']?.links.find((one) => one.sign === 'popping');
    expect(link?.atLeast).toEqual([0.75, 0.375]);
    expect(knowledge.signs['popping']?.leak).toEqual([0.01, 0.005]);
  });

  it('takes a bare number for what it is where a reason is given', () => {
    const files = edited(
      damp,
      'popping: usually',
      'popping: {shows: 0.6, much: 0.2, because: Twelve of twenty spools.}',
    );
    const loaded = load(files);
    expect(loaded.problems).toEqual([]);
    expect(loaded.knowledge.causes['damp_filament']?.links[0]).toMatchObject({
      atLeast: [0.6, 0.2],
      because: 'Twelve of twenty spools.',
    });
  });

  it('takes true and false for yes and no', () => {
    const loaded = load({
      ...edited(hot, 'box_closed: yes', 'box_closed: true'),
      ...edited('facts/material.yaml', 'first: yes', 'first: true'),
    });
    expect(loaded.problems).toEqual([]);
    const when = loaded.knowledge.causes['nozzle_too_hot']?.factors.find((factor) => factor.kind === 'when');
    expect(JSON.stringify(when)).toContain('"name":"box_closed","values":["yes"]');
    expect(loaded.knowledge.facts['material']).toMatchObject({ first: true });
  });

  it('takes the middle of a range, and its geometric middle where it spans powers of ten', () => {
    expect(knowledge.materials['PLA']?.properties['nozzle']).toMatchObject({
      low: 190,
      high: 225,
      mid: 207.5,
    });
    expect(knowledge.materials['PLA']?.properties['diffusion']?.mid).toBeCloseTo(2e-11, 16);
  });

  it('asks for the material by the materials there are, as usual as they are', () => {
    expect(knowledge.facts['material']).toMatchObject({
      answers: [
        { id: 'ABS', text: 'ABS' },
        { id: 'PLA', text: 'PLA' },
      ],
      usual: [4, 6],
    });
  });

  it('keeps a limit with its side, width and unit', () => {
    expect(knowledge.causes['nozzle_too_hot']?.factors[0]).toMatchObject({
      kind: 'limit',
      fact: 'nozzle_excess',
      badSide: 'above',
      width: 8,
      limit: { unit: 'K', node: { op: 'number', value: 15 } },
    });
  });
});
