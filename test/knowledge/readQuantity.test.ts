import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readQuantity } from '../../src/knowledge/readQuantity.ts';

const read = (text: string, unit: string) => {
  const quantity = readQuantity(text, unit);
  return quantity.ok ? quantity.value : undefined;
};

describe('a number as people type it', () => {
  it.each([
    ['210', 'degC', 210],
    ['210,5', 'degC', 210.5],
    ['210.5', 'degC', 210.5],
    ['210 C', 'degC', 210],
    ['210°C', 'degC', 210],
    ['210 °C', 'degC', 210],
    ['210°', 'degC', 210],
    ['-5', 'degC', -5],
    ['30 %', 'percent', 30],
    ['0,45mm', 'mm', 0.45],
    ['2 h', 'min', 120],
    ['1 cm', 'mm', 10],
    // Exact by definition: 1 inch is 25.4 mm (international yard and pound agreement, 1959); 410 F is 210 C.
    ['1/2 in', 'mm', 12.7],
    ['410 F', 'degC', 210],
    ['3000 mm/min', 'mm/s', 50],
  ])('%s in %s', (text, unit, expected) => {
    expect(read(text, unit)).toBeCloseTo(expected, 9);
  });

  it.each([
    ['', 'mm'],
    ['abc', 'mm'],
    ['1.2.3', 'mm'],
    ['5 degC', 'mm'],
    ['1/0', 'mm'],
    ['5 bananas', 'mm'],
  ])('%j is refused in %s', (text, unit) => {
    expect(read(text, unit)).toBeUndefined();
  });

  it('never throws nor gives anything but a finite number', () => {
    fc.assert(
      fc.property(fc.string(), fc.constantFrom('mm', 'degC', 'percent', 's'), (text, unit) => {
        const value = read(text, unit);
        expect(value === undefined || Number.isFinite(value)).toBe(true);
      }),
      { numRuns: 3000 },
    );
  });
});
