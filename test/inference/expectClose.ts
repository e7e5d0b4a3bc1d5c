import { expect } from 'vitest';

/** Absolute difference at most `tolerance`, element by element; NaN is never close. */
export function expectClose(
  actual: ArrayLike<number> | number,
  wanted: ArrayLike<number> | number,
  tolerance: number,
): void {
  const a = typeof actual === 'number' ? [actual] : Array.from(actual);
  const b = typeof wanted === 'number' ? [wanted] : Array.from(wanted);
  expect(a.length).toBe(b.length);
  const worst = a.reduce((largest, value, index) => {
    const difference = Math.abs(value - b[index]!);
    return difference <= largest ? largest : difference;
  }, 0);
  if (!(worst <= tolerance)) expect(a, `differs by ${worst}`).toEqual(b);
  expect(worst).toBeLessThanOrEqual(tolerance);
}
