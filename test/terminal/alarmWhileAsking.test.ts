import { describe, expect, it } from 'vitest';
import { emptyCase, openEngine } from '../../src/dialogue/engine.ts';
import { questionFor } from '../../src/dialogue/question.ts';
import { shippedFolder } from '../../src/knowledge/folders.ts';
import { loadKnowledge } from '../../src/knowledge/load.ts';
import type { Asker } from '../../src/terminal/asker.ts';
import { runInterview } from '../../src/terminal/interviewLoop.ts';

const { knowledge } = loadKnowledge({ shipped: shippedFolder, local: [] });
const smoke = 'smoke_or_burnt_smell';
const question = questionFor(knowledge, smoke)!;
const look = () => ({ width: 80, color: false, ascii: false, plain: true }) as never;

/** A person who says yes to smoke, whichever way it is asked. */
const asker: Asker = {
  ask: () => Promise.resolve({ kind: 'answer', value: 'yes' }),
  fill: () => Promise.resolve({ kind: 'marks', marks: { [smoke]: 'yes' } }),
  pick: () => Promise.reject(new Error('nothing to pick')),
  confirm: () => Promise.reject(new Error('nothing to confirm')),
  note: () => {},
  say: () => {},
  close: () => {},
};

describe('smoke reported while questions are asked', () => {
  it.each([
    ['on a sheet', { kind: 'sheet', sheet: { id: '#look1', kind: 'look', title: 't', items: [question] } }],
    ['by itself', { kind: 'ask', question, worthMinutes: 1, purpose: 'cause' }],
  ] as const)('stops everything, %s, and the answer is not kept', async (_, step) => {
    const engine = { ...openEngine(knowledge), next: () => step };
    const kept: unknown[] = [];
    const start = engine.start({ ...emptyCase, complaint: 'stringing' });
    const outcome = await runInterview(engine, asker, look, start, (interview) => kept.push(interview));
    expect(outcome?.alarms.map(({ id }) => id)).toEqual(['stop_smoke']);
    expect(outcome?.interview.case.symptoms).toEqual({});
    expect(kept).toEqual([]);
  });
});
