import type { Condition, Expression } from './knowledgeBase.ts';
import { units } from './units.ts';

/** How things are called on the screen. */
export interface ConditionLabels {
  /** A fact's, sign's or symptom's short name. */
  name(id: string): string;
  /** One of its answers or levels. */
  answer(id: string, answer: string): string;
}

const listOr = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} or ${words[words.length - 1]}`;

const ends = { low: 'lowest', high: 'highest', mid: 'middle' } as const;

function describeLimit(limit: Expression, labels: ConditionLabels): string {
  if (limit.node.op === 'number') {
    const value = Number(limit.node.value.toPrecision(12));
    return limit.unit === 'ratio' ? String(value) : `${value} ${limit.unit}`;
  }
  const reads = new Set(limit.reads);
  return limit.text
    .trim()
    .replace(/material\.(\w+)_(low|high|mid)\b|[A-Za-z_]\w*\b(?!\s*\()/g, (word, property, end) => {
      if (typeof property === 'string')
        return `the material's ${ends[end as keyof typeof ends]} ${property.replaceAll('_', ' ')}`;
      return reads.has(word) && !units.has(word) ? labels.name(word) : word;
    });
}

const isYesOrNo = (condition: Condition & { kind: 'is' }): boolean =>
  condition.values.length === 1 && (condition.values[0] === 'yes' || condition.values[0] === 'no');

function describeIs(condition: Condition & { kind: 'is' }, labels: ConditionLabels, not: boolean): string {
  const name = labels.name(condition.name);
  const answers = condition.values.map((value) => labels.answer(condition.name, value));
  if (isYesOrNo(condition)) return `${name}: ${not ? 'not ' : ''}${answers[0]}`;
  return `${name} is ${not ? 'not ' : ''}${listOr(answers)}`;
}

function describeCompare(
  condition: Condition & { kind: 'compare' },
  labels: ConditionLabels,
  not: boolean,
): string {
  const sides: string[] = [];
  if (condition.above) sides.push(`above ${describeLimit(condition.above, labels)}`);
  if (condition.below) sides.push(`below ${describeLimit(condition.below, labels)}`);
  return `${labels.name(condition.name)} ${not ? 'not ' : ''}${sides.join(' and ')}`;
}

function describePart(condition: Condition, labels: ConditionLabels, inside: boolean): string {
  switch (condition.kind) {
    case 'is':
      return describeIs(condition, labels, false);
    case 'compare':
      return describeCompare(condition, labels, false);
    case 'not': {
      if (condition.of.kind === 'is') return describeIs(condition.of, labels, true);
      if (condition.of.kind === 'compare') return describeCompare(condition.of, labels, true);
      return `not (${describePart(condition.of, labels, false)})`;
    }
    case 'all':
    case 'any': {
      const parts = condition.of.map((part) => describePart(part, labels, condition.of.length > 1));
      const joined = parts.join(condition.kind === 'all' ? ', and ' : ', or ');
      return inside && parts.length > 1 ? `(${joined})` : joined;
    }
  }
}

/** A condition in plain words: "filament is ABS or ASA, and overhang angle below 30 deg". */
export function describe(condition: Condition, labels: ConditionLabels): string {
  return describePart(condition, labels, false);
}
