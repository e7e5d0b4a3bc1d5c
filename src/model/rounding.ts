/**
 * Steps that a practitioner can set or read, by unit: more digits would promise more than the numbers carry. Lengths
 * under a millimetre keep two decimals, for layers and lines are set in hundredths.
 */
const steps: Readonly<Record<string, number>> = {
  degC: 1,
  K: 1,
  deg: 1,
  percent: 1,
  'mm/s': 1,
  'mm/s2': 50,
  'mm3/s': 0.5,
  s: 1,
  min: 1,
  h: 0.5,
  g: 1,
};

/** @returns the value rounded to what its unit can be set to */
export function roundForUnit(value: number, unit: string | undefined): number {
  const step =
    unit === 'mm'
      ? Math.abs(value) < 3
        ? 0.01
        : Math.abs(value) < 20
          ? 0.1
          : 1
      : (steps[unit ?? ''] ?? 0.01);
  return Number((Math.round(value / step) * step).toFixed(4));
}
