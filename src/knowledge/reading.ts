import { compileCondition } from './condition.ts';
import { type Draft, isChanged, problemIn, type Said } from './draft.ts';
import { compileExpression, type Scope } from './expression.ts';
import type { Condition, Expression, Worded, Words } from './knowledgeBase.ts';
import type { Path } from './parse.ts';
import type { Problem, ProblemCode } from './problem.ts';
import { suggest } from './suggest.ts';

/** What entries are read against: the scales of words, and the names that expressions and conditions may use. */
export interface Context {
  readonly words: Words;
  readonly scope: Scope;
  /** The same with signs and symptoms, for conditions that may look at what is seen. */
  readonly seenScope: Scope;
  readonly materials: readonly string[];
  /** Ids that were switched off, or whose file cannot be read: who mentions one has made no mistake of his own. */
  readonly absent: ReadonlySet<string>;
  /** The materials among them: a row for one of them is passed over. */
  readonly absentMaterials: ReadonlySet<string>;
  /** Names of the groups of words that phrases may use. */
  readonly phraseWords: readonly string[];
  readonly materialNames: ReadonlyMap<string, { readonly text: string; readonly usual: number }>;
}

/** Reads the parts of one entry, gathering what is wrong. Where a part is wrong a stand-in is returned: the entry is left out. */
export class Reading {
  readonly problems: Problem[] = [];

  constructor(
    readonly draft: Draft,
    readonly context: Context,
  ) {}

  add(code: ProblemCode, path: Path, said: Said): void {
    this.problems.push(problemIn(this.draft, code, path, said));
  }

  /** A word of a scale; a bare number only together with its reason. */
  word(
    scale: 'links' | 'usual' | 'odds',
    value: string | number,
    path: Path,
    because: string | undefined,
  ): Worded {
    const known = this.context.words[scale];
    if (typeof value === 'string') {
      const number = Object.hasOwn(known, value) ? known[value] : undefined;
      if (number !== undefined) return { word: value, value: number };
      const words = Object.keys(known);
      const near = suggest(value, words);
      const range = `I know \`${words[0]}\` to \`${words[words.length - 1]}\`.`;
      this.add('unknown-word', path, {
        message: 'do not know this word',
        help: `${range}${near ? ` Did you mean \`${near}\`?` : ''}\nThe words and what each is worth are in knowledge/words.yaml.`,
      });
      return { word: value, value: 0.5 };
    }
    const top = scale === 'odds' ? 1000 : 1;
    if (!(value > 0 && value < top)) {
      this.add('out-of-range', path, {
        message: `${value} is not between 0 and ${top}`,
        help: scale === 'odds' ? 'A factor on the odds, such as 2.' : 'No chance is ever 0 or 1.',
      });
    } else if (because === undefined && !isChanged(this.draft, path)) {
      this.add('needs-because', path, {
        message: 'a bare number stands here without a reason',
        help: 'Use a word of the scale, or add `because:` with the data the number comes from.',
      });
    }
    return { word: String(value), value };
  }

  /** `offset` is where the expression begins in the text at the path. */
  expression(value: string | number, path: Path, expectedUnit?: string, offset = 0): Expression {
    const compiled = compileExpression(
      value,
      this.context.scope,
      expectedUnit === undefined ? {} : { expectedUnit },
    );
    if (compiled.ok) return compiled.expression;
    const unit = /^(units do not match|no unit|.* has a unit that)/.test(compiled.message);
    const absent = this.context.absent.has(String(value).slice(compiled.start, compiled.end));
    this.add(absent ? 'left-out' : unit ? 'unit-mismatch' : 'bad-expression', path, {
      message: compiled.message,
      help: compiled.help ?? 'An expression is made of facts, material properties and numbers with units.',
      within: { start: offset + compiled.start, end: offset + compiled.end },
    });
    return {
      text: String(value),
      unit: expectedUnit ?? 'ratio',
      node: { op: 'number', value: 0 },
      reads: [],
    };
  }

  condition(value: unknown, path: Path, mayLookAtSigns = false): Condition {
    const scope = mayLookAtSigns ? this.context.seenScope : this.context.scope;
    const compiled = compileCondition(withoutBooleans(value), scope);
    if (compiled.ok) return compiled.condition;
    const at = [...path, ...compiled.path];
    const absent = compiled.at === 'key' && this.context.absent.has(String(at[at.length - 1]));
    this.add(absent ? 'left-out' : 'bad-condition', at, {
      message: compiled.message,
      help: compiled.help ?? 'As in: {material: [ABS, ASA], overhang_angle: {below: 30}}.',
      which: compiled.at,
      ...(compiled.start === undefined
        ? {}
        : { within: { start: compiled.start, end: compiled.end ?? compiled.start + 1 } }),
    });
    return { kind: 'all', of: [] };
  }
}

/** `true` and `false` are what other YAML readers make of yes and no; in a condition they mean the same. */
function withoutBooleans(value: unknown): unknown {
  if (value === true) return 'yes';
  if (value === false) return 'no';
  if (Array.isArray(value)) return value.map(withoutBooleans);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, withoutBooleans(item)]));
}

export function isYes(value: boolean | 'yes' | 'no' | undefined): boolean {
  return value === true || value === 'yes';
}

/** Adds a key only where there is a value, so that optional parts are missing and not undefined. */
export function maybe<K extends string, V>(key: K, value: V | undefined): { [key in K]?: V } {
  return value === undefined ? {} : ({ [key]: value } as { [key in K]?: V });
}

export function entryOf({ id, file, local }: Draft): { id: string; file: string; local?: string } {
  return { id, file, ...maybe('local', local) };
}
