import { describe, expect, it } from 'vitest';
import { base, briefly, type Files, load } from './smallBase.ts';

const because = 'because: We saw it.\n';
const change = (text: string): Files => ({ 'changes/ours.yaml': `${text}${because}` });

const localSign =
  'name: hiss\nask: Does it hiss?\ntopic: nozzle\nlook: Listen.\neffort-seconds: 5\ncannot-tell: rarely\n';
const localCause = `name: Leak\nwhy: The nozzle leaks.\nusual: rare\nsigns: {stringing: usually, hiss: usually}\nsources: [our_shop]\n`;
const localFix = `do: Tighten it.\nno-number: It is tight or it is not.\nhands-on-minutes: 5\nreprint: piece\nremoves: {leak: usually}\nseen-when-it-worked: No hairs.\nsources: [our_shop]\n`;
const shop: Files = {
  'signs/hiss.yaml': localSign,
  'causes/heat/leak.yaml': localCause,
  'fixes/heat/tighten.yaml': localFix,
  'sources.yaml': 'our_shop: {what: Our own log, known: common practice}\n',
};

describe('a local folder', () => {
  it('adds entries, which say where they come from', () => {
    const { knowledge, problems } = load({}, shop);
    expect(problems).toEqual([]);
    expect(knowledge.causes['leak']).toMatchObject({
      id: 'leak',
      theme: 'heat',
      file: 'causes/heat/leak.yaml',
      local: 'shop',
    });
    expect(knowledge.sources['our_shop']).toMatchObject({ local: 'shop', known: 'common practice' });
    expect(knowledge.sources['trade_practice']).not.toHaveProperty('local');
    expect(knowledge.causes['damp_filament']).not.toHaveProperty('local');
  });

  it('may not take the id of a shipped entry, and is told how to change it', () => {
    const { knowledge, problems } = load({}, { 'causes/heat/damp_filament.yaml': localCause });
    expect(briefly(problems)).toEqual(['duplicate-id shop/causes/heat/damp_filament.yaml:1:1 n']);
    expect(problems[0]?.help).toContain('change: damp_filament');
    expect(knowledge.causes['damp_filament']?.name).toBe('Damp filament');
  });

  it('loses a bad entry and what leans on it; the rest works', () => {
    const bad = localSign.replace('ask:', 'aks:');
    const leaning =
      'name: x\nkind: yes_no\nask: x?\nusual: {yes: 1, no: 1}\ntopic: x\nlook: x\neffort-seconds: 1\ncannot-tell: rarely\nask-when: {hiss: yes}\n';
    const { knowledge, problems } = load(
      {},
      { ...shop, 'signs/hiss.yaml': bad, 'facts/quiet_room.yaml': leaning },
    );
    expect(briefly(problems)).toEqual([
      'left-out shop/facts/quiet_room.yaml:9:12 hiss',
      'missing-key shop/signs/hiss.yaml:1:1 name',
      'unknown-key shop/signs/hiss.yaml:2:1 aks',
    ]);
    expect(Object.keys(knowledge.facts)).not.toContain('quiet_room');
    expect(knowledge.causes['leak']?.links.map((link) => link.sign)).toEqual(['stringing']);
    expect(Object.keys(knowledge.causes)).toContain('damp_filament');
  });

  it('keeps the shipped sources when its own are bad', () => {
    const { knowledge, problems } = load(
      {},
      { 'sources.yaml': 'our_shop: {what: Our log, known: hearsay}\n' },
    );
    expect(briefly(problems)).toEqual(['unknown-word shop/sources.yaml:1:34 hearsay']);
    expect(Object.keys(knowledge.sources)).toEqual(['trade_practice']);
    expect(Object.keys(knowledge.causes)).toHaveLength(2);
  });

  it('may not hang a symptom under one that causes show', () => {
    const { knowledge, problems } = load(
      {},
      { 'symptoms/fine_hairs.yaml': 'title: Fine hairs\nunder: stringing\ndrawing: x\n' },
    );
    expect(briefly(problems)).toEqual(['still-needed shop/symptoms/fine_hairs.yaml:2:8 stringing']);
    expect(Object.keys(knowledge.causes)).toHaveLength(2);
  });

  it('may hang a symptom under a place', () => {
    const { knowledge, problems } = load(
      {},
      { 'symptoms/fine_hairs.yaml': 'title: Fine hairs\nunder: between_parts\ndrawing: x\n' },
    );
    expect(problems).toEqual([]);
    expect(knowledge.symptoms['fine_hairs']?.local).toBe('shop');
  });
});

describe('a local change', () => {
  it('sets single values and leaves the others', () => {
    const { knowledge, problems } = load(
      {},
      change('change: damp_filament\nset: {usual: common, signs: {popping: nearly always}}\n'),
    );
    expect(problems).toEqual([]);
    expect(knowledge.causes['damp_filament']).toMatchObject({
      name: 'Damp filament',
      usual: { word: 'common', value: 0.04 },
      local: 'shop',
      links: [
        { sign: 'popping', atLeast: [0.9, 0.45] },
        { sign: 'stringing', atLeast: [0.75] },
      ],
    });
  });

  it('takes a bare number with the reason of the change', () => {
    const { knowledge, problems } = load({}, change('change: damp_filament\nset: {usual: 0.03}\n'));
    expect(problems).toEqual([]);
    expect(knowledge.causes['damp_filament']?.usual.value).toBe(0.03);
  });

  it('puts reports beside those that are there', () => {
    const told = (text: string) => change(`change: damp_filament\nset: {told: {${text}}}\n`);
    const first = told('stringing: [it hisses]');
    const { knowledge, problems } = load(first, told('stringing: [it crackles]'));
    expect(problems).toEqual([]);
    expect(knowledge.wording.told['damp_filament']).toEqual({ stringing: ['it hisses', 'it crackles'] });
  });

  it('reports only what can be complained of', () => {
    const { problems } = load({}, change('change: damp_filament\nset: {told: {strining: [it hisses]}}\n'));
    expect(problems.map(({ code, help }) => [code, help])).toEqual([
      ['unknown-name', 'Did you mean `stringing`?'],
    ]);
  });

  it('reaches weights and materials too', () => {
    const { knowledge, problems } = load(
      {},
      {
        'changes/a.yaml': `change: weights\nset: {reprint-minutes: 60}\n${because}`,
        'changes/b.yaml': `change: PLA\nset: {properties: {nozzle: {high: 230}}}\n${because}`,
      },
    );
    expect(problems).toEqual([]);
    expect(knowledge.weights).toMatchObject({ reprintMinutes: 60, pieceMinutes: 20 });
    expect(knowledge.materials['PLA']?.properties['nozzle']).toMatchObject({ low: 190, high: 230 });
  });

  it('is laid over an earlier one', () => {
    const first = change('change: damp_filament\nset: {usual: common, name: Wet}\n');
    const second = change('change: damp_filament\nset: {usual: rare}\n');
    const { knowledge } = load({}, ['a', first], ['b', second]);
    expect(knowledge.causes['damp_filament']).toMatchObject({
      usual: { word: 'rare' },
      name: 'Wet',
      local: 'b',
    });
  });

  const bad: readonly (readonly [string, string, string])[] = [
    [
      'a bad word',
      'change: damp_filament\nset: {usual: comon}\n',
      'unknown-word shop/changes/ours.yaml:2:14 comon',
    ],
    [
      'a bad key',
      'change: damp_filament\nset: {usua: common}\n',
      'unknown-key shop/changes/ours.yaml:2:7 usua',
    ],
    [
      'a bad kind of value',
      'change: damp_filament\nset: {signs: {popping: [1]}}\n',
      'wrong-kind shop/changes/ours.yaml:2:24 [1]',
    ],
    [
      'an unknown sign',
      'change: damp_filament\nset: {signs: {poping: usually}}\n',
      'unknown-name shop/changes/ours.yaml:2:15 poping',
    ],
    [
      'a unit that does not match',
      'change: dry_the_spool\nset: {to: 60 mm}\n',
      'unit-mismatch shop/changes/ours.yaml:2:11 60 mm',
    ],
    [
      'an unknown entry',
      'change: damp_filamnt\nset: {usual: common}\n',
      'unknown-name shop/changes/ours.yaml:1:9 damp_filamnt',
    ],
    [
      'an unknown entry switched off',
      'switch-off: [poping]\n',
      'unknown-name shop/changes/ours.yaml:1:14 poping',
    ],
    [
      'nothing to do',
      'set: {usual: common}\n',
      'missing-key shop/changes/ours.yaml:1:1 set: {usual: common}',
    ],
    [
      'a text where values belong',
      'change: damp_filament\nset: common\n',
      'wrong-kind shop/changes/ours.yaml:2:6 common',
    ],
  ];
  it.each(bad)('with %s is not in force; the entry stands as it was', (_, text, expected) => {
    const { knowledge, problems } = load({}, change(text));
    expect(briefly(problems)).toEqual([expected]);
    const plain = load().knowledge;
    expect(knowledge).toEqual(plain);
  });

  it('may be an empty file, a list or a broken one', () => {
    const plain = load().knowledge;
    for (const text of ['', '- 1\n', 'change: [', 'change: {a: b}\n', 'null\n']) {
      const { knowledge, problems } = load({}, { 'changes/ours.yaml': text });
      expect(problems.length, text).toBeGreaterThan(0);
      expect(knowledge).toEqual(plain);
    }
  });

  it('that takes away what others are built on is not in force, while its neighbours are', () => {
    const { knowledge, problems } = load(
      {},
      {
        'changes/a.yaml': `change: spool_storage\nset: {kind: yes_no, answers: null}\n${because}`,
        'changes/b.yaml': `change: damp_filament\nset: {usual: common}\n${because}`,
        'changes/c.yaml': `switch-off: [nozzle_temperature]\n${because}`,
        'changes/d.yaml': `switch-off: [dry_the_spool]\n${because}`,
      },
    );
    expect(problems.map(({ code, file }) => `${code} ${file}`)).toEqual([
      'unknown-key shop/changes/a.yaml',
      'still-needed shop/changes/c.yaml',
      'still-needed shop/changes/d.yaml',
    ]);
    expect(problems[1]?.message).toContain('`nozzle_excess`');
    expect(problems[2]?.message).toContain('`damp_filament`');
    expect(knowledge.causes['damp_filament']?.usual.word).toBe('common');
    expect(Object.keys(knowledge.facts)).toContain('nozzle_temperature');
    expect(Object.keys(knowledge.fixes)).toContain('dry_the_spool');
  });
});

describe('switching off', () => {
  it('takes an entry away with all links to it', () => {
    const { knowledge, problems } = load({}, change('switch-off: [popping, spool_storage, blobs]\n'));
    // The caution that looks at blobs needs them.
    expect(problems.map(({ code }) => code)).toEqual(['still-needed']);
    const { knowledge: less, problems: none } = load({}, change('switch-off: [popping, spool_storage]\n'));
    expect(none).toEqual([]);
    expect(Object.keys(less.signs)).toEqual([]);
    expect(less.causes['damp_filament']?.links.map((link) => link.sign)).toEqual(['stringing']);
    expect(less.causes['damp_filament']?.factors).toEqual([]);
    expect(less.symptoms['stringing']?.tellApart).toEqual({});
    expect(Object.keys(knowledge.signs)).toEqual(['popping']);
  });

  it('takes a cause and its fix away together', () => {
    const { knowledge, problems } = load({}, change('switch-off: [nozzle_too_hot, cooler_nozzle]\n'));
    expect(problems).toEqual([]);
    expect(Object.keys(knowledge.causes)).toEqual(['damp_filament']);
    expect(knowledge.causes['damp_filament']?.mistakenFor).toEqual({});
  });

  it('takes a material away although conditions name it', () => {
    const { knowledge, problems } = load({}, change('switch-off: [ABS]\n'));
    expect(problems).toEqual([]);
    const material = knowledge.facts['material'];
    expect(material?.kind === 'material' && material.answers.map((answer) => answer.id)).toEqual(['PLA']);
  });
});

describe('what keeps people safe', () => {
  const unsafe: readonly (readonly [string, string, string])[] = [
    ['switching off a caution', 'switch-off: [no_food_oven]\n', ':1:14 no_food_oven'],
    ['emptying a fix of its cautions', 'change: dry_the_spool\nset: {cautions: []}\n', ':2:17 []'],
    ['taking its bounds away', 'change: dry_the_spool\nset: {caps: []}\n', ':2:13 []'],
    [
      'rewording a caution',
      'change: no_food_oven\nset: {text: Any oven will do.}\n',
      ':2:13 Any oven will do.',
    ],
    [
      'making a caution conditional',
      'change: stop_smoke\nset: {when: {stringing: yes}}\n',
      ':2:13 {stringing: yes}',
    ],
    ['letting a stop go on', 'change: stop_smoke\nset: {stop-now: no}\n', ':2:17 no'],
  ];
  it.each(unsafe)('%s is refused', (_, text, place) => {
    const { knowledge, problems } = load({}, change(text));
    expect(briefly(problems)).toEqual([`keeps-safe shop/changes/ours.yaml${place}`]);
    expect(knowledge).toEqual(load().knowledge);
  });

  it('a symptom that stops everything stays', () => {
    const smoke = { 'symptoms/smoke.yaml': 'title: Smoke\nstop-now: stop_smoke\n' };
    const { knowledge, problems } = load(smoke, change('switch-off: [smoke]\n'));
    expect(briefly(problems)).toEqual(['keeps-safe shop/changes/ours.yaml:1:14 smoke']);
    expect(Object.keys(knowledge.symptoms)).toContain('smoke');
  });

  it('a change may add to it', () => {
    const more = change('change: dry_the_spool\nset: {cautions: [no_food_oven, stop_smoke]}\n');
    const { knowledge, problems } = load({}, more);
    expect(problems).toEqual([]);
    expect(knowledge.fixes['dry_the_spool']?.cautions).toEqual(['no_food_oven', 'stop_smoke']);
  });
});

it('a broken file of words or weights leaves the rest readable', () => {
  for (const path of ['words.yaml', 'weights.yaml']) {
    const { knowledge, problems } = load({ [path]: 'links: [' });
    expect(problems.map(({ code, file }) => `${code} ${file}`)).toEqual([`bad-yaml knowledge/${path}`]);
    expect(Object.keys(knowledge.causes)).toEqual(Object.keys(load().knowledge.causes));
  }
  expect(base['words.yaml']).toContain('links');
});
