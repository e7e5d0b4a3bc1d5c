import { readTokens, type Token } from './readTokens.ts';
import { didYouMean, quote, Refusal } from './refusal.ts';
import { suggest } from './suggest.ts';
import { type Unit, unitAliases, units } from './units.ts';

export interface Place {
  readonly start: number;
  readonly end: number;
}

export interface Word extends Place {
  readonly text: string;
}

export type Arithmetic = '+' | '-' | '*' | '/';
export type Comparison = '<' | '<=' | '>' | '>=';

/** What an author wrote, before any name or unit is checked. */
export type Syntax = Place &
  (
    | { readonly kind: 'number'; readonly value: number; readonly unit?: Unit }
    | { readonly kind: 'name'; readonly text: string }
    | { readonly kind: 'property'; readonly of: Word; readonly property: Word }
    | { readonly kind: 'call'; readonly name: Word; readonly args: readonly Syntax[] }
    | { readonly kind: 'arithmetic'; readonly op: Arithmetic; readonly left: Syntax; readonly right: Syntax }
    | { readonly kind: 'compare'; readonly op: Comparison; readonly left: Syntax; readonly right: Syntax }
    | { readonly kind: 'join'; readonly op: 'and' | 'or'; readonly left: Syntax; readonly right: Syntax }
    | { readonly kind: 'negate'; readonly of: Syntax }
    | { readonly kind: 'not'; readonly of: Syntax }
    | { readonly kind: 'is'; readonly name: Word; readonly values: readonly Word[]; readonly not: boolean }
  );

/** Words that cannot be the name of a fact. */
export const reservedWords: readonly string[] = ['and', 'or', 'not', 'is'];

/** Brackets, calls and signs within each other; far beyond what anyone can read. */
export const DEEPEST = 40;

/** Reads an expression into a tree. Throws Refusal. */
export function parseExpression(text: string): Syntax {
  const parser = new Parser(readTokens(text));
  return parser.parseAll();
}

class Parser {
  private at = 0;
  private depth = 0;
  private readonly tokens: readonly Token[];

  constructor(tokens: readonly Token[]) {
    this.tokens = tokens;
  }

  parseAll(): Syntax {
    const whole = this.parseOr();
    const token = this.peek();
    if (token.kind !== 'end') throw this.unexpected(token);
    return whole;
  }

  private peek(ahead = 0): Token {
    return this.tokens[Math.min(this.at + ahead, this.tokens.length - 1)]!;
  }

  private isAt(text: string, ahead = 0): boolean {
    const token = this.peek(ahead);
    return token.kind !== 'number' && token.text === text && token.kind !== 'end';
  }

  private take(text: string): boolean {
    if (!this.isAt(text)) return false;
    this.at += 1;
    return true;
  }

  private expect(text: string): Token {
    const token = this.peek();
    if (!this.take(text)) throw this.unexpected(token, `Here "${text}" would be right.`);
    return token;
  }

  private unexpected(token: Token, help?: string): Refusal {
    if (token.kind === 'end') return new Refusal(token, 'the expression ends too early', help);
    if (token.kind === 'number') return new Refusal(token, 'a number cannot stand here', help);
    if (token.text === 'in' || token.text === 'equals')
      return new Refusal(
        token,
        `"${token.text}" is not known`,
        'Write "is", as in: material is ABS, or: material is [ABS, ASA].',
      );
    return new Refusal(token, `${quote(token.text)} cannot stand here`, help);
  }

  private deeper<T>(place: Place, parse: () => T): T {
    this.depth += 1;
    if (this.depth > DEEPEST)
      throw new Refusal(place, `this is nested more than ${DEEPEST} deep`, 'Split it into computed facts.');
    const result = parse();
    this.depth -= 1;
    return result;
  }

  private parseOr(): Syntax {
    let left = this.parseAnd();
    while (this.take('or')) {
      const right = this.parseAnd();
      left = { kind: 'join', op: 'or', left, right, start: left.start, end: right.end };
    }
    return left;
  }

  private parseAnd(): Syntax {
    let left = this.parseNot();
    while (this.take('and')) {
      const right = this.parseNot();
      left = { kind: 'join', op: 'and', left, right, start: left.start, end: right.end };
    }
    return left;
  }

  private parseNot(): Syntax {
    const token = this.peek();
    if (!this.take('not')) return this.parseComparison();
    const of = this.deeper(token, () => this.parseNot());
    return { kind: 'not', of, start: token.start, end: of.end };
  }

  private takeComparison(): Comparison | undefined {
    for (const op of ['<', '<=', '>', '>='] as const) if (this.take(op)) return op;
    return undefined;
  }

  private parseComparison(): Syntax {
    const left = this.parseSum();
    if (this.isAt('is')) return this.parseIs(left);
    const op = this.takeComparison();
    if (!op) return left;
    const right = this.parseSum();
    const token = this.peek();
    if (this.takeComparison())
      throw new Refusal(token, 'only two values can be compared at a time', 'Write: a < b and b < c.');
    return { kind: 'compare', op, left, right, start: left.start, end: right.end };
  }

  private parseIs(left: Syntax): Syntax {
    const is = this.expect('is');
    if (left.kind !== 'name')
      throw new Refusal(left, '"is" asks for the answer to a fact', `Left of "is" stands a fact's name.`);
    const not = this.take('not');
    const values: Word[] = [];
    if (this.take('[')) {
      do values.push(this.parseWord(is));
      while (this.take(','));
      const close = this.expect(']');
      return { kind: 'is', name: left, values, not, start: left.start, end: close.end };
    }
    values.push(this.parseWord(is));
    while (this.isAt('or') && this.answerFollows()) {
      this.at += 1;
      values.push(this.parseWord(is));
    }
    return { kind: 'is', name: left, values, not, start: left.start, end: values[values.length - 1]!.end };
  }

  // In "material is ABS or ASA" the second name is an answer too; in "material is ABS or draught is yes" it is not.
  private answerFollows(): boolean {
    const word = this.peek(1);
    if (word.kind !== 'name' || reservedWords.includes(word.text)) return false;
    const after = this.peek(2);
    return after.kind === 'end' || ['and', 'or', ')', ','].some((text) => this.isAt(text, 2));
  }

  private parseWord(is: Place): Word {
    const token = this.peek();
    if (token.kind !== 'name')
      throw new Refusal(
        token.kind === 'end' ? is : token,
        'after "is" stands an answer',
        'As in: material is PLA.',
      );
    this.at += 1;
    return token;
  }

  private parseSum(): Syntax {
    let left = this.parseProduct();
    for (;;) {
      const op = this.take('+') ? '+' : this.take('-') ? '-' : undefined;
      if (!op) return left;
      const right = this.parseProduct();
      left = { kind: 'arithmetic', op, left, right, start: left.start, end: right.end };
    }
  }

  private parseProduct(): Syntax {
    let left = this.parseSigned();
    for (;;) {
      const op = this.take('*') ? '*' : this.take('/') ? '/' : undefined;
      if (!op) return left;
      const right = this.parseSigned();
      left = { kind: 'arithmetic', op, left, right, start: left.start, end: right.end };
    }
  }

  private parseSigned(): Syntax {
    const minus = this.peek();
    if (!this.take('-')) return this.parsePrimary();
    const of = this.deeper(minus, () => this.parseSigned());
    // "-5 degC" is a temperature, although a temperature in degC cannot be negated.
    if (of.kind === 'number' && of.value >= 0) return { ...of, value: 0 - of.value, start: minus.start };
    return { kind: 'negate', of, start: minus.start, end: of.end };
  }

  private parsePrimary(): Syntax {
    const token = this.peek();
    if (token.kind === 'number') {
      this.at += 1;
      this.refuseStrangeUnit(token);
      const { value, unit, start, end } = token;
      return { kind: 'number', value, ...(unit && { unit }), start, end };
    }
    if (this.take('(')) {
      const inside = this.deeper(token, () => this.parseOr());
      const close = this.expect(')');
      return { ...inside, start: token.start, end: close.end };
    }
    if (token.kind !== 'name' || reservedWords.includes(token.text)) throw this.unexpected(token);
    this.at += 1;
    if (this.isAt('(')) return this.parseCall(token);
    if (!this.take('.')) return { kind: 'name', text: token.text, start: token.start, end: token.end };
    const property = this.peek();
    if (property.kind !== 'name')
      throw new Refusal(property, 'after the dot stands a property', 'As in: material.nozzle_high.');
    this.at += 1;
    return { kind: 'property', of: token, property, start: token.start, end: property.end };
  }

  private refuseStrangeUnit(number: Token & { kind: 'number' }): void {
    const word = this.peek();
    if (word.kind !== 'name' || reservedWords.includes(word.text)) return;
    if (number.unit) throw this.unexpected(word, 'Between two values stands + - * or /.');
    const near = unitAliases.get(word.text.toLowerCase()) ?? suggest(word.text, units.keys());
    throw new Refusal(
      word,
      `no unit named ${quote(word.text)}${didYouMean(near)}`,
      `To multiply, write * between the two. Units are: ${[...units.keys()].join(', ')}.`,
    );
  }

  private parseCall(name: Word): Syntax {
    const open = this.expect('(');
    const args: Syntax[] = [];
    if (!this.isAt(')')) {
      do args.push(this.deeper(open, () => this.parseOr()));
      while (this.take(','));
    }
    const close = this.expect(')');
    return { kind: 'call', name, args, start: name.start, end: close.end };
  }
}
