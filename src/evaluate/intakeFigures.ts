import { type Reading, type Readings, readWords } from '../intake/readWords.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { LabelledCase } from './labelled.ts';

/** How readings of one kind compare with what persons found in the same words. */
export interface IntakeShare {
  /** Labels: what the words say, by the label. */
  readonly labelled: number;
  /** Labels that were read with their value. */
  readonly found: number;
  readonly read: number;
  /** Readings that neither the label nor the case itself bears out. */
  readonly wrong: number;
  /** 1 - wrong / read; null where nothing was read. */
  readonly precision: number | null;
  /** found / labelled; null where nothing is labelled. */
  readonly recall: number | null;
}

export interface IntakeFigures {
  /** Cases with words and labels. */
  readonly cases: number;
  readonly facts: IntakeShare;
  readonly signs: IntakeShare;
  readonly tried: IntakeShare;
  /** Facts, signs and changes together. */
  readonly all: IntakeShare;
  readonly symptoms: IntakeShare;
  /** The wrong readings and the labels that were not read, to look at. */
  readonly errors: readonly IntakeError[];
  readonly missed: readonly IntakeError[];
}

export interface IntakeError {
  readonly name: string;
  readonly id: string;
  readonly value: string | number;
}

const kinds = ['facts', 'signs', 'tried'] as const;
type Kind = (typeof kinds)[number] | 'symptoms';

/** Numbers agree within this share: a person rounds. */
const tolerance = 0.02;

/**
 * Precision and recall of what `readWords` takes from the words of cases that carry an `in-words` label; the complaint is
 * given to it, the case's own facts, signs and changes are not. Cases from reports keep the words under `says`. What
 * only one of several readers found, `in-words-by-one`, counts neither way. Symptoms are read without the complaint.
 */
export function intakeFigures(knowledge: KnowledgeBase, cases: readonly LabelledCase[]): IntakeFigures {
  const counts = { symptoms: newCount(), facts: newCount(), signs: newCount(), tried: newCount() };
  const errors: IntakeError[] = [];
  const missed: IntakeError[] = [];
  let labelledCases = 0;
  for (const { read, name } of cases) {
    const label = mappingOf(read.raw['in-words']);
    const words = read.case.words ?? read.raw['says'];
    if (label === undefined || typeof words !== 'string') continue;
    labelledCases += 1;
    const doubtful = mappingOf(read.raw['in-words-by-one']) ?? {};
    const { complaint, symptoms } = read.case;
    const seen = Object.fromEntries(Object.entries(symptoms).map(([id, yes]) => [id, yes ? 'yes' : 'no']));
    const stated: Record<Kind, Readonly<Record<string, string | number>>> = {
      symptoms: { ...seen, ...(complaint === undefined ? {} : { [complaint]: 'yes' }) },
      facts: read.case.facts,
      signs: read.case.signs,
      tried: read.case.tried,
    };
    const known = { symptoms: { ...(complaint === undefined ? {} : { [complaint]: true }), ...symptoms } };
    const readings = {
      ...readWords(knowledge, words, known),
      symptoms: readWords(knowledge, words).symptoms,
    };
    for (const kind of [...kinds, 'symptoms'] as const) {
      const wanted = valuesOf(label[kind], kind);
      const arguable = valuesOf(doubtful[kind], kind);
      const count = counts[kind];
      const got = new Map(readings[kind].map(({ id, value }) => [id, value]));
      count.labelled += Object.keys(wanted).length;
      for (const [id, value] of Object.entries(wanted)) {
        const there = got.get(id);
        if (there !== undefined && agrees(value, there)) count.found += 1;
        else missed.push({ name, id, value: value as string | number });
      }
      for (const [id, value] of got) {
        const labelHas = Object.hasOwn(wanted, id);
        if (!labelHas && agrees(arguable[id], value)) continue;
        count.read += 1;
        if (labelHas ? agrees(wanted[id], value) : agrees(stated[kind][id], value)) continue;
        count.wrong += 1;
        errors.push({ name, id, value });
      }
    }
  }
  const sum = (key: keyof Count) => kinds.reduce((total, kind) => total + counts[kind][key], 0);
  return {
    cases: labelledCases,
    facts: shareOf(counts.facts),
    signs: shareOf(counts.signs),
    tried: shareOf(counts.tried),
    all: shareOf({ labelled: sum('labelled'), found: sum('found'), read: sum('read'), wrong: sum('wrong') }),
    symptoms: shareOf(counts.symptoms),
    errors,
    missed,
  };
}

/** What a person would leave standing: readings that the case itself or a reader's label bears out. */
export function confirmedReadings({ read }: LabelledCase, readings: Readings): Readings {
  const labels = [read.raw['in-words'], read.raw['in-words-by-one']].map((label) => mappingOf(label) ?? {});
  const right = (kind: (typeof kinds)[number]) => (reading: Reading) =>
    [read.case[kind], ...labels.map((label) => valuesOf(label[kind], kind))].some((values) =>
      agrees((values as Record<string, unknown>)[reading.id], reading.value),
    );
  return {
    symptoms: [],
    facts: readings.facts.filter(right('facts')),
    signs: readings.signs.filter(right('signs')),
    tried: readings.tried.filter(right('tried')),
  };
}

interface Count {
  labelled: number;
  found: number;
  read: number;
  wrong: number;
}

function newCount(): Count {
  return { labelled: 0, found: 0, read: 0, wrong: 0 };
}

function shareOf(count: Count): IntakeShare {
  return {
    ...count,
    precision: count.read === 0 ? null : 1 - count.wrong / count.read,
    recall: count.labelled === 0 ? null : count.found / count.labelled,
  };
}

/** Values by id; a label gives them bare or beside the words that say so, a symptom by its words alone. */
function valuesOf(label: unknown, kind: Kind): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(mappingOf(label) ?? {}).map(([id, entry]) => [
      id,
      kind === 'symptoms' ? 'yes' : (mappingOf(entry)?.['value'] ?? entry),
    ]),
  );
}

function agrees(label: unknown, value: string | number): boolean {
  const plain = label === true ? 'yes' : label === false ? 'no' : label;
  if (typeof value === 'number') {
    const number = Number(plain);
    return plain !== undefined && Math.abs(number - value) <= tolerance * Math.abs(number);
  }
  return plain === value;
}

function mappingOf(value: unknown): Record<string, unknown> | undefined {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
    ? (value as Record<string, unknown>)
    : undefined;
}
