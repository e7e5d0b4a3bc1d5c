import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  coldClampedSagMm,
  coldSupportedSagMm,
  slackSagMm,
  strandWeightNPerM,
  tautSagMm,
} from '../../src/physics/bridge.ts';
import { expectShown, expectWithin } from './expectShown.ts';

const weight = strandWeightNPerM(1240, 0.4);

describe('bridge strand of PLA, 0.4 mm (computed beforehand)', () => {
  it('weighs 1.529e-3 N/m', () => {
    expectShown(weight, '1.529e-3');
  });

  it.each([
    [30, '0.017', '0.172', '0.58', '0.92', '1.84', '0.0008'],
    [50, '0.048', '0.478', '0.97', '1.53', '3.06', '0.006'],
    [100, '0.191', '1.911', '1.94', '3.06', '6.12', '0.096'],
  ])('span of %d mm', (span, taut, looser, slack01, slack025, slack1, cold) => {
    expectShown(tautSagMm(span, weight, 0.01), taut);
    expectShown(tautSagMm(span, weight, 0.001), looser);
    expectShown(slackSagMm(span, 0.001), slack01);
    expectShown(slackSagMm(span, 0.0025), slack025);
    expectShown(slackSagMm(span, 0.01), slack1);
    expectShown(coldClampedSagMm(span, weight, 3.3, 0.4), cold);
  });

  it('resting ends sag five times as much as clamped ones (published beam tables)', () => {
    const clamped = coldClampedSagMm(50, weight, 3.3, 0.4);
    expectWithin(coldSupportedSagMm(50, weight, 3.3, 0.4), 5 * clamped, 1e-12);
  });
});

describe('slack strand against the exact circular arc (plain geometry)', () => {
  it('within 1 % up to a share of 0.01', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.244, noNaN: true }), (halfAngle) => {
        const share = halfAngle / Math.sin(halfAngle) - 1;
        const exact = 50 * Math.tan(halfAngle / 2);
        expectWithin(slackSagMm(100, share), exact, 0.01);
      }),
    );
  });

  it('sag rises with span and with length laid', () => {
    const span = fc.double({ min: 1, max: 300, noNaN: true });
    fc.assert(
      fc.property(span, fc.double({ min: 1e-4, max: 0.04, noNaN: true }), (s, e) => {
        expect(slackSagMm(s * 1.1, e)).toBeGreaterThan(slackSagMm(s, e));
        expect(slackSagMm(s, e * 1.1)).toBeGreaterThan(slackSagMm(s, e));
      }),
    );
  });
});
