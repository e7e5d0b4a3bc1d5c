import { compileExpression, type Scope } from './expression.ts';
import type { Condition, Expression } from './knowledgeBase.ts';
import { didYouMean, quote } from './refusal.ts';
import { suggest } from './suggest.ts';

export { type ConditionLabels, describe } from './describeCondition.ts';

/** Conditions within conditions; far beyond what anyone can read. */
const DEEPEST = 20;
/** Parts in one condition. YAML aliases could otherwise make it endless. */
const MOST_PARTS = 500;

type Path = readonly (string | number)[];

export interface ConditionProblem {
  readonly ok: false;
  /** Keys and places in lists, from the condition downward. */
  readonly path: Path;
  /** Whether the last key itself is wrong, or what stands under it. */
  readonly at: 'key' | 'value';
  readonly message: string;
  readonly help?: string;
  /** Place within an expression, in characters. */
  readonly start?: number;
  readonly end?: number;
}

export type CompiledCondition = { readonly ok: true; readonly condition: Condition } | ConditionProblem;

/** Thrown inside this file only, because a slip can show at any depth. */
class Slip extends Error {
  readonly problem: ConditionProblem;
  constructor(path: Path, at: 'key' | 'value', message: string, help?: string) {
    super(message);
    this.problem = { ok: false, path, at, message, ...(help !== undefined && { help }) };
  }
}

const EXAMPLE = 'As in: {material: [ABS, ASA], overhang_angle: {below: 30}}.';
const limits = ['below', 'above'] as const;
const joints = ['all', 'any', 'not'] as const;

const isMapping = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Turns what YAML gave into a checked condition, or says what is wrong and where. */
export function compileCondition(plain: unknown, scope: Scope): CompiledCondition {
  try {
    return { ok: true, condition: new Compiler(scope).compileMapping(plain, [], 0) };
  } catch (error) {
    if (error instanceof Slip) return error.problem;
    throw error;
  }
}

class Compiler {
  private parts = 0;
  private readonly scope: Scope;

  constructor(scope: Scope) {
    this.scope = scope;
  }

  compileMapping(plain: unknown, path: Path, depth: number): Condition {
    if (depth > DEEPEST) throw new Slip(path, 'value', `a condition goes at most ${DEEPEST} deep`);
    if (!isMapping(plain)) throw new Slip(path, 'value', 'a condition is a mapping', EXAMPLE);
    const of = Object.keys(plain).map((key) => this.compilePart(key, plain[key], [...path, key], depth));
    if (of.length === 0) throw new Slip(path, 'value', 'this condition is empty', EXAMPLE);
    return of.length === 1 ? of[0]! : { kind: 'all', of };
  }

  private compilePart(key: string, value: unknown, path: Path, depth: number): Condition {
    this.parts += 1;
    if (this.parts > MOST_PARTS) throw new Slip(path, 'value', `a condition has at most ${MOST_PARTS} parts`);
    const named = this.scope.facts.get(key);
    if (named)
      return 'answers' in named
        ? this.compileAnswers(key, named.answers, value, path)
        : this.compileLimits(key, named.unit, value, path);
    if (key === 'not') return { kind: 'not', of: this.compileMapping(value, path, depth + 1) };
    if (key === 'all' || key === 'any') return { kind: key, of: this.compileList(key, value, path, depth) };
    const near = suggest(key, [...this.scope.facts.keys(), ...joints]);
    throw new Slip(path, 'key', `no fact, sign or symptom named ${quote(key)}${didYouMean(near)}`);
  }

  private compileList(key: string, value: unknown, path: Path, depth: number): Condition[] {
    if (!Array.isArray(value) || value.length === 0)
      throw new Slip(
        path,
        'value',
        `"${key}" takes a list of conditions`,
        `As in: {${key}: [{...}, {...}]}.`,
      );
    return value.map((part, i) => this.compileMapping(part, [...path, i], depth + 1));
  }

  private compileAnswers(name: string, answers: readonly string[], value: unknown, path: Path): Condition {
    const list: readonly unknown[] = Array.isArray(value) ? value : [value];
    if (list.length === 0)
      throw new Slip(path, 'value', `no answer of ${name} is given`, helpAnswers(answers));
    if (list.length > MOST_PARTS) throw new Slip(path, 'value', `a list has at most ${MOST_PARTS} answers`);
    const values = list.map((item, i) => {
      const text = typeof item === 'string' || typeof item === 'number' ? String(item) : undefined;
      if (text !== undefined && answers.includes(text)) return text;
      throw new Slip(
        Array.isArray(value) ? [...path, i] : path,
        'value',
        refuseAnswer(name, answers, item, text),
        helpAnswers(answers),
      );
    });
    return { kind: 'is', name, values: [...new Set(values)] };
  }

  private compileLimits(name: string, unit: string, value: unknown, path: Path): Condition {
    const help = `As in: {${name}: {below: 30}}; "above" works as well, and both together.`;
    if (!isMapping(value))
      throw new Slip(path, 'value', `${name} is a number: say what it is below or above`, help);
    const keys = Object.keys(value);
    for (const key of keys) {
      if (key === 'below' || key === 'above') continue;
      const near = suggest(key, limits);
      throw new Slip([...path, key], 'key', `${quote(key)} is not known here${didYouMean(near)}`, help);
    }
    if (keys.length === 0) throw new Slip(path, 'value', 'no limit is given', help);
    const below = this.compileLimit('below', value, unit, path);
    const above = this.compileLimit('above', value, unit, path);
    refuseNothingBetween(below, above, path);
    return { kind: 'compare', name, ...(below && { below }), ...(above && { above }) };
  }

  private compileLimit(
    key: (typeof limits)[number],
    value: Record<string, unknown>,
    unit: string,
    path: Path,
  ): Expression | undefined {
    if (!Object.hasOwn(value, key)) return undefined;
    const compiled = compileExpression(value[key], this.scope, { expectedUnit: unit });
    if (compiled.ok) return compiled.expression;
    const slip = new Slip([...path, key], 'value', compiled.message, compiled.help);
    Object.assign(slip.problem, { start: compiled.start, end: compiled.end });
    throw slip;
  }
}

function refuseAnswer(name: string, answers: readonly string[], item: unknown, text?: string): string {
  if (text === undefined) {
    if (typeof item === 'boolean' && answers.includes('yes'))
      return `${item} is not an answer of ${name}; did you mean "${item ? 'yes' : 'no'}"?`;
    return `an answer of ${name} is needed here`;
  }
  return `${quote(text)} is not an answer of ${name}${didYouMean(suggest(text, answers))}`;
}

const helpAnswers = (answers: readonly string[]): string => `Its answers are: ${answers.join(', ')}.`;

function refuseNothingBetween(
  below: Expression | undefined,
  above: Expression | undefined,
  path: Path,
): void {
  if (below?.node.op !== 'number' || above?.node.op !== 'number') return;
  if (above.node.value >= below.node.value)
    throw new Slip(
      path,
      'value',
      `no number is both above ${above.text} and below ${below.text}`,
      'Both limits have to hold; for either of two ranges write: any: [{...}, {...}].',
    );
}
