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
  const apart = a.findIndex((value, index) => !(Math.abs(value - b[index]!) <= tolerance));
  const told = apart < 0 ? '' : `[${apart}]: ${a[apart]} instead of ${b[apart]}, tolerance ${tolerance}`;
  expect(told).toBe('');
}
