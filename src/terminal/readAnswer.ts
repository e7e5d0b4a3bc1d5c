import { showQuantity, writeUnit } from '../dialogue/quantity.ts';
import type { Question } from '../dialogue/question.ts';
import { readQuantity } from '../knowledge/readQuantity.ts';

/** Where a number is asked that may be nought (no brim, no fan), 0 is that number and ? means "do not know". */
export function isNoughtAnAnswer({ unit, range }: Question): boolean {
  return unit !== undefined && range !== undefined && range[0] <= 0 && range[1] >= 0;
}

export function rangeText({ unit, range }: Question): string {
  const [low, high] = range ?? [0, 0];
  return `a number in ${writeUnit(unit) || 'plain figures'}, from ${low} to ${high}`;
}

/** An answer in the question's own words. */
export function answerText(question: Question, value: string | number | 'unknown'): string {
  if (value === 'unknown') return 'do not know';
  if (typeof value === 'number') return showQuantity(value, question.unit);
  return question.answers.find((answer) => answer.id === value)?.text ?? value;
}

/** The answer that was typed, or what to say about it. */
export function readAnswer(question: Question, typed: string): string | number | { complaint: string } {
  if (question.unit === undefined) {
    const index = /^\d+$/.test(typed) ? Number(typed) : Number.NaN;
    const answer =
      question.answers[index - 1] ?? question.answers.find((a) => sameWords(a.text, typed) || a.id === typed);
    if (answer) return answer.id;
    return { complaint: `Type a number from 1 to ${question.answers.length}, or 0 if you do not know.` };
  }
  const read = readQuantity(typed, question.unit);
  const [low, high] = question.range ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  if (!read.ok)
    return {
      complaint: `"${typed}": ${read.message}. Type ${rangeText(question)}, or ? if you do not know.`,
    };
  if (read.value < low || read.value > high) {
    const near = nearRange(read.value, low, high);
    const hint = near === undefined ? '' : ` Did you mean ${near}?`;
    return { complaint: `${typed} is outside ${low} to ${high} ${writeUnit(question.unit)}.${hint}` };
  }
  return read.value;
}

/** A slip by a factor of ten is the usual one: 2100 for 210. */
function nearRange(value: number, low: number, high: number): number | undefined {
  return [value / 10, value * 10].find((other) => other >= low && other <= high);
}

function sameWords(a: string, b: string): boolean {
  return a.toLowerCase() === b.toLowerCase();
}
