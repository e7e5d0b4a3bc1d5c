import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { type Parsed, type Path, parseYaml } from '../knowledge/parse.ts';
import { gradeOf, type Problem, type ProblemCode } from '../knowledge/problem.ts';
import { readQuantity } from '../knowledge/readQuantity.ts';
import { suggest } from '../knowledge/suggest.ts';
import { type Case, emptyCase, type Outcome } from '../model/case.ts';
import { lowestSymptoms } from '../model/lowestSymptoms.ts';

/** What a test says of a case beside the case itself. */
export interface Expectation {
  readonly cause?: string;
  readonly expect?: 'first' | 'top-3' | 'not-first';
}

export interface ReadCase {
  readonly case: Case;
  readonly expectation: Expectation;
  /** The mapping as written, for keys that only some readers know. */
  readonly raw: Readonly<Record<string, unknown>>;
}

export interface ReadCases {
  /** Only cases without a problem. */
  readonly cases: readonly ReadCase[];
  readonly problems: readonly Problem[];
}

const outcomes: readonly Outcome[] = ['no_change', 'better', 'worse'];
const expectations = ['first', 'top-3', 'not-first'] as const;
const caseKeys = ['words', 'symptoms', 'complaint', 'facts', 'signs', 'tried', 'reprint'];
const testKeys = ['cause', 'expect', 'because'];
/** Labels and notes that sets of cases for tests carry; the engine never sees them. */
const labelKeys = [
  'id',
  'source',
  'says',
  'quality',
  'family',
  'established',
  'fit',
  'also-right',
  'reading',
  'scenario',
  'contrast',
  'tried-in-words',
  'in-words',
  'in-words-by-one',
  'held-out',
  'missing',
  'by-author',
];

const longestWords = 65_536;

/** Reads one case (a mapping) or several (a list) in the case dialect; YAML, and so JSON too. Nothing is thrown. */
export function readCases(text: string, file: string, knowledge: KnowledgeBase): ReadCases {
  const parsed = parseYaml(text, file);
  if (parsed.problems.length > 0) return { cases: [], problems: parsed.problems };
  const reader = new CaseReader(parsed, knowledge);
  const many = Array.isArray(parsed.value);
  const list = many ? (parsed.value as unknown[]) : [parsed.value];
  const cases = list.flatMap((raw, index) => reader.read(raw, many ? [index] : []) ?? []);
  return { cases, problems: reader.problems };
}

class CaseReader {
  readonly problems: Problem[] = [];
  private readonly lowest: readonly string[];

  constructor(
    private readonly parsed: Parsed,
    private readonly knowledge: KnowledgeBase,
  ) {
    this.lowest = lowestSymptoms(knowledge);
  }

  read(raw: unknown, path: Path): ReadCase | undefined {
    const before = this.problems.length;
    const top = this.mapping(raw, path, 'a case');
    if (top === undefined) return undefined;
    for (const key of Object.keys(top)) {
      if (![...caseKeys, ...testKeys, ...labelKeys].includes(key))
        this.unknownKey([...path, key], caseKeys, key);
    }
    const known: Case = {
      ...emptyCase,
      ...this.words(top['words'], [...path, 'words']),
      ...this.complaint(top['complaint'], [...path, 'complaint']),
      symptoms: this.symptoms(top['symptoms'], [...path, 'symptoms']),
      ...this.answers(top, path),
      tried: this.tried(top['tried'], [...path, 'tried']),
      ...this.reprint(top['reprint'], [...path, 'reprint']),
    };
    const expectation = this.expectation(top, path);
    return this.problems.length > before ? undefined : { case: known, expectation, raw: top };
  }

  private words(value: unknown, path: Path): { words?: string } {
    if (value === undefined) return {};
    if (typeof value !== 'string')
      this.add('wrong-kind', path, 'the words', 'they must be text', 'Put them in quotes.');
    else if (value.length > longestWords)
      this.add('out-of-range', path, 'the words', 'they are too long', 'At most 64 KiB.');
    else return { words: value };
    return {};
  }

  private complaint(value: unknown, path: Path): { complaint?: string } {
    if (value === undefined || value === 'unknown') return {};
    const id = this.name(value, path, 'the complaint', 'symptom', this.lowest);
    return id === undefined ? {} : { complaint: id };
  }

  private symptoms(value: unknown, path: Path): Record<string, boolean> {
    if (value === undefined) return {};
    const seen: Record<string, boolean> = {};
    if (Array.isArray(value)) {
      value.forEach((id, index) => {
        const name = this.name(id, [...path, index], 'the symptoms seen', 'symptom', this.lowest);
        if (name !== undefined) seen[name] = true;
      });
      return seen;
    }
    const map = this.mapping(value, path, 'the symptoms');
    for (const [id, answer] of Object.entries(map ?? {})) {
      const at = [...path, id];
      const name = this.name(id, at, 'the symptoms', 'symptom', this.lowest, 'key');
      const yes = yesOrNo(answer);
      if (answer === 'unknown' || name === undefined) continue;
      if (yes !== 'yes' && yes !== 'no') this.wrongAnswer(at, id, answer, ['yes', 'no', 'unknown']);
      else seen[name] = yes === 'yes';
    }
    return seen;
  }

  private answers(top: Record<string, unknown>, path: Path): Pick<Case, 'facts' | 'signs' | 'unknown'> {
    const facts: Record<string, string | number> = {};
    const signs: Record<string, string> = {};
    const unknown: string[] = [];
    const asked = Object.keys(this.knowledge.facts).filter(
      (id) => this.knowledge.facts[id]!.kind !== 'computed',
    );
    for (const [id, value] of Object.entries(
      this.mapping(top['facts'] ?? {}, [...path, 'facts'], 'the facts') ?? {},
    )) {
      const at = [...path, 'facts', id];
      if (this.name(id, at, 'the facts', 'fact', asked, 'key') === undefined) continue;
      if (value === 'unknown') unknown.push(id);
      else {
        const answer = this.factAnswer(id, value, at);
        if (answer !== undefined) facts[id] = answer;
      }
    }
    for (const [id, value] of Object.entries(
      this.mapping(top['signs'] ?? {}, [...path, 'signs'], 'the signs') ?? {},
    )) {
      const at = [...path, 'signs', id];
      if (this.name(id, at, 'the signs', 'sign', Object.keys(this.knowledge.signs), 'key') === undefined)
        continue;
      const levels = this.knowledge.signs[id]!.levels.map((level) => level.id);
      const level = yesOrNo(value);
      if (level === 'unknown') unknown.push(id);
      else if (typeof level === 'string' && levels.includes(level)) signs[id] = level;
      else this.wrongAnswer(at, id, value, [...levels, 'unknown']);
    }
    return { facts, signs, unknown };
  }

  private factAnswer(id: string, value: unknown, path: Path): string | number | undefined {
    const fact = this.knowledge.facts[id]!;
    if (fact.kind === 'number') {
      const read =
        typeof value === 'number' ? { ok: true as const, value } : readQuantity(String(value), fact.unit);
      const [low, high] = fact.range;
      if (!read.ok)
        this.add('wrong-kind', path, `\`${id}\``, read.message, `A number in ${fact.unit}, or unknown.`);
      else if (read.value < low || read.value > high)
        this.add(
          'out-of-range',
          path,
          `\`${id}\``,
          `${read.value} is outside ${low} to ${high} ${fact.unit}`,
          'Write unknown if you do not know.',
        );
      else return read.value;
      return undefined;
    }
    if (fact.kind === 'computed') return undefined;
    const answers = fact.answers.map((answer) => answer.id);
    const answer = yesOrNo(value);
    if (typeof answer === 'string' && answers.includes(answer)) return answer;
    this.wrongAnswer(path, id, value, [...answers, 'unknown']);
    return undefined;
  }

  private tried(value: unknown, path: Path): Record<string, Outcome> {
    if (value === undefined) return {};
    const tried: Record<string, Outcome> = {};
    const fixes = Object.keys(this.knowledge.fixes);
    if (Array.isArray(value)) {
      value.forEach((id, index) => {
        const name = this.name(id, [...path, index], 'what was tried', 'fix', fixes);
        if (name !== undefined) tried[name] = 'no_change';
      });
      return tried;
    }
    for (const [id, outcome] of Object.entries(this.mapping(value, path, 'what was tried') ?? {})) {
      const at = [...path, id];
      if (this.name(id, at, 'what was tried', 'fix', fixes, 'key') === undefined || outcome === 'unknown')
        continue;
      if (outcomes.includes(outcome as Outcome)) tried[id] = outcome as Outcome;
      else this.wrongAnswer(at, id, outcome, [...outcomes, 'unknown']);
    }
    return tried;
  }

  private reprint(value: unknown, path: Path): Pick<Case, 'reprint'> {
    if (value === undefined) return {};
    const reprint: { minutes?: number; grams?: number } = {};
    for (const [key, number] of Object.entries(this.mapping(value, path, 'what a reprint costs') ?? {})) {
      const at = [...path, key];
      if (key !== 'minutes' && key !== 'grams') this.unknownKey(at, ['minutes', 'grams'], key);
      else if (typeof number !== 'number' || !(number >= 0 && number < 1e5))
        this.add(
          'wrong-kind',
          at,
          `\`${key}\` of a reprint`,
          'it must be a number',
          'A number from 0 to 99999.',
        );
      else reprint[key] = number;
    }
    return { reprint };
  }

  private expectation(top: Record<string, unknown>, path: Path): Expectation {
    const { cause, expect } = top;
    const known = expectations.find((word) => word === expect);
    if (expect !== undefined && known === undefined)
      this.wrongAnswer([...path, 'expect'], 'expect', expect, expectations);
    return {
      ...(typeof cause === 'string' ? { cause } : {}),
      ...(known === undefined ? {} : { expect: known }),
    };
  }

  private mapping(value: unknown, path: Path, what: string): Record<string, unknown> | undefined {
    if (typeof value === 'object' && value !== null && !Array.isArray(value))
      return value as Record<string, unknown>;
    this.add(
      'wrong-kind',
      path,
      what,
      'it must be a mapping of names to values',
      'Write `name: value`, one a line.',
    );
    return undefined;
  }

  private name(
    value: unknown,
    path: Path,
    reading: string,
    kind: string,
    names: readonly string[],
    which: 'key' | 'value' = 'value',
  ): string | undefined {
    if (typeof value === 'string' && names.includes(value)) return value;
    const near = suggest(String(value), names);
    const place = kind === 'symptom' && typeof value === 'string' && value in this.knowledge.symptoms;
    const message = place
      ? `\`${value}\` is a place, not what exactly is seen there`
      : `there is no ${kind} of this name`;
    const help = near
      ? `Did you mean \`${near}\`?`
      : `\`culprint list ${kind === 'fix' ? 'fixes' : `${kind}s`}\` names them all.`;
    this.add('unknown-name', path, reading, message, help, which);
    return undefined;
  }

  private wrongAnswer(path: Path, id: string, value: unknown, answers: readonly string[]): void {
    const near = suggest(String(value), answers);
    const known = `I know ${answers.map((answer) => `\`${answer}\``).join(', ')}.`;
    this.add(
      'unknown-answer',
      path,
      `\`${id}\``,
      'this is not one of its answers',
      near ? `${known} Did you mean \`${near}\`?` : known,
    );
  }

  private unknownKey(path: Path, keys: readonly string[], key: string): void {
    const near = suggest(key, keys);
    const help = near
      ? `Did you mean \`${near}\`?`
      : `I know ${keys.map((name) => `\`${name}\``).join(', ')}.`;
    this.add('unknown-key', path, 'a case', 'this key means nothing here', help, 'key');
  }

  private add(
    code: ProblemCode,
    path: Path,
    reading: string,
    message: string,
    help: string,
    which: 'key' | 'value' = 'value',
  ): void {
    const place = this.parsed.place(path, which);
    this.problems.push({
      code,
      grade: gradeOf(code),
      file: this.parsed.file,
      ...place,
      reading,
      message,
      help,
      lineText: this.parsed.lineText(place.line),
    });
  }
}

/** Unquoted yes and no are text in YAML 1.2, true and false are not; people mean the same by both. */
function yesOrNo(value: unknown): unknown {
  return value === true ? 'yes' : value === false ? 'no' : value;
}
