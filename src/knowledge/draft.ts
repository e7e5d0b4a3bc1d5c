import type { z } from 'zod';
import type { Parsed, Path, Place } from './parse.ts';
import { gradeOf, type Problem, type ProblemCode } from './problem.ts';
import { readingOf } from './readingOf.ts';
import { type Kind, schemas } from './schemas.ts';
import { suggest } from './suggest.ts';

/** An entry on its way from a file to the knowledge: its plain value, and where to point when something is wrong. */
export interface Draft {
  readonly kind: Kind;
  readonly id: string;
  /** Folder between the kind's folder and the file, for causes and fixes. */
  readonly theme: string;
  readonly file: string;
  readonly local?: string;
  readonly parsed: Parsed;
  /** Change files laid over it, the last one on top. */
  readonly changes: readonly Parsed[];
  /** Files of the same kind whose keys were joined to it, where one file holds many entries. */
  readonly additions?: readonly Draft[];
  /** Undefined where the file cannot be read; the id is taken all the same. */
  readonly raw: unknown;
}

export interface Said {
  readonly message: string;
  readonly help: string;
  readonly reading?: string;
  /** A part of the text at the path. */
  readonly within?: { readonly start: number; readonly end: number };
  readonly which?: 'key' | 'value';
}

/** A problem in an entry, pointing into the change file that set the value, where one did. */
export function problemIn(draft: Draft, code: ProblemCode, path: Path, said: Said): Problem {
  const { parsed, at } = sourceOf(draft, path);
  const place: Place = said.within
    ? parsed.placeWithin(at, said.within.start, said.within.end)
    : parsed.place(at, said.which ?? 'value');
  return {
    code,
    grade: gradeOf(code),
    file: parsed.file,
    ...place,
    reading: said.reading ?? readingOf(draft.kind, draft.id, path),
    message: said.message,
    help: said.help,
    lineText: parsed.lineText(place.line),
  };
}

function sourceOf(draft: Draft, path: Path): { parsed: Parsed; at: Path } {
  for (const change of [...draft.changes].reverse()) {
    if (path.length > 0 && change.has(['set', ...path])) return { parsed: change, at: ['set', ...path] };
  }
  const added = draft.additions?.find(
    ({ parsed }) => path.length > 0 && !draft.parsed.has(path.slice(0, 1)) && parsed.has(path.slice(0, 1)),
  );
  return { parsed: added?.parsed ?? draft.parsed, at: path };
}

/** Whether a change file gave the value at the path: then its own `because` says why. */
export function isChanged(draft: Draft, path: Path): boolean {
  return draft.changes.some((change) => change.has(['set', ...path]));
}

/** Holds a draft against the form of its kind. */
export function checkForm(draft: Draft): Problem[] {
  const result = schemas[draft.kind].safeParse(draft.raw, { reportInput: true });
  if (result.success) return [];
  return result.error.issues.slice(0, 20).flatMap((issue) => wordIssue(draft, issue));
}

/** The one choice between forms that a key makes. */
const factKinds = ['choice', 'yes_no', 'material', 'number', 'computed'];

const kinds: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  array: 'a list',
  object: 'a mapping',
  record: 'a mapping',
  tuple: 'a list',
  boolean: 'yes or no',
};

function wordIssue(draft: Draft, issue: z.core.$ZodIssue): Problem[] {
  const path = issue.path as Path;
  const say = (code: ProblemCode, message: string, help: string, more: Partial<Said> = {}) => [
    problemIn(draft, code, more.which === 'key' ? path : path, { message, help, ...more }),
  ];
  const missing = () => {
    const key = String(path[path.length - 1]);
    return [
      problemIn(draft, 'missing-key', path, {
        message: `\`${key}\` is missing`,
        help: `Add \`${key}:\`; the template of this kind shows how.`,
        which: 'key',
      }),
    ];
  };
  switch (issue.code) {
    case 'invalid_type':
      if (issue.input === undefined && path.length > 0) return missing();
      return say('wrong-kind', `this must be ${kinds[issue.expected] ?? issue.expected}`, templateHelp);
    case 'unrecognized_keys':
      return issue.keys.map((key) => {
        const near = suggest(key, knownKeys(draft, path));
        return problemIn(draft, 'unknown-key', [...path, key], {
          message: `\`${key}\` means nothing here`,
          help: near
            ? `Did you mean \`${near}\`?`
            : `I know ${knownKeys(draft, path)
                .map((name) => `\`${name}\``)
                .join(', ')}.`,
          which: 'key',
        });
      });
    case 'invalid_value': {
      const values = issue.values.map(String);
      const near = suggest(String(issue.input), values);
      return say(
        'unknown-word',
        'this is not one of the words that may stand here',
        `${listed(values)}${near ? ` Did you mean \`${near}\`?` : ''}`,
      );
    }
    case 'too_small':
    case 'too_big':
      return say(
        'out-of-range',
        `this is too ${issue.code === 'too_small' ? 'small or empty' : 'large or long'}`,
        boundOf(issue),
      );
    case 'invalid_format':
      if (String((issue as { pattern?: unknown }).pattern).includes('\\n'))
        return say(
          'bad-text',
          'this must stand on one line, without tabs',
          'Write it shorter, or put the rest where longer text may stand.',
        );
      return say(
        'bad-id',
        'this cannot be an id',
        'Ids are small letters, digits and _, as in `damp_filament`.',
      );
    case 'invalid_key':
      return say(
        'bad-id',
        'this cannot be an id',
        'Ids are small letters, digits and _, as in `damp_filament`.',
        { which: 'key' },
      );
    case 'invalid_union': {
      if (issue.discriminator !== undefined) {
        const at = path[path.length - 1] === issue.discriminator ? path : [...path, issue.discriminator];
        const values = factKinds;
        if (!draft.parsed.has(at))
          return [
            problemIn(draft, 'missing-key', at, {
              message: `\`${issue.discriminator}\` is missing`,
              help: listed(values),
              which: 'key',
            }),
          ];
        const given = valueAt(draft.raw, at);
        const near = suggest(String(given), values);
        return [
          problemIn(draft, 'unknown-word', at, {
            message: 'this is not one of the words that may stand here',
            help: `${listed(values)}${near ? ` Did you mean \`${near}\`?` : ''}`,
          }),
        ];
      }
      if (issue.input === undefined && path.length > 0) return missing();
      // Every union is of forms of different kinds; what is wrong is said for the one whose kind was given.
      const meant = issue.errors.filter((errors) => !errors.some(isOfOtherKind));
      if (meant.length > 0) {
        return meant[0]!.flatMap((error) =>
          wordIssue(draft, { ...error, path: [...issue.path, ...error.path] } as z.core.$ZodIssue),
        );
      }
      const wanted = new Set(
        issue.errors.flatMap((errors) =>
          errors.flatMap((error) => (error.path.length === 0 ? formOf(error) : [])),
        ),
      );
      return say('wrong-kind', `this must be ${[...wanted].join(' or ')}`, templateHelp);
    }
    default:
      return say('wrong-kind', 'this is of the wrong kind', templateHelp);
  }
}

function valueAt(value: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (inner, step) => (inner as Record<string | number, unknown> | undefined)?.[step],
    value,
  );
}

const templateHelp = 'The template of this kind shows how.';

function isOfOtherKind(issue: z.core.$ZodIssue): boolean {
  if (issue.path.length > 0) return false;
  if (issue.code === 'invalid_union') return issue.errors.every((errors) => errors.some(isOfOtherKind));
  return issue.code === 'invalid_type' || issue.code === 'invalid_value';
}

function formOf(issue: z.core.$ZodIssue): string[] {
  if (issue.code === 'invalid_union') return issue.errors.flatMap((errors) => errors.flatMap(formOf));
  if (issue.code === 'invalid_type') return [kinds[issue.expected] ?? issue.expected];
  return issue.code === 'invalid_value' ? issue.values.map((value) => `\`${String(value)}\``) : [];
}

function listed(values: readonly string[]): string {
  return `I know ${values.map((value) => `\`${value}\``).join(', ')}.`;
}

function boundOf(issue: z.core.$ZodIssue): string {
  const { minimum, maximum } = issue as { minimum?: number; maximum?: number };
  if (minimum !== undefined) return `The least is ${minimum}.`;
  return `The most is ${maximum}.`;
}

/** Keys that a mapping at the path may have: at the top those of the kind, below those that JSON Schema would offer. */
function knownKeys(draft: Draft, path: Path): string[] {
  let schema: unknown = schemas[draft.kind];
  for (const step of path) schema = stepInto(schema, step, draft.raw);
  return keysOf(schema, draft.raw);
}

interface Shaped {
  readonly shape?: Record<string, unknown>;
  readonly options?: readonly unknown[];
  readonly valueType?: unknown;
  readonly element?: unknown;
  unwrap?(): unknown;
}

function unwrapped(schema: unknown): Shaped {
  let inner = schema as Shaped;
  while (
    inner &&
    typeof inner === 'object' &&
    inner.shape === undefined &&
    inner.element === undefined &&
    typeof inner.unwrap === 'function'
  )
    inner = inner.unwrap() as Shaped;
  return inner ?? {};
}

function stepInto(schema: unknown, step: PropertyKey, raw: unknown): unknown {
  const inner = unwrapped(schema);
  if (inner.shape) return inner.shape[String(step)];
  if (inner.options)
    return inner.options.map((option) => stepInto(option, step, raw)).find((found) => found !== undefined);
  return inner.valueType ?? inner.element;
}

function keysOf(schema: unknown, raw: unknown): string[] {
  const inner = unwrapped(schema);
  if (inner.shape) return Object.keys(inner.shape);
  const kind = (raw as { kind?: unknown } | undefined)?.kind;
  const options = (inner.options ?? []).map(unwrapped);
  const chosen = options.filter(
    (option) => (option.shape?.['kind'] as { value?: unknown } | undefined)?.value === kind,
  );
  return [
    ...new Set((chosen.length > 0 ? chosen : options).flatMap((option) => Object.keys(option.shape ?? {}))),
  ];
}
