/** Longest length any formula here takes, mm: a bound that catches slips of unit, far beyond any printer. */
export const LONGEST_MM = 100_000;

/** Largest number taken where nature sets no bound: keeps products of a few inputs finite. */
export const LARGEST = 1e12;

function refuse(name: string, value: number, unit: string, range: string): never {
  const tail = unit === '' ? '' : ` ${unit}`;
  throw new RangeError(`${name} is ${String(value)}${tail}; it must be ${range}${tail}`);
}

/** Throws RangeError unless low <= value <= high. NaN and infinities are refused. */
export function requireRange(name: string, value: number, unit: string, low: number, high: number): void {
  if (!(Number.isFinite(value) && value >= low && value <= high))
    refuse(name, value, unit, `from ${low} to ${high}`);
}

/** Throws RangeError unless low < value <= high. */
export function requireAbove(name: string, value: number, unit: string, low: number, high: number): void {
  if (!(Number.isFinite(value) && value > low && value <= high))
    refuse(name, value, unit, `above ${low} and at most ${high}`);
}

/** Throws RangeError unless low < value < high. */
export function requireBetween(name: string, value: number, unit: string, low: number, high: number): void {
  if (!(Number.isFinite(value) && value > low && value < high))
    refuse(name, value, unit, `above ${low} and below ${high}`);
}

/** Throws RangeError unless value is a length above 0, mm. */
export function requireLength(name: string, value: number): void {
  requireAbove(name, value, 'mm', 0, LONGEST_MM);
}

/** Throws RangeError unless value is above 0. */
export function requirePositive(name: string, value: number, unit: string): void {
  requireAbove(name, value, unit, 0, LARGEST);
}

/** Throws RangeError unless value is a temperature met in printing, -60 to 600 degC. */
export function requireTemperature(name: string, valueC: number): void {
  requireRange(name, valueC, 'degC', -60, 600);
}

/** Passes a result on. Inputs each in range can still be so lopsided that the answer is beyond any number. */
export function requireFinite(name: string, value: number, unit: string): number {
  if (!Number.isFinite(value))
    throw new RangeError(
      `${name} would be ${String(value)} ${unit}; the inputs are too far apart for an answer`,
    );
  return value;
}
