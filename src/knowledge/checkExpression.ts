import { type Formula, formulas } from './formulas.ts';
import type { Node } from './knowledgeBase.ts';
import type { Arithmetic, Place, Syntax, Word } from './parseExpression.ts';
import { didYouMean, quote, Refusal } from './refusal.ts';
import { suggest } from './suggest.ts';
import {
  isConvertible,
  type Measure,
  nearestUnit,
  ONE,
  sameDimension,
  type Unit,
  unitAliases,
  units,
} from './units.ts';

/** What a name stands for: a number in a unit, or one of several answers (a sign's levels, `yes` and `no`). */
export type Named = { readonly unit: string } | { readonly answers: readonly string[] };

/** The names an expression or a condition may use. There are no others. */
export interface Scope {
  readonly facts: ReadonlyMap<string, Named>;
  /** Properties of the material and their units. */
  readonly properties: Readonly<Record<string, string>>;
}

/** A number of some measure. A bare one, such as 30, takes the unit of whatever it meets. */
interface Quantity extends Measure {
  readonly bare: boolean;
}

/** A part that was checked: what to work out, where it stands, and what comes out (`test`: yes or no). */
interface Checked extends Place {
  readonly node: Node;
  readonly is: Quantity | 'test';
}

interface Value extends Checked {
  readonly is: Quantity;
}

const BARE: Quantity = { dimension: ONE, factor: 1, point: false, bare: true };
const KELVIN: Quantity = { ...units.get('K')!, bare: false };
const DEG_C: Quantity = { ...units.get('degC')!, bare: false };

const ends = ['low', 'high', 'mid'] as const;

/** Functions that are part of the language, and how they are written. */
const builtIn: Readonly<Record<string, string>> = {
  min: 'min(a, b)',
  max: 'max(a, b)',
  abs: 'abs(x)',
  round_to: 'round_to(x, step)',
  between: 'between(x, low, high)',
  if: 'if(test, a, b)',
};

const nameOf = (measure: Quantity): string => (measure.bare ? 'no unit' : nearestUnit(measure).name);

/** Multiplies, or divides where that keeps the digits, so that 30 min are 0.5 h and not nearly that. */
function scale(node: Node, from: number, to: number): Node {
  if (from === to) return node;
  if (node.op === 'number') {
    const value = (node.value * from) / to;
    // One beyond all numbers stays a product: infinity cannot be kept in a snapshot, and a product of it is unknown.
    if (Number.isFinite(value)) return { op: 'number', value };
  }
  if (from > to) return { op: '*', left: node, right: { op: 'number', value: from / to } };
  return { op: '/', left: node, right: { op: 'number', value: to / from } };
}

/** Checks names, answers, units and numbers of arguments. Throws Refusal. */
export class Checker {
  readonly reads = new Set<string>();
  private readonly text: string;
  private readonly scope: Scope;

  constructor(text: string, scope: Scope) {
    this.text = text;
    this.scope = scope;
  }

  check(part: Syntax): Checked {
    const { start, end } = part;
    switch (part.kind) {
      case 'number': {
        const is = part.unit ? { ...part.unit, bare: false } : BARE;
        return { node: { op: 'number', value: part.value }, is, start, end };
      }
      case 'name':
        return this.checkFact(part);
      case 'property':
        return this.checkProperty(part);
      case 'call':
        return this.checkCall(part);
      case 'negate':
        return this.checkNegate(part);
      case 'arithmetic':
        return this.checkArithmetic(part);
      case 'compare': {
        const [left, right] = this.alike([this.value(part.left), this.value(part.right)], part);
        return { node: { op: part.op, left: left!.node, right: right!.node }, is: 'test', start, end };
      }
      case 'join':
        return {
          node: { op: part.op, left: this.test(part.left), right: this.test(part.right) },
          is: 'test',
          start,
          end,
        };
      case 'not':
        return { node: { op: 'not', of: this.test(part.of) }, is: 'test', start, end };
      case 'is':
        return this.checkIs(part);
    }
  }

  /** The part as a number of the unit wanted; a number without a unit is taken to be in it. */
  fit(part: Checked, wanted: string | Unit): Node {
    const unit = typeof wanted === 'string' ? this.wantedUnit(wanted, part) : wanted;
    const value = this.asValue(part);
    if (value.is.bare) return value.node;
    if (!isConvertible(value.is, unit))
      throw new Refusal(
        part,
        `units do not match: ${this.show(part)} is in ${nameOf(value.is)}, ${unit.name} is needed`,
        this.helpToConvert(value.is, unit),
      );
    return scale(value.node, value.is.factor, unit.factor);
  }

  private wantedUnit(name: string, place: Place): Unit {
    const unit = units.get(name);
    if (unit) return unit;
    const near = unitAliases.get(name.toLowerCase()) ?? suggest(name, units.keys());
    throw new Refusal(place, `no unit named ${quote(name)}${didYouMean(near)}`);
  }

  /** A test, where one is needed. */
  test(part: Syntax): Node {
    const checked = this.check(part);
    if (checked.is === 'test') return checked.node;
    const help =
      part.kind === 'name'
        ? `Compare it with a number, as in: ${part.text} < ...`
        : 'Compare it with < <= > >=.';
    throw new Refusal(part, `${this.show(part)} is a number where yes or no is needed`, help);
  }

  private asValue(part: Checked): Value {
    if (part.is === 'test')
      throw new Refusal(
        part,
        `${this.show(part)} is true or false where a number is needed`,
        'To choose a number by a test, write: if(test, a, b).',
      );
    return { ...part, is: part.is };
  }

  private value(part: Syntax): Value {
    return this.asValue(this.check(part));
  }

  private show(place: Place): string {
    return quote(this.text.slice(place.start, place.end));
  }

  private helpToConvert(from: Measure, to: Measure): string | undefined {
    const percent = units.get('percent')!;
    const ratio = units.get('ratio')!;
    if (isConvertible(from, percent) && isConvertible(to, ratio))
      return 'Divide by "100 percent" to make a ratio of it.';
    if (isConvertible(from, ratio) && isConvertible(to, percent))
      return 'Multiply by "100 percent" to make percent of it.';
    if (from.point !== to.point && sameDimension(from.dimension, to.dimension))
      return 'degC is a temperature, K a difference of two temperatures: degC - degC is K, degC + K is degC.';
    return undefined;
  }

  private named(name: Word): Named {
    const found = this.scope.facts.get(name.text);
    if (found) return found;
    if (Object.hasOwn(builtIn, name.text))
      throw new Refusal(name, `"${name.text}" is a function`, `Write it as: ${builtIn[name.text]}.`);
    const formula = formulas.get(name.text);
    if (formula) throw new Refusal(name, `"${name.text}" is a function`, describeFormula(formula));
    const alias = unitAliases.get(name.text.toLowerCase()) ?? (units.has(name.text) ? name.text : undefined);
    const near = suggest(name.text, this.scope.facts.keys());
    throw new Refusal(
      name,
      `no fact named ${quote(name.text)}${didYouMean(near)}`,
      alias && !near ? `A unit stands behind its number, as in: 10 ${alias}.` : undefined,
    );
  }

  private quantity(unitName: string, place: Place): Quantity {
    const unit = units.get(unitName);
    if (!unit)
      throw new Refusal(place, `${this.show(place)} has a unit that is not known, ${quote(unitName)}`);
    return { ...unit, bare: false };
  }

  private checkFact(part: Syntax & { kind: 'name' }): Checked {
    const named = this.named(part);
    if ('answers' in named)
      throw new Refusal(
        part,
        `"${part.text}" has answers, not a number`,
        `Ask for an answer, as in: ${part.text} is ${named.answers[0] ?? 'yes'}.`,
      );
    this.reads.add(part.text);
    return {
      node: { op: 'fact', id: part.text },
      is: this.quantity(named.unit, part),
      start: part.start,
      end: part.end,
    };
  }

  private checkProperty(part: Syntax & { kind: 'property' }): Checked {
    const { start, end, of, property } = part;
    if (of.text !== 'material')
      throw new Refusal(of, `${quote(of.text)} has no properties; only material has`);
    for (const which of ends) {
      if (!property.text.endsWith(`_${which}`)) continue;
      const name = property.text.slice(0, -which.length - 1);
      if (!Object.hasOwn(this.scope.properties, name)) continue;
      this.reads.add('material');
      const is = this.quantity(this.scope.properties[name]!, part);
      return { node: { op: 'material', property: name, end: which }, is, start, end };
    }
    throw this.refuseProperty(property);
  }

  private refuseProperty(property: Word): Refusal {
    const names = Object.keys(this.scope.properties);
    if (names.includes(property.text))
      return new Refusal(
        property,
        `a property has a low end, a high end and a middle`,
        `Write material.${property.text}_low, _mid or _high.`,
      );
    const whole = names.flatMap((name) => ends.map((which) => `${name}_${which}`));
    return new Refusal(
      property,
      `materials have no property ${quote(property.text)}${didYouMean(suggest(property.text, whole))}`,
      `They have: ${names.join(', ')}; each with _low, _mid or _high.`,
    );
  }

  private checkIs(part: Syntax & { kind: 'is' }): Checked {
    const { start, end, name } = part;
    const named = this.named(name);
    if (!('answers' in named))
      throw new Refusal(name, `"${name.text}" is a number, it has no answers`, 'Compare it with < <= > >=.');
    for (const value of part.values) {
      if (named.answers.includes(value.text)) continue;
      throw new Refusal(
        value,
        `${quote(value.text)} is not an answer of ${name.text}${didYouMean(suggest(value.text, named.answers))}`,
        `Its answers are: ${named.answers.join(', ')}.`,
      );
    }
    this.reads.add(name.text);
    const values = [...new Set(part.values.map((value) => value.text))];
    const node: Node = { op: 'is', id: name.text, values };
    return { node: part.not ? { op: 'not', of: node } : node, is: 'test', start, end };
  }

  /** Brings numbers that are compared or chosen from to one unit. */
  private alike(values: readonly Value[], whole: Place): readonly Value[] {
    const model = values.find((value) => !value.is.bare);
    if (!model) return values;
    // A constant is converted rather than what is worked out anew each time.
    const target = values.find((value) => !value.is.bare && value.node.op !== 'number') ?? model;
    return values.map((value) => {
      if (value.is.bare) return { ...value, is: target.is };
      if (!isConvertible(value.is, target.is)) throw this.mismatch(model, value, whole, target);
      return { ...value, is: target.is, node: scale(value.node, value.is.factor, target.is.factor) };
    });
  }

  private mismatch(first: Value, second: Value, whole: Place, other: Value): Refusal {
    const [a, b] = first === second ? [second, other] : [first, second];
    return new Refusal(
      whole,
      `units do not match: ${this.show(a)} is in ${nameOf(a.is)}, ${this.show(b)} in ${nameOf(b.is)}`,
      this.helpToConvert(a.is, b.is),
    );
  }

  private checkNegate(part: Syntax & { kind: 'negate' }): Checked {
    const value = this.value(part.of);
    if (value.is.point) throw this.refusePoint(part, 'the negative of a temperature in degC means nothing');
    return { node: { op: 'negate', of: value.node }, is: value.is, start: part.start, end: part.end };
  }

  private refusePoint(place: Place, message: string): Refusal {
    return new Refusal(
      place,
      message,
      'Take a difference first: degC - degC is K, and K can be multiplied and added.',
    );
  }

  private checkArithmetic(part: Syntax & { kind: 'arithmetic' }): Checked {
    const left = this.value(part.left);
    const right = this.value(part.right);
    if (part.op === '*' || part.op === '/') return this.checkProduct(part, part.op, left, right);
    if (left.is.point || right.is.point) return this.checkTemperatureSum(part, part.op, left, right);
    const [a, b] = this.alike([left, right], part);
    return this.combine(part, part.op, a!.node, b!.node, a!.is);
  }

  private combine(place: Place, op: Arithmetic, left: Node, right: Node, is: Quantity): Checked {
    return { node: { op, left, right }, is, start: place.start, end: place.end };
  }

  private checkProduct(place: Place, op: '*' | '/', left: Value, right: Value): Checked {
    for (const value of [left, right])
      if (value.is.point)
        throw this.refusePoint(
          value,
          `${this.show(value)} is in degC, which cannot be multiplied or divided`,
        );
    const sign = op === '*' ? 1 : -1;
    const [a, b] = [left.is.dimension, right.is.dimension];
    const factor = op === '*' ? left.is.factor * right.is.factor : left.is.factor / right.is.factor;
    if (!(factor > 0 && Number.isFinite(factor)))
      throw new Refusal(place, 'the units multiply to more than can be reckoned with');
    const power = (i: 0 | 1 | 2 | 3 | 4 | 5): number => a[i] + sign * b[i];
    const is: Quantity = {
      dimension: [power(0), power(1), power(2), power(3), power(4), power(5)],
      factor,
      point: false,
      bare: left.is.bare && right.is.bare,
    };
    return this.combine(place, op, left.node, right.node, is);
  }

  private checkTemperatureSum(place: Place, op: '+' | '-', left: Value, right: Value): Checked {
    const sum = (is: Quantity): Checked => this.combine(place, op, left.node, right.node, is);
    for (const value of [left, right])
      if (value.is.bare)
        throw new Refusal(
          value,
          `${this.show(value)} needs a unit beside a temperature`,
          'Write K for a step, as in: bed_temperature + 10 K, or degC for a temperature.',
        );
    if (left.is.point && right.is.point) {
      if (op === '-') return sum(KELVIN);
      throw this.refusePoint(place, 'two temperatures in degC cannot be added');
    }
    const step = left.is.point ? right : left;
    if (!isConvertible(step.is, KELVIN)) throw this.mismatch(left, right, place, right);
    if (op === '-' && right.is.point)
      throw this.refusePoint(place, 'a temperature in degC cannot be taken from a difference in K');
    return sum(DEG_C);
  }

  private checkCall(part: Syntax & { kind: 'call' }): Checked {
    const { start, end, name, args } = part;
    if (Object.hasOwn(builtIn, name.text)) return this.checkBuiltIn(part);
    const formula = formulas.get(name.text);
    if (!formula) {
      const near = suggest(name.text, [...Object.keys(builtIn), ...formulas.keys()]);
      const help = this.scope.facts.has(name.text)
        ? `"${name.text}" is a fact: write it without brackets.`
        : undefined;
      throw new Refusal(name, `no function named ${quote(name.text)}${didYouMean(near)}`, help);
    }
    this.count(part, formula.args.length, describeFormula(formula));
    const nodes = args.map((arg, i) => this.fitArgument(this.value(arg), formula, i));
    const is = this.quantity(formula.unit, part);
    return { node: { op: 'call', name: formula.name, args: nodes }, is, start, end };
  }

  private fitArgument(value: Value, formula: Formula, i: number): Node {
    const argument = formula.args[i]!;
    const unit = units.get(argument.unit)!;
    if (value.is.bare || isConvertible(value.is, unit)) return this.fit(value, argument.unit);
    throw new Refusal(
      value,
      `units do not match: ${formula.name} takes the ${argument.name} in ${argument.unit}, ${this.show(value)} is in ${nameOf(value.is)}`,
      this.helpToConvert(value.is, unit) ?? describeFormula(formula),
    );
  }

  private count(part: Syntax & { kind: 'call' }, wanted: number, help: string): void {
    if (part.args.length === wanted) return;
    throw new Refusal(
      part,
      `${part.name.text} takes ${wanted} ${wanted === 1 ? 'value' : 'values'}, not ${part.args.length}`,
      help,
    );
  }

  private checkBuiltIn(part: Syntax & { kind: 'call' }): Checked {
    const { start, end, name, args } = part;
    const help = `Write it as: ${builtIn[name.text]}.`;
    switch (name.text) {
      case 'if':
        this.count(part, 3, help);
        return this.checkIf(part, args[0]!, args[1]!, args[2]!);
      case 'abs':
        this.count(part, 1, help);
        break;
      case 'round_to':
        this.count(part, 2, help);
        return this.checkRoundTo(part, this.value(args[0]!), this.value(args[1]!));
      case 'between':
        this.count(part, 3, help);
        break;
      default:
        if (args.length < 2) throw new Refusal(part, `${name.text} takes two values or more`, help);
    }
    const values = this.alike(
      args.map((arg) => this.value(arg)),
      part,
    );
    const is = values[0]!.is;
    if (name.text === 'abs' && is.point) throw this.refusePoint(part, 'abs cannot be taken of degC');
    return { node: { op: 'call', name: name.text, args: values.map((value) => value.node) }, is, start, end };
  }

  private checkRoundTo(part: Syntax & { kind: 'call' }, value: Value, step: Value): Checked {
    // A temperature is rounded to whole steps counted from 0 degC, so its step is a difference.
    const wanted = value.is.point ? KELVIN : value.is;
    if (!(step.is.bare || value.is.bare || isConvertible(step.is, wanted)))
      throw new Refusal(
        part,
        `units do not match: ${this.show(value)} is in ${nameOf(value.is)}, the step ${this.show(step)} in ${nameOf(step.is)}`,
        value.is.point ? 'Give the step in K.' : undefined,
      );
    if (value.is.bare && step.is.point) throw this.refusePoint(step, 'a step cannot be in degC');
    const is = value.is.bare ? step.is : value.is;
    const by = step.is.bare ? step.node : scale(step.node, step.is.factor, is.factor);
    const { start, end } = part;
    return { node: { op: 'call', name: 'round_to', args: [value.node, by] }, is, start, end };
  }

  private checkIf(place: Place, testPart: Syntax, thenPart: Syntax, otherwisePart: Syntax): Checked {
    const test = this.test(testPart);
    const first = this.check(thenPart);
    const { start, end } = place;
    if (first.is === 'test')
      return {
        node: { op: 'if', test, then: first.node, otherwise: this.test(otherwisePart) },
        is: 'test',
        start,
        end,
      };
    const [a, b] = this.alike([this.asValue(first), this.value(otherwisePart)], place);
    return { node: { op: 'if', test, then: a!.node, otherwise: b!.node }, is: a!.is, start, end };
  }
}

function describeFormula(formula: Formula): string {
  const args = formula.args.map((argument) => `${argument.name} in ${argument.unit}`);
  return `${formula.name}(${args.join(', ')}) gives the ${formula.about}, in ${formula.unit}.`;
}
