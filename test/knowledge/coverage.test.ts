import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openEngine } from '../../src/dialogue/engine.ts';
import { ownCases, realCases } from '../../src/evaluate/labelled.ts';
import { rankOf, runWhole } from '../../src/evaluate/simulate.ts';
import { shippedFolder } from '../../src/knowledge/folders.ts';
import type { Cause, KnowledgeBase } from '../../src/knowledge/knowledgeBase.ts';
import { loadKnowledge } from '../../src/knowledge/load.ts';
import { lowestSymptoms } from '../../src/model/lowestSymptoms.ts';

const { knowledge } = loadKnowledge({ shipped: shippedFolder, local: [] });
const causes = Object.values(knowledge.causes);

describe('how much of the trade is there', () => {
  it('symptoms, causes, facts and signs, and fixes', () => {
    const asked = Object.values(knowledge.facts).filter((fact) => fact.kind !== 'computed');
    expect(lowestSymptoms(knowledge).length).toBeGreaterThanOrEqual(50);
    expect(causes.length).toBeGreaterThanOrEqual(130);
    expect(asked.length + Object.keys(knowledge.signs).length).toBeGreaterThanOrEqual(150);
    expect(Object.keys(knowledge.fixes).length).toBeGreaterThanOrEqual(220);
  });

  it('every lowest symptom has a drawing, other names, and how to tell it from its look-alikes', () => {
    for (const id of lowestSymptoms(knowledge)) {
      const symptom = knowledge.symptoms[id]!;
      expect(symptom.drawing ?? '', id).not.toBe('');
      expect(symptom.alsoCalled.length, id).toBeGreaterThan(0);
      if (!symptom.stopNow) expect(Object.keys(symptom.tellApart).length, id).toBeGreaterThan(0);
    }
  });

  it('every lowest symptom has a cause that brings it about, every cause a symptom by which it is met', () => {
    const lowest = new Set(lowestSymptoms(knowledge));
    const reached = new Set(causes.flatMap((cause) => cause.links.map((link) => link.sign)));
    const unreached = [...lowest].filter((id) => !reached.has(id) && !knowledge.symptoms[id]!.stopNow);
    expect(unreached).toEqual([]);
    const unmet = causes.filter((cause) => !cause.links.some((link) => lowest.has(link.sign)));
    expect(unmet.map((cause) => cause.id)).toEqual([]);
  });

  it('every cause has two changes that remove it', () => {
    for (const cause of causes) {
      const removing = Object.values(knowledge.fixes).filter((fix) => cause.id in fix.removes);
      expect(removing.length, cause.id).toBeGreaterThanOrEqual(2);
    }
  });

  it('every caution is shown by a change, by its own condition, or stops everything', () => {
    const named = new Set(Object.values(knowledge.fixes).flatMap((fix) => fix.cautions));
    const silent = Object.values(knowledge.cautions).filter(
      (caution) => !named.has(caution.id) && !caution.when && !caution.stopNow && caution.id !== 'general',
    );
    expect(silent.map((caution) => caution.id)).toEqual([]);
  });
});

describe('every cause counts', () => {
  const real = realCases(knowledge, 'test/cases/real-cases.yaml').cases;
  const blamed = [...ownCases(knowledge, join(shippedFolder, 'causes')).cases, ...real].filter(
    (item) => item.read.expectation.expect !== 'not-first',
  );
  const engine = openEngine(knowledge);

  it('comes first in a case, and the case fails when its entry is taken out', () => {
    const idle: string[] = [];
    for (const { id } of causes) {
      const won = blamed.find(
        (item) => item.truth[0] === id && rankOf(runWhole(engine, item.read.case), id) === 1,
      );
      if (won === undefined) idle.push(id);
      else {
        const without = openEngine(withoutCause(knowledge, id));
        const run = runWhole(without, won.read.case);
        expect(rankOf(run, id), id).not.toBe(1);
      }
    }
    expect(idle).toEqual([]);
  }, 120_000);
});

describe('pairs of causes that no question separates', () => {
  it('are few', () => {
    const pairs: string[] = [];
    for (const [index, one] of causes.entries()) {
      for (const other of causes.slice(index + 1)) {
        if (sharesComplaint(one, other) && !isSeparated(one, other)) pairs.push(`${one.id} - ${other.id}`);
      }
    }
    expect(pairs.length, pairs.join('\n')).toBeLessThanOrEqual(6);
  });
});

function withoutCause(base: KnowledgeBase, id: string): KnowledgeBase {
  const { [id]: _, ...rest } = base.causes;
  return { ...base, causes: rest };
}

function sharesComplaint(one: Cause, other: Cause): boolean {
  return one.links.some(
    (link) =>
      link.sign in knowledge.symptoms &&
      (link.atLeast[0] ?? 0) >= 0.25 &&
      other.links.some((also) => also.sign === link.sign && (also.atLeast[0] ?? 0) >= 0.25),
  );
}

/** A sign shows at least half the time more often with one than with the other, or an answer turns the odds between them. */
function isSeparated(one: Cause, other: Cause): boolean {
  const shows = (cause: Cause, sign: string) =>
    cause.links.find((link) => link.sign === sign)?.atLeast[0] ?? 0;
  const signs = new Set([...one.links, ...other.links].map((link) => link.sign));
  if ([...signs].some((sign) => Math.abs(shows(one, sign) - shows(other, sign)) >= 0.5)) return true;
  const facts = new Set(
    [...one.factors, ...other.factors].flatMap((item) => (item.kind === 'when' ? [] : [item.fact])),
  );
  return [...facts].some((fact) => turns(oddsOf(one, fact), oddsOf(other, fact)));
}

/** Odds factors by answer; a limit counts as two answers. */
function oddsOf(cause: Cause, fact: string): Readonly<Record<string, number>> {
  for (const item of cause.factors) {
    if (item.kind === 'when' || item.fact !== fact) continue;
    if (item.kind === 'limit') return { bad: item.bad.value, good: item.good.value };
    return Object.fromEntries(Object.entries(item.odds).map(([answer, { value }]) => [answer, value]));
  }
  return {};
}

function turns(one: Readonly<Record<string, number>>, other: Readonly<Record<string, number>>): boolean {
  const answers = new Set([...Object.keys(one), ...Object.keys(other)]);
  const ratios = [...answers].map((answer) => (one[answer] ?? 1) / (other[answer] ?? 1));
  return Math.max(...ratios, 1) / Math.min(...ratios, 1) >= 20;
}
