import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  flowMm3PerS,
  heaterPowerW,
  meltCapacityMm3PerS,
  roundEdgedFlowMm3PerS,
  speedForFlowMmS,
} from '../../src/physics/flow.ts';
import { expectShown, expectWithin } from './expectShown.ts';

describe('volume laid each second (computed beforehand)', () => {
  it.each([
    [0.45, 0.2, 60, '5.40', '4.885'],
    [0.45, 0.2, 100, '9.00', '8.142'],
    [0.45, 0.28, 150, '18.90', '16.376'],
    [0.6, 0.3, 80, '14.40', '12.855'],
    [0.42, 0.2, 300, '25.20', '22.625'],
  ])('%d x %d mm at %d mm/s', (w, h, v, square, round) => {
    expectShown(flowMm3PerS(w, h, v), square);
    expectShown(roundEdgedFlowMm3PerS(w, h, v), round);
  });

  it('10 mm3/s allow 111 mm/s', () => {
    expectShown(speedForFlowMmS(10, 0.45, 0.2), '111');
  });

  it('10 mm3/s are 36 cm3/h, tens of cm3/h as published for desktop machines (Go and others 2017)', () => {
    expectWithin((flowMm3PerS(0.5, 0.2, 100) * 3600) / 1000, 36, 1e-12);
  });

  it('speed and flow are inverse; round edges never lay more', () => {
    const h = fc.double({ min: 0.05, max: 1, noNaN: true });
    const extra = fc.double({ min: 1, max: 4, noNaN: true });
    fc.assert(
      fc.property(h, extra, fc.double({ min: 1, max: 1000, noNaN: true }), (height, ratio, v) => {
        const w = height * ratio;
        const flow = flowMm3PerS(w, height, v);
        expectWithin(speedForFlowMmS(flow, w, height), v, 1e-12);
        expect(roundEdgedFlowMm3PerS(w, height, v)).toBeLessThanOrEqual(flow);
      }),
    );
  });
});

describe('melt capacity', () => {
  it.each([
    [10, '5.5', '3.8'],
    [20, '10.9', '7.6'],
    [40, '21.8', '15.2'],
  ])('melt zone of %d mm, 5.8e-8 m2/s (computed beforehand)', (zone, mean, centre) => {
    expectShown(meltCapacityMm3PerS(zone, 5.8e-8), mean);
    expectShown(meltCapacityMm3PerS(zone, 5.8e-8, 0.48), centre);
  });

  it('short, standard and long zones fall in the trade ranges 5-8, 8-12, 18-25 (common practice, no source)', () => {
    const ranges: [number, number, number][] = [
      [10, 5, 8],
      [20, 8, 12],
      [40, 18, 25],
    ];
    for (const [zone, low, high] of ranges) {
      expect(meltCapacityMm3PerS(zone, 5.8e-8)).toBeGreaterThanOrEqual(low);
      expect(meltCapacityMm3PerS(zone, 5.8e-8)).toBeLessThanOrEqual(high);
    }
  });

  it('10 mm3/s of PLA heated by 185 K take 4.13 W (computed beforehand)', () => {
    expectShown(heaterPowerW(10, 1240, 1800, 210, 25), '4.13');
  });
});
