import { convert, unitAliases, units } from './units.ts';

export type Quantity =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly message: string };

/** Units that people write and no entry uses. */
const everyday: ReadonlyMap<string, (value: number) => { value: number; unit: string }> = new Map([
  ['f', (value: number) => ({ value: ((value - 32) * 5) / 9, unit: 'degC' })],
  ['fahrenheit', (value: number) => ({ value: ((value - 32) * 5) / 9, unit: 'degC' })],
  ['in', (value: number) => ({ value: value * 25.4, unit: 'mm' })],
  ['inch', (value: number) => ({ value: value * 25.4, unit: 'mm' })],
  ['inches', (value: number) => ({ value: value * 25.4, unit: 'mm' })],
  ['"', (value: number) => ({ value: value * 25.4, unit: 'mm' })],
  ['cm', (value: number) => ({ value: value * 10, unit: 'mm' })],
  ['%', (value: number) => ({ value, unit: 'percent' })],
  ['°', (value: number) => ({ value, unit: 'deg' })],
  ['mm/min', (value: number) => ({ value: value / 60, unit: 'mm/s' })],
]);

/**
 * Reads a number as people type it: `210`, `210 C`, `210,5`, `410 F`, `1/2 in`, `30 %`; without a unit it is taken in the one asked for.
 * @param unit the unit to give the value in
 */
export function readQuantity(text: string, unit: string): Quantity {
  const match = /^\s*([+-]?)(\d{1,9})(?:[.,](\d{1,9}))?(?:\s*\/\s*(\d{1,6}))?\s*([^\d\s].*?)?\s*$/u.exec(
    text,
  );
  if (match === null) return { ok: false, message: 'this is not a number' };
  const [, sign, whole, decimals, divisor, rest] = match;
  let value = Number(`${sign}${whole}.${decimals ?? '0'}`);
  if (divisor !== undefined) value /= Number(divisor);
  if (!Number.isFinite(value)) return { ok: false, message: 'this is not a number' };
  if (rest === undefined) return { ok: true, value };
  const typed = rest
    .replace(/²/g, '2')
    .replace(/³/g, '3')
    .replace(/^°\s*(?=[CFcf])/, '');
  const given = everyday.get(typed.toLowerCase())?.(value) ?? { value, unit: nameOf(typed) };
  // A bare degree sign after a temperature is how most people write it; so is K for a difference that is asked in degrees.
  if (given.unit === 'deg' && unit === 'degC') return { ok: true, value };
  const converted = given.unit === unit ? given.value : convert(given.value, given.unit, unit);
  if (converted === undefined) return { ok: false, message: `"${rest}" is not a unit for this; ${unit} is` };
  return { ok: true, value: converted };
}

function nameOf(typed: string): string {
  return units.has(typed) ? typed : (unitAliases.get(typed.toLowerCase()) ?? typed);
}
