import { describe, expect, it } from 'vitest';
import { normalCdf, oddsFactor } from '../../src/model/odds.ts';
import { Situation } from '../../src/model/situation.ts';
import { knowledgeOf, limit, number } from '../support/tinyKnowledge.ts';

describe('normal distribution function', () => {
  // Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 26.1; values from memory.
  it.each([
    [0, 0.5],
    [0.5, 0.69146246],
    [1, 0.84134475],
    [1.5, 0.9331928],
    [2, 0.97724987],
    [3, 0.9986501],
  ])('at %d', (z, expected) => {
    expect(Math.abs(normalCdf(z) - expected)).toBeLessThan(1e-7);
    expect(Math.abs(normalCdf(-z) - (1 - expected))).toBeLessThan(1e-7);
  });
});

describe('a number against a limit', () => {
  const knowledge = knowledgeOf({ facts: [number('angle', [20, 45, 70])] });
  const at = (x: number, uncertainty = 0) =>
    oddsFactor(limit('angle', 'below', 45, 5, 20, 0.05), new Situation(knowledge, { angle: x }), uncertainty);

  it('counts half way, in the logarithm, at the limit itself', () => {
    expect(at(45)).toBeCloseTo(1, 7);
  });

  it('reaches its bad and good value far from the limit', () => {
    expect(at(10)).toBeCloseTo(20, 6);
    expect(at(80)).toBeCloseTo(0.05, 6);
  });

  // The share is the same soft step as published for design limits: Phi((limit - x) / width); at 40 with width 5, Phi(1).
  it('runs along the normal distribution function between them', () => {
    const share = 0.84134475;
    expect(Math.log(at(40))).toBeCloseTo(share * Math.log(20) + (1 - share) * Math.log(0.05), 5);
  });

  it('is softer when the value is only guessed', () => {
    expect(at(40, 8)).toBeLessThan(at(40));
    expect(at(50, 8)).toBeGreaterThan(at(50));
  });

  it('says nothing while the number is not known', () => {
    expect(oddsFactor(limit('angle', 'below', 45, 5, 20, 0.05), new Situation(knowledge), 0)).toBe(1);
  });
});
