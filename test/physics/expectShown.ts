import { expect } from 'vitest';

/**
 * Asserts that a number rounds to a table entry, written as a string so that its last digit sets the tolerance: half a
 * unit of that digit, and a hair for entries that lie on the edge.
 */
export function expectShown(actual: number, shown: string): void {
  const [digits = '', exponent = '0'] = shown.toLowerCase().split('e');
  const decimals = (digits.split('.')[1] ?? '').length;
  const halfUnit = 0.5 * 10 ** (Number(exponent) - decimals);
  const message = `${actual} against ${shown}`;
  expect(Math.abs(actual - Number(shown)), message).toBeLessThanOrEqual(halfUnit * (1 + 1e-6));
}

/** Asserts agreement within a share of the expected value. */
export function expectWithin(actual: number, expected: number, share: number): void {
  expect(Math.abs(actual / expected - 1), `${actual} against ${expected}`).toBeLessThanOrEqual(share);
}
