import { describe, expect, it } from 'vitest';
import { readCases } from '../../src/cases/caseFile.ts';
import { intakeFigures } from '../../src/evaluate/intakeFigures.ts';
import { realCases } from '../../src/evaluate/labelled.ts';
import { shippedFolder } from '../../src/knowledge/folders.ts';
import { loadKnowledge } from '../../src/knowledge/load.ts';
import {
  answers,
  cause,
  choice,
  fix,
  knowledgeOf,
  link,
  number,
  sign,
  symptom,
} from '../support/tinyKnowledge.ts';

const knowledge = knowledgeOf({
  symptoms: [symptom('place'), symptom('hairs', 'place')],
  signs: [sign('popping')],
  causes: [cause('damp', 0.1, [link('hairs', 0.9), link('popping', 0.5)], [answers('drive', { bowden: 2 })])],
  facts: [
    choice('drive', { bowden: 5, direct: 5 }),
    number('bed', [50, 60, 90], { unit: 'degC', range: [0, 150] }),
  ],
  fixes: [fix('renew_nozzle', { damp: 0.5 }, 5, { set: 'bed' })],
  wording: {
    saidByAnswer: {
      popping: { yes: ['pop'] },
      drive: { bowden: ['long tube'], direct: ['direct drive'] },
    },
    said: { bed: ['bed'], renew_nozzle: ['new nozzle'] },
  },
});

function figures(text: string) {
  const { cases, problems } = readCases(text, 'cases.yaml', knowledge);
  expect(problems).toEqual([]);
  const labelled = cases.map((read, index) => ({
    read,
    name: `case ${index + 1}`,
    family: 'place',
    truth: [],
    quality: 'own',
    byAuthor: false,
  }));
  return intakeFigures(knowledge, labelled);
}

// Descriptions by people who saw no phrase, and words of public reports with what three readers found in them (DEVELOPERS.md).
describe('the shipped phrases', () => {
  const shipped = loadKnowledge({ shipped: shippedFolder, local: [] }).knowledge;
  it.each([
    ['test/intake/descriptions-held-out.yaml', 106, 0.85, 0.65],
    ['test/cases/real-cases.yaml', 76, 0.95, 0.8],
  ])('%s: most of what is said is read, and little else', (file, count, precision, recall) => {
    const { cases, problems } = realCases(shipped, file);
    expect(problems).toEqual([]);
    expect(cases).toHaveLength(count);
    const { all } = intakeFigures(shipped, cases);
    expect(all.precision).toBeGreaterThan(precision);
    expect(all.recall).toBeGreaterThan(recall);
  });
});

describe('figures of what was read', () => {
  it('counts what was found, missed, borne out by the case, and wrong', () => {
    const result = figures(`
- words: It pops, the bed at 61, long tube. New nozzle, no change.
  complaint: hairs
  facts: {drive: bowden}
  in-words:
    facts: {bed: {value: 60, words: the bed at 61}}
    signs: {popping: {value: yes, words: It pops}}
    tried: {renew_nozzle: {value: no_change, words: New nozzle}}
- words: direct drive, bed 80
  complaint: hairs
  facts: {drive: bowden}
  in-words: {facts: {bed: {value: 60, words: x}}, signs: {popping: {value: no, words: x}}}
- words: no label, so it pops unheard
  complaint: hairs
`);
    expect(result.cases).toBe(2);
    // Found: bed within its rounding. The tube is no label, but the case says so too. Wrong: the drive and the second bed.
    expect(result.facts).toEqual({ labelled: 2, found: 1, read: 4, wrong: 2, precision: 0.5, recall: 0.5 });
    expect(result.signs).toEqual({ labelled: 2, found: 1, read: 1, wrong: 0, precision: 1, recall: 0.5 });
    expect(result.tried).toMatchObject({ labelled: 1, found: 1, read: 1, wrong: 0 });
    expect(result.all).toMatchObject({ labelled: 5, found: 3, read: 6, wrong: 2 });
    expect(result.errors.map(({ name, id }) => `${name} ${id}`)).toEqual(['case 2 drive', 'case 2 bed']);
  });

  it('has no shares where there is nothing to share', () => {
    expect(figures('- {words: nothing here, complaint: hairs, in-words: {}}\n').all).toMatchObject({
      precision: null,
      recall: null,
    });
  });
});
