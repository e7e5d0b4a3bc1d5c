import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decibans, leaveOneOut, logOdds, shareOut } from '../../src/inference/explain.ts';
import type { Observation } from '../../src/inference/network.ts';
import { infer } from '../../src/inference/posterior.ts';
import { only } from './build.ts';
import { expectClose } from './expectClose.ts';
import { threeByThree } from './threeByThree.ts';

// The three-cause example, f1+ f2+ f3-; weights of evidence in nats (Good 1985), computed for it by enumeration.
const ITEMS: [number, Observation][] = [
  [0, 1],
  [1, 1],
  [2, 0],
];

function weigh(mask: number): Float64Array {
  const observed = new Map(ITEMS.filter((_, item) => mask & (1 << item)));
  return infer(only(threeByThree), { observed }).posterior.map(logOdds);
}

const column = (shares: readonly Float64Array[], cause: number) => shares.map((share) => share[cause]!);

describe('weights of evidence', () => {
  it('totals and single findings', () => {
    const before = weigh(0);
    const minus = (mask: number) => weigh(mask).map((value, cause) => value - before[cause]!);
    expectClose(minus(0b111), [2.789804258616, 2.661958949894, -0.624349152115], 1e-12);
    expectClose(minus(0b001), [3.015634, 1.540097, 0], 5e-7);
    expectClose(minus(0b010), [1.373178, 2.452893, 1.166941], 5e-7);
    expectClose(minus(0b100), [0, -0.105361, -0.916291], 5e-7);
  });

  it('leave one out', () => {
    const shares = leaveOneOut(3, (without) =>
      weigh(without === undefined ? 0b111 : 0b111 & ~(1 << without)),
    );
    expectClose(column(shares, 0), [1.152703, -0.273776, 0.07134], 5e-7);
    expectClose(column(shares, 1), [0.004448, 1.227223, -0.048162], 5e-7);
    expectClose(column(shares, 2), [-0.913571, 0.291942, -0.905089], 5e-7);
  });

  it('average over all orders', () => {
    const shares = shareOut(3, weigh);
    expectClose(column(shares, 0), [2.124257, 0.589789, 0.075758], 5e-7);
    expectClose(column(shares, 1), [0.814402, 1.882188, -0.034631], 5e-7);
    expectClose(column(shares, 2), [-0.452224, 0.734003, -0.906128], 5e-7);
    const all = weigh(0b111);
    const none = weigh(0);
    for (const cause of [0, 1, 2]) {
      const sum = column(shares, cause).reduce((total, share) => total + share, 0);
      expectClose(sum, all[cause]! - none[cause]!, 1e-12);
    }
  });

  it('independent evidence adds exactly, in decibans', () => {
    const parts = [logOdds(0.2), Math.log(4), Math.log(0.5), Math.log(2)].map(decibans);
    expectClose(parts, [-6.0206, 6.0206, -3.0103, 3.0103], 5e-5);
    expectClose(
      parts.reduce((sum, part) => sum + part, 0),
      decibans(logOdds(0.5)),
      1e-12,
    );
  });
});

describe('sharing out any figure', () => {
  it('is what all orders average to, and adds up', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 4 }).chain((items) =>
          fc.tuple(
            fc.constant(items),
            fc.array(fc.double({ min: -5, max: 5, noNaN: true }), {
              minLength: 1 << items,
              maxLength: 1 << items,
            }),
          ),
        ),
        ([items, values]) => {
          const shares = shareOut(items, (mask) => values[mask]!);
          const orders = ordersOf(items);
          const wanted = new Array<number>(items).fill(0);
          for (const order of orders) {
            let mask = 0;
            for (const item of order) {
              const before = values[mask]!;
              mask |= 1 << item;
              wanted[item] = wanted[item]! + (values[mask]! - before) / orders.length;
            }
          }
          expectClose(column(shares, 0), wanted, 1e-12);
        },
      ),
      { numRuns: 200, seed: 5 },
    );
  });

  it('takes ten items and refuses eleven', () => {
    const shares = shareOut(10, (mask) => mask);
    expectClose(
      column(shares, 0),
      Array.from({ length: 10 }, (_, item) => 1 << item),
      1e-9,
    );
    expect(() => shareOut(11, () => 0)).toThrow(RangeError);
  });

  it('log-odds stay finite', () => {
    for (const chance of [0, 1, 0.5, 1e-320]) expect(Number.isFinite(logOdds(chance))).toBe(true);
    expect(logOdds(0.5)).toBe(0);
  });
});

function ordersOf(items: number): number[][] {
  let orders: number[][] = [[]];
  for (let item = 0; item < items; item += 1) {
    orders = orders.flatMap((order) =>
      Array.from({ length: order.length + 1 }, (_, at) => order.toSpliced(at, 0, item)),
    );
  }
  return orders;
}
