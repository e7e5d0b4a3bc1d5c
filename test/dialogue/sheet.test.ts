import { describe, expect, it } from 'vitest';
import { emptyCase, openEngine } from '../../src/dialogue/engine.ts';
import { askedOf, type Interview, idsIn } from '../../src/dialogue/interview.ts';
import { nextStep } from '../../src/dialogue/nextStep.ts';
import type { Marks, Sheet, SheetKind } from '../../src/dialogue/sheet.ts';
import { answers, cause, choice, fix, knowledgeOf, link, sign, symptom } from '../support/tinyKnowledge.ts';

// Four causes that look alike in the complaint. Each has one thing to see at a glance, one to find out by graded answers, and
// one fact about the set-up; what kinds of sheet there are follows from these alone.
const letters = ['a', 'b', 'c', 'd'] as const;
const knowledge = knowledgeOf({
  symptoms: [symptom('place'), symptom('complaint', 'place'), symptom('beside', 'place')],
  signs: [
    ...letters.map((letter) => sign(`look_${letter}`, [0.02])),
    ...letters.map((letter) => sign(`graded_${letter}`, [0.02, 0.005])),
    // A yes or no, yet not one glance: it takes a minute, or a print of its own.
    sign('long_look', [0.02], { effortSeconds: 60 }),
    sign('trial_print', [0.02], { test: { minutes: 5, grams: 1 } }),
  ],
  facts: letters.map((letter) => choice(`fact_${letter}`, { good: 8, bad: 2 })),
  causes: letters.map((letter) =>
    cause(
      letter,
      0.05,
      [
        link('complaint', 0.8),
        link(`look_${letter}`, 0.7),
        link(`graded_${letter}`, 0.7, 0.4),
        ...(letter === 'a' ? [link('beside', 0.7), link('long_look', 0.7), link('trial_print', 0.7)] : []),
      ],
      [answers(`fact_${letter}`, { bad: 40 })],
    ),
  ),
  fixes: letters.map((letter) => fix(`mend_${letter}`, { [letter]: 0.9 }, 30, { reprint: 'whole' })),
});
const engine = openEngine(knowledge);
const start = engine.start({ ...emptyCase, complaint: 'complaint' });
const many = 30;

/** Fills in what comes, unmarked, until a sheet of this kind is open. */
function until(kind: SheetKind, from: Interview = start): { interview: Interview; sheet: Sheet } {
  let interview = from;
  for (let turn = 0; turn < many; turn++) {
    const step = engine.next(interview, many);
    if (step.kind === 'stop') break;
    if (step.kind === 'sheet' && step.sheet.kind === kind) return { interview, sheet: step.sheet };
    interview =
      step.kind === 'sheet'
        ? engine.mark(interview, step.sheet, {}).interview
        : engine.answer(interview, step.question, 'unknown').interview;
  }
  throw new Error(`no ${kind} sheet`);
}

const idsOf = ({ items }: Sheet) => items.map(({ id }) => id);

/** Ids that are put from here to the end, on sheets or alone, to one who marks nothing. */
function rest(from: Interview): string[] {
  const put: string[] = [];
  let interview = from;
  for (let turn = 0; turn < many; turn++) {
    const step = engine.next(interview, many);
    if (step.kind === 'stop') return put;
    if (step.kind === 'sheet') {
      put.push(...idsOf(step.sheet));
      interview = engine.mark(interview, step.sheet, {}).interview;
    } else {
      put.push(step.question.id);
      interview = engine.answer(interview, step.question, 'unknown').interview;
    }
  }
  throw new Error('no end');
}

describe('what stands on one sheet', () => {
  it('a look holds what the eye gives at once, symptoms among it', () => {
    const ids = idsOf(until('look').sheet);
    expect(ids).toEqual(expect.arrayContaining([...letters.map((letter) => `look_${letter}`), 'beside']));
    for (const id of ids) expect(id).toMatch(/^look_|^beside$/);
  });

  it('a trial holds graded signs, long looks and test prints', () => {
    const ids = idsOf(until('trial').sheet);
    expect(ids).toEqual(expect.arrayContaining(letters.map((letter) => `graded_${letter}`)));
    for (const id of ids) expect(id).toMatch(/^graded_|^long_look$|^trial_print$/);
    expect(ids.some((id) => id === 'long_look' || id === 'trial_print')).toBe(true);
  });

  it('a recall sheet holds facts', () => {
    const ids = idsOf(until('recall').sheet);
    expect([...ids].sort()).toEqual(letters.map((letter) => `fact_${letter}`));
  });

  it('never holds more than nine lines, or one line twice, and no line comes on two sheets', () => {
    const put = rest(start);
    expect(new Set(put).size).toBe(put.length);
    const crowded = openEngine(
      knowledgeOf({
        ...Object.fromEntries(
          (['symptoms', 'facts', 'fixes'] as const).map((part) => [part, Object.values(knowledge[part])]),
        ),
        signs: [
          ...Object.values(knowledge.signs),
          ...Array.from({ length: 14 }, (_, index) => sign(`more_${index}`, [0.02])),
        ],
        causes: Object.values(knowledge.causes).map((one, place) => ({
          ...one,
          links: [
            ...one.links,
            ...Array.from({ length: 14 }, (_, index) => index)
              .filter((index) => index % letters.length === place)
              .map((index) => link(`more_${index}`, 0.7)),
          ],
        })),
      }),
    );
    let interview = crowded.start(start.case);
    const sizes: number[] = [];
    for (
      let step = crowded.next(interview, many);
      step.kind !== 'stop';
      step = crowded.next(interview, many)
    ) {
      if (step.kind === 'sheet') {
        sizes.push(step.sheet.items.length);
        interview = crowded.mark(interview, step.sheet, {}).interview;
      } else interview = crowded.answer(interview, step.question, 'unknown').interview;
    }
    expect(Math.max(...sizes)).toBe(9);
  });

  it('does not come where single questions are wanted', () => {
    expect(nextStep(engine.model, start.case, { questions: many, asked: 0 }).kind).toBe('ask');
  });
});

describe('a look that was filled in', () => {
  const { interview, sheet } = until('look');
  const marks: Marks = { look_a: 'yes', look_b: 'no', beside: 'yes' };
  const marked = engine.mark(interview, sheet, marks).interview;

  it('gives the case what is there and what is not; the rest was not looked at', () => {
    expect(marked.case.signs).toMatchObject({ look_a: 'yes', look_b: 'no' });
    expect(marked.case.symptoms).toEqual({ beside: true });
    expect(marked.case.unknown).toEqual(expect.arrayContaining(['look_c', 'look_d']));
    expect(marked.case.signs).not.toHaveProperty('look_c');
  });

  it('says the same as single answers do', () => {
    let single = interview;
    for (const item of sheet.items) {
      const mark = marks[item.id];
      single = engine.answer(single, item, mark === undefined ? 'unknown' : { value: mark }).interview;
    }
    const chances = (one: Interview) =>
      engine.diagnose(one.case).causes.map(({ cause: { id }, chance }) => [id, chance]);
    expect(chances(marked)).toEqual(chances(single));
    expect(engine.diagnose(marked.case).causes[0]!.cause.id).toBe('a');
  });

  it('is one step of the trail, and its lines are not put again', () => {
    expect(marked.trail).toEqual([...interview.trail, sheet.id]);
    expect(idsIn(marked.trail, marked.sheets)).toEqual(expect.arrayContaining(idsOf(sheet)));
    const put = rest(marked);
    for (const id of idsOf(sheet)) expect(put).not.toContain(id);
  });
});

describe.each(['recall', 'trial'] as const)('a %s sheet that was filled in', (kind) => {
  const { interview, sheet } = until(kind);
  const ids = idsOf(sheet);
  const [taken, left] = [[ids[1]!, ids[2]!], ids.filter((_, place) => place !== 1 && place !== 2)];
  const marks: Marks = Object.fromEntries(taken.map((id) => [id, 'yes' as const]));
  const marked = engine.mark(interview, sheet, marks).interview;

  it('leaves the case as it is', () => {
    expect(marked.case).toEqual(interview.case);
  });

  it('is followed by what was marked, at once and in its order', () => {
    let next = marked;
    for (const id of taken) {
      const step = engine.next(next, many);
      expect(step).toMatchObject({ kind: 'ask', question: { id } });
      if (step.kind !== 'ask') throw new Error('not asked');
      next = engine.answer(next, step.question, { value: step.question.answers[0]!.id }).interview;
    }
    expect(next.trail.slice(-2)).toEqual(taken);
  });

  it('what was not marked is not asked at all', () => {
    const put = rest(marked);
    for (const id of taken) expect(put).toContain(id);
    expect(left.length).toBeGreaterThan(0);
    for (const id of left) expect(put).not.toContain(id);
  });

  it('what was marked is asked though the questions are used up', () => {
    const limit = askedOf(marked);
    expect(engine.next(marked, limit)).toMatchObject({ kind: 'ask', question: { id: taken[0] } });
  });
});

describe('going back to a sheet', () => {
  const { interview, sheet } = until('look');
  const marked = engine.mark(interview, sheet, { look_a: 'yes', look_b: 'no' }).interview;

  it('opens it with the same lines and the marks made', () => {
    const back = engine.back(marked)!;
    expect(engine.next(back, many)).toEqual({ kind: 'sheet', sheet });
    expect(back.sheets[sheet.id]).toEqual({ items: idsOf(sheet), marks: { look_a: 'yes', look_b: 'no' } });
    expect(back.case.signs).toMatchObject({ look_a: 'yes', look_b: 'no' });
  });

  it('from the question after it, and marking anew takes the place of the marks before', () => {
    const back = engine.back(marked)!;
    const anew = engine.mark(back, sheet, { look_c: 'yes' }).interview;
    const once = engine.mark(interview, sheet, { look_c: 'yes' }).interview;
    expect(anew.trail).toEqual(once.trail);
    expect(anew.sheets).toEqual(once.sheets);
    expect(anew.case.signs).toEqual(once.case.signs);
    expect([...anew.case.unknown].sort()).toEqual([...once.case.unknown].sort());
    expect(anew.case.signs).not.toHaveProperty('look_a');
    expect(anew).not.toHaveProperty('reopened');
  });

  it('opens a recall sheet again with its marks, from the first question it led to', () => {
    const recall = until('recall');
    const [first, second] = idsOf(recall.sheet);
    const filled = engine.mark(recall.interview, recall.sheet, { [first!]: 'yes' }).interview;
    const back = engine.back(filled)!;
    expect(engine.next(back, many)).toEqual({ kind: 'sheet', sheet: recall.sheet });
    expect(back.sheets[recall.sheet.id]!.marks).toEqual({ [first!]: 'yes' });
    const changed = engine.mark(back, recall.sheet, { [second!]: 'yes' }).interview;
    expect(engine.next(changed, many)).toMatchObject({ kind: 'ask', question: { id: second } });
  });
});

describe('the limit', () => {
  it('counts a sheet once, with all that it led to', () => {
    const { interview, sheet } = until('recall');
    const marks = Object.fromEntries(idsOf(sheet).map((id) => [id, 'yes' as const]));
    let filled = engine.mark(interview, sheet, marks).interview;
    const before = askedOf(interview);
    for (const item of sheet.items) filled = engine.answer(filled, item, 'unknown').interview;
    expect(filled.trail.length).toBe(interview.trail.length + 1 + sheet.items.length);
    expect(askedOf(filled)).toBe(before + 1);
  });

  it('ends the asking after that many sheets', () => {
    let interview = start;
    let steps = 0;
    for (let step = engine.next(interview, 2); step.kind !== 'stop'; step = engine.next(interview, 2)) {
      steps += 1;
      interview =
        step.kind === 'sheet'
          ? engine.mark(interview, step.sheet, {}).interview
          : engine.answer(interview, step.question, 'unknown').interview;
    }
    expect(steps).toBe(2);
    expect(engine.next(interview, 2)).toEqual({ kind: 'stop', reason: 'enough_questions' });
  });
});

describe('a mark taken back', () => {
  it('takes the answer given after it along', () => {
    const { interview, sheet } = until('recall');
    const [first] = sheet.items;
    const marked = engine.mark(interview, sheet, { [first!.id]: 'yes' }).interview;
    const step = engine.next(marked, many);
    expect(step).toMatchObject({ kind: 'ask', question: { id: first!.id } });
    const answered = engine.answer(marked, first!, { value: 'bad' }).interview;
    expect(answered.case.facts[first!.id]).toBe('bad');
    const reopened = engine.back(engine.back(answered)!)!;
    const again = engine.mark(reopened, sheet, {}).interview;
    expect(again.case.facts).not.toHaveProperty(first!.id);
    expect(again.trail).not.toContain(first!.id);
    expect(askedOf(again)).toBe(askedOf(marked));
  });
});
