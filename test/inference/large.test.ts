import { describe, expect, it } from 'vitest';
import { infer } from '../../src/inference/posterior.ts';
import { valueQuestions } from '../../src/inference/question.ts';
import { expectClose } from './expectClose.ts';
import { largeContext } from './large.ts';

describe('150 causes, 300 findings, 6 positive, 15 negative', () => {
  const context = largeContext(1, 6);
  const { scenarios, evidence } = context;

  it('values sixty questions within 50 ms, the posterior included', () => {
    const times: number[] = [];
    for (let round = 0; round < 25; round += 1) {
      const started = performance.now();
      infer(scenarios, evidence);
      valueQuestions(context);
      times.push(performance.now() - started);
    }
    times.sort((a, b) => a - b);
    expect(times[12]).toBeLessThan(50);
  });

  it('the averages of the answers are what is believed now', () => {
    const now = infer(scenarios, evidence);
    const { questions } = valueQuestions(context);
    const valued = questions.filter(({ skipped }) => !skipped);
    expect(valued.length).toBeGreaterThan(5);
    for (const { id, chances } of valued) {
      const mean = now.responsible.map(() => 0);
      [0, 1].forEach((level) => {
        const observed = new Map([...evidence.observed, [Number(id.slice(1)), level]]);
        const after = infer(scenarios, { ...evidence, observed });
        expectClose(Math.exp(after.logEvidence - now.logEvidence), chances[level]!, 1e-11);
        after.responsible.forEach((chance, cause) => {
          mean[cause] = mean[cause]! + chances[level]! * chance;
        });
      });
      expectClose(mean, now.responsible, 1e-11);
    }
  });
});
