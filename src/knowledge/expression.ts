import { Checker, type Scope } from './checkExpression.ts';
import type { Expression } from './knowledgeBase.ts';
import { parseExpression } from './parseExpression.ts';
import { Refusal } from './refusal.ts';
import { nearestUnit, units } from './units.ts';

export type { Named, Scope } from './checkExpression.ts';
export { reservedWords } from './parseExpression.ts';

/** Longest expression, in characters: an entry is read by people. */
export const LONGEST_EXPRESSION = 500;

/** The unit of an expression that is true or false. */
export const TRUTH = 'yes/no';

export type Compiled =
  | { readonly ok: true; readonly expression: Expression }
  | {
      readonly ok: false;
      /** Place in the text, in characters from 0; `end` is the first one beyond. */
      readonly start: number;
      readonly end: number;
      readonly message: string;
      readonly help?: string;
    };

export interface Expected {
  /** The unit wanted: the result is converted to it, and numbers without a unit are taken to be in it. */
  readonly expectedUnit?: string;
  /** `test` for an expression that is true or false; a number otherwise. */
  readonly expects?: 'value' | 'test';
}

function refuseText(text: unknown): Refusal | undefined {
  const place = { start: 0, end: typeof text === 'string' ? text.length : 1 };
  if (typeof text !== 'string')
    return new Refusal(place, 'a number or an expression is needed', 'As in: 2 * nozzle_diameter.');
  if (text.trim() === '') return new Refusal(place, 'the expression is empty');
  if (text.length > LONGEST_EXPRESSION)
    return new Refusal(
      place,
      `the expression is longer than ${LONGEST_EXPRESSION} characters`,
      'Split it into computed facts.',
    );
  return undefined;
}

// YAML hands over a plain number as a number; it means the same as its text.
const asText = (value: unknown): unknown =>
  typeof value === 'number' && Number.isFinite(value) ? String(value) : value;

function compile(text: string, scope: Scope, expected: Expected): Expression {
  const checker = new Checker(text, scope);
  const syntax = parseExpression(text);
  if (expected.expects === 'test') {
    const node = checker.test(syntax);
    return { text, unit: TRUTH, node, reads: [...checker.reads] };
  }
  const checked = checker.check(syntax);
  const { expectedUnit: wanted } = expected;
  // What comes out of a product may have no name in the list of units; then it is given in base units.
  const own = nearestUnit(checked.is === 'test' || checked.is.bare ? units.get('ratio')! : checked.is);
  const node = checker.fit(checked, wanted ?? own);
  return { text, unit: wanted ?? own.name, node, reads: [...checker.reads] };
}

/**
 * Checks an expression, so that what is left can only be worked out or be unknown. Facts and material properties are
 * read in the unit they declare; the result is in `expression.unit`.
 */
export function compileExpression(text: unknown, scope: Scope, expected: Expected = {}): Compiled {
  const written = asText(text);
  try {
    const refusal = refuseText(written);
    if (refusal) throw refusal;
    return { ok: true, expression: compile(written as string, scope, expected) };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const { start, end, message, help } = error;
    return { ok: false, start, end, message, ...(help !== undefined && { help }) };
  }
}
