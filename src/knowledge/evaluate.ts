import { formulas } from './formulas.ts';
import type { Condition, Expression, Node } from './knowledgeBase.ts';

/** What is known about one print. Every answer may be undefined: not known. */
export interface Lookup {
  /** A number fact or computed fact, in the unit it declares. */
  value(id: string): number | undefined;
  /** The answer of a choice fact, the level of a sign, `yes` or `no` for a symptom. */
  answer(id: string): string | undefined;
  /** A property of the material, in the unit of `materialUnits`. */
  material(property: string, end: 'low' | 'high' | 'mid'): number | undefined;
}

/** Relative difference below which two numbers count as equal: 1.35 mm / 0.45 mm is 3, whatever the last digit says. */
const SAME = 1e-9;

const isSame = (a: number, b: number): boolean =>
  a === b || Math.abs(a - b) <= SAME * Math.max(Math.abs(a), Math.abs(b));

const finite = (value: number | undefined): number | undefined =>
  value !== undefined && Number.isFinite(value) ? value : undefined;

/** The expression's number in its own unit; undefined when something in it is unknown, or it has no answer. */
export function evaluate(expression: Expression, lookup: Lookup): number | undefined {
  return evaluateNode(expression.node, lookup);
}

/** As `evaluate`, for a part of an expression. A test gives 1 or 0. */
export function evaluateNode(node: Node, lookup: Lookup): number | undefined {
  switch (node.op) {
    case 'number':
      return node.value;
    case 'fact':
      return finite(lookup.value(node.id));
    case 'material':
      return finite(lookup.material(node.property, node.end));
    case '+':
    case '-':
    case '*':
    case '/': {
      const left = evaluateNode(node.left, lookup);
      if (left === undefined) return undefined;
      const right = evaluateNode(node.right, lookup);
      if (right === undefined) return undefined;
      return calculate(node.op, left, right);
    }
    case 'negate': {
      const value = evaluateNode(node.of, lookup);
      return value === undefined ? undefined : 0 - value;
    }
    case 'call':
      return call(node.name, node.args, lookup);
    case 'if': {
      const test = evaluateBoolean(node.test, lookup);
      if (test !== undefined) return evaluateNode(test ? node.then : node.otherwise, lookup);
      const value = evaluateNode(node.then, lookup);
      return value !== undefined && value === evaluateNode(node.otherwise, lookup) ? value : undefined;
    }
    default: {
      const truth = evaluateBoolean(node, lookup);
      return truth === undefined ? undefined : Number(truth);
    }
  }
}

function calculate(op: '+' | '-' | '*' | '/', left: number, right: number): number | undefined {
  if (op === '+') return finite(left + right);
  if (op === '-') return finite(left - right);
  if (op === '*') return finite(left * right);
  return finite(left / right);
}

/** A part that is true or false; undefined while what is unknown could still turn it. */
export function evaluateBoolean(node: Node, lookup: Lookup): boolean | undefined {
  switch (node.op) {
    case 'and': {
      const left = evaluateBoolean(node.left, lookup);
      if (left === false) return false;
      const right = evaluateBoolean(node.right, lookup);
      return right === false ? false : left === undefined ? undefined : right;
    }
    case 'or': {
      const left = evaluateBoolean(node.left, lookup);
      if (left === true) return true;
      const right = evaluateBoolean(node.right, lookup);
      return right === true ? true : left === undefined ? undefined : right;
    }
    case 'not': {
      const truth = evaluateBoolean(node.of, lookup);
      return truth === undefined ? undefined : !truth;
    }
    case 'is':
      return isOneOf(lookup.answer(node.id), node.values);
    case '<':
    case '<=':
    case '>':
    case '>=': {
      const left = evaluateNode(node.left, lookup);
      if (left === undefined) return undefined;
      const right = evaluateNode(node.right, lookup);
      return right === undefined ? undefined : compare(node.op, left, right);
    }
    case 'if': {
      const test = evaluateBoolean(node.test, lookup);
      if (test !== undefined) return evaluateBoolean(test ? node.then : node.otherwise, lookup);
      const truth = evaluateBoolean(node.then, lookup);
      return truth === evaluateBoolean(node.otherwise, lookup) ? truth : undefined;
    }
    default: {
      const value = evaluateNode(node, lookup);
      return value === undefined ? undefined : value !== 0;
    }
  }
}

const isOneOf = (answer: string | undefined, values: readonly string[]): boolean | undefined =>
  answer === undefined ? undefined : values.includes(answer);

function compare(op: '<' | '<=' | '>' | '>=', left: number, right: number): boolean {
  if (isSame(left, right)) return op === '<=' || op === '>=';
  return op === '<' || op === '<=' ? left < right : left > right;
}

function call(name: string, args: readonly Node[], lookup: Lookup): number | undefined {
  switch (name) {
    case 'min':
    case 'max':
      return extreme(name, args, lookup);
    case 'abs': {
      const value = evaluateNode(args[0]!, lookup);
      return value === undefined ? undefined : Math.abs(value);
    }
    case 'round_to': {
      const value = evaluateNode(args[0]!, lookup);
      if (value === undefined) return undefined;
      const step = evaluateNode(args[1]!, lookup);
      return step === undefined ? undefined : roundTo(value, step);
    }
    case 'between': {
      const value = evaluateNode(args[0]!, lookup);
      if (value === undefined) return undefined;
      const low = evaluateNode(args[1]!, lookup);
      if (low === undefined) return undefined;
      const high = evaluateNode(args[2]!, lookup);
      if (high === undefined || low > high) return undefined;
      return Math.min(high, Math.max(low, value));
    }
    default:
      return callFormula(name, args, lookup);
  }
}

function extreme(name: 'min' | 'max', args: readonly Node[], lookup: Lookup): number | undefined {
  let best: number | undefined;
  for (let i = 0; i < args.length; i++) {
    const value = evaluateNode(args[i]!, lookup);
    if (value === undefined) return undefined;
    if (best === undefined || (name === 'min' ? value < best : value > best)) best = value;
  }
  return best;
}

function roundTo(value: number, step: number): number | undefined {
  if (!(step > 0)) return undefined;
  // A half counts as a half although 0.15 / 0.1 falls just short of 1.5.
  const steps = Math.floor(value / step + 0.5 + SAME);
  const inAUnit = Math.round(1 / step);
  // 3 / 10 is 0.3, 3 * 0.1 is not.
  if (step < 1 && isSame(inAUnit * step, 1)) return finite(steps / inAUnit);
  return finite(steps * step);
}

// Plain variables instead of a list of arguments: this runs thousands of times for each answer given.
function callFormula(name: string, args: readonly Node[], lookup: Lookup): number | undefined {
  const formula = formulas.get(name);
  if (!formula) throw new Error(`an expression calls "${name}", which is not a function`);
  const count = args.length;
  const a = count > 0 ? evaluateNode(args[0]!, lookup) : 0;
  if (a === undefined) return undefined;
  const b = count > 1 ? evaluateNode(args[1]!, lookup) : 0;
  if (b === undefined) return undefined;
  const c = count > 2 ? evaluateNode(args[2]!, lookup) : 0;
  if (c === undefined) return undefined;
  const d = count > 3 ? evaluateNode(args[3]!, lookup) : 0;
  if (d === undefined) return undefined;
  const e = count > 4 ? evaluateNode(args[4]!, lookup) : 0;
  if (e === undefined) return undefined;
  const f = count > 5 ? evaluateNode(args[5]!, lookup) : 0;
  if (f === undefined) return undefined;
  const g = count > 6 ? evaluateNode(args[6]!, lookup) : 0;
  if (g === undefined) return undefined;
  const h = count > 7 ? evaluateNode(args[7]!, lookup) : 0;
  if (h === undefined) return undefined;
  const { run } = formula;
  try {
    switch (count) {
      case 1:
        return finite(run(a));
      case 2:
        return finite(run(a, b));
      case 3:
        return finite(run(a, b, c));
      case 4:
        return finite(run(a, b, c, d));
      case 5:
        return finite(run(a, b, c, d, e));
      case 6:
        return finite(run(a, b, c, d, e, f));
      case 7:
        return finite(run(a, b, c, d, e, f, g));
      default:
        return finite(run(a, b, c, d, e, f, g, h));
    }
  } catch (error) {
    // Outside the range the formula holds for there is no answer; anything else is a fault of ours.
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

/** Whether a condition holds; undefined while what is unknown could still turn it. */
export function holds(condition: Condition, lookup: Lookup): boolean | undefined {
  switch (condition.kind) {
    case 'all':
    case 'any':
      return holdsOf(condition.of, condition.kind === 'any', lookup);
    case 'not': {
      const truth = holds(condition.of, lookup);
      return truth === undefined ? undefined : !truth;
    }
    case 'is':
      return isOneOf(lookup.answer(condition.name), condition.values);
    case 'compare':
      return holdsCompared(condition, lookup);
  }
}

// `settles` is the truth of one part that settles the whole: true for any, false for all.
function holdsOf(parts: readonly Condition[], settles: boolean, lookup: Lookup): boolean | undefined {
  let open = false;
  for (let i = 0; i < parts.length; i++) {
    const truth = holds(parts[i]!, lookup);
    if (truth === settles) return settles;
    if (truth === undefined) open = true;
  }
  return open ? undefined : !settles;
}

function holdsCompared(condition: Condition & { kind: 'compare' }, lookup: Lookup): boolean | undefined {
  const value = finite(lookup.value(condition.name));
  if (value === undefined) return undefined;
  let open = false;
  if (condition.below) {
    const limit = evaluateNode(condition.below.node, lookup);
    if (limit === undefined) open = true;
    else if (!compare('<', value, limit)) return false;
  }
  if (condition.above) {
    const limit = evaluateNode(condition.above.node, lookup);
    if (limit === undefined) open = true;
    else if (!compare('>', value, limit)) return false;
  }
  return open ? undefined : true;
}

/** Ids of the facts, signs and symptoms a condition reads, each once; `material` when it reads the material. */
export function readsOf(condition: Condition): readonly string[] {
  const reads = new Set<string>();
  collectReads(condition, reads);
  return [...reads];
}

function collectReads(condition: Condition, reads: Set<string>): void {
  switch (condition.kind) {
    case 'all':
    case 'any':
      for (const part of condition.of) collectReads(part, reads);
      break;
    case 'not':
      collectReads(condition.of, reads);
      break;
    case 'is':
      reads.add(condition.name);
      break;
    case 'compare':
      reads.add(condition.name);
      for (const limit of [condition.below, condition.above])
        if (limit) for (const id of limit.reads) reads.add(id);
      break;
  }
}
