import { roundForUnit } from '../model/rounding.ts';

/** How units are written for people. */
const written: Readonly<Record<string, string>> = {
  degC: '°C',
  deg: '°',
  percent: '%',
  mm2: 'mm²',
  mm3: 'mm³',
  'mm3/s': 'mm³/s',
  'mm/s2': 'mm/s²',
  ratio: '',
};

export function writeUnit(unit: string | undefined): string {
  return unit === undefined ? '' : (written[unit] ?? unit);
}

/** A value with its unit, rounded to what can be set or read. */
export function showQuantity(value: number, unit: string | undefined): string {
  const name = writeUnit(unit);
  const number = String(roundForUnit(value, unit));
  return name === '' ? number : name === '°' ? `${number}${name}` : `${number} ${name}`;
}

/** Minutes as people say them: "10 min", "2 h", "1 day". */
export function showMinutes(minutes: number): string {
  if (minutes < 1) return 'under 1 min';
  if (minutes < 90) return `${minutes < 10 ? Math.round(minutes) : Math.round(minutes / 5) * 5} min`;
  const hours = minutes / 60;
  if (hours < 36) return `${hours < 10 ? Math.round(hours * 2) / 2 : Math.round(hours)} h`;
  return `${Math.round(hours / 24)} days`;
}

/** A chance as a count of ten, as it stands beside its word. */
export function inTen(chance: number): string {
  if (chance < 0.05) return 'under 1 in 10';
  if (chance > 0.95) return 'over 9 in 10';
  return `${Math.round(chance * 10)} in 10`;
}

export function chanceWord(
  words: readonly { readonly word: string; readonly from: number }[],
  chance: number,
): string {
  return (words.find((step) => chance >= step.from) ?? words[words.length - 1]!).word;
}
