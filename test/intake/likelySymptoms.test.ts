import { describe, expect, it } from 'vitest';
import { likelySymptoms } from '../../src/intake/likelySymptoms.ts';
import { readWords } from '../../src/intake/readWords.ts';
import { relevantTo } from '../../src/intake/relevant.ts';
import { emptyCase } from '../../src/model/case.ts';
import { buildModel } from '../../src/model/model.ts';
import { answers, cause, choice, fix, knowledgeOf, link, sign, symptom } from '../support/tinyKnowledge.ts';

/** Invented knowledge: two symptoms that share their words, each with a cause of its own. */
const knowledge = knowledgeOf({
  symptoms: [
    symptom('place'),
    { ...symptom('thin_top', 'place'), title: 'thin lines on tops', alsoCalled: ['gaps on tops'] },
    { ...symptom('thin_wall', 'place'), title: 'thin lines on walls', alsoCalled: ['gaps on walls'] },
  ],
  signs: [sign('clicks'), sign('shakes')],
  facts: [choice('drive', { bowden: 5, direct: 5 }), choice('table', { stiff: 5, soft: 5 })],
  causes: [
    cause('clog', 0.1, [link('thin_top', 0.9), link('clicks', 0.9)], [answers('drive', { bowden: 2 })]),
    cause('shaking', 0.1, [link('thin_wall', 0.9), link('shakes', 0.9)], [answers('table', { soft: 3 })]),
  ],
  fixes: [fix('clean_nozzle', { clog: 0.8 }, 5), fix('stiffen_table', { shaking: 0.8 }, 5)],
  wording: {
    said: {
      thin_top: ['gap & top'],
      clean_nozzle: ['cleaned * nozzle'],
      stiffen_table: ['stiffened * table'],
    },
    saidByAnswer: {
      clicks: { yes: ['click'] },
      shakes: { yes: ['shake'] },
      table: { soft: ['wobbly table'] },
    },
  },
});
const model = buildModel(knowledge);
const likely = (text: string) => likelySymptoms(model, text, emptyCase);

describe('the complaint of a description', () => {
  it('is the one whose causes fit what else is read', () => {
    // The words fit both alike.
    expect(likely('thin lines, and it clicks')[0]).toMatchObject({ id: 'thin_top' });
    expect(likely('thin lines, and it shakes')[0]).toMatchObject({ id: 'thin_wall' });
  });

  it('comes with chances that add up to one, likeliest first, and with what is then read', () => {
    const list = likely('thin lines, it clicks on a wobbly table');
    expect(list.map(({ id }) => id).sort()).toEqual(['thin_top', 'thin_wall']);
    expect(list.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1, 12);
    expect(list[0]!.chance).toBeGreaterThanOrEqual(list[1]!.chance);
    const readings = Object.fromEntries(list.map(({ id, readings: read }) => [id, read]));
    expect(readings['thin_top']!.signs.map(({ id }) => id)).toEqual(['clicks']);
    expect(readings['thin_wall']!.facts.map(({ id }) => id)).toEqual(['table']);
  });

  it('is nothing where nothing fits', () => {
    expect(likely('')).toEqual([]);
    expect(likely('zzqqx')).toEqual([]);
  });
});

describe('symptoms in a description', () => {
  it('are read by their phrases, denied and asked ones not', () => {
    const symptoms = (text: string) => readWords(knowledge, text).symptoms;
    expect(symptoms('there is a gap on the top')).toEqual([
      { id: 'thin_top', value: 'yes', words: 'gap on the top', from: 11, to: 25 },
    ]);
    expect(symptoms('no gap on the top')).toEqual([]);
    expect(symptoms('is there a gap on the top?')).toEqual([]);
    expect(readWords(knowledge, 'gap on the top', { symptoms: { thin_top: true } }).symptoms).toEqual([]);
  });
});

describe('what bears on a complaint', () => {
  it('is asked of its causes and of what removes them', () => {
    expect([...relevantTo(knowledge, ['thin_top'])].sort()).toEqual(['clean_nozzle', 'clicks', 'drive']);
    const { signs, facts, tried } = readWords(
      knowledge,
      'it clicks and shakes. I cleaned the nozzle and stiffened the table, no change. A wobbly table.',
      { symptoms: { thin_wall: true } },
    );
    expect([...signs, ...facts, ...tried].map(({ id }) => id)).toEqual(['shakes', 'table', 'stiffen_table']);
  });
});
