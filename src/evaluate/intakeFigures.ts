import { readWords } from '../intake/readWords.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { LabelledCase } from './labelled.ts';

/** How readings of one kind compare with what a person found in the same words. */
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
  readonly all: IntakeShare;
  /** The wrong readings, to look at. */
  readonly errors: readonly { readonly name: string; readonly id: string; readonly value: string | number }[];
}

const kinds = ['facts', 'signs', 'tried'] as const;
type Kind = (typeof kinds)[number];

/** Numbers agree within this share: a person rounds. */
const tolerance = 0.02;

/**
 * Cases from reports keep the person's words under `says`, out of the engine's sight. Precision and recall of what `readWords` takes from the words of cases that carry an `in-words` label. The case's own
 * facts, signs and changes are not given to it.
 */
export function intakeFigures(knowledge: KnowledgeBase, cases: readonly LabelledCase[]): IntakeFigures {
  const counts: Record<Kind, Count> = { facts: newCount(), signs: newCount(), tried: newCount() };
  const errors: { name: string; id: string; value: string | number }[] = [];
  let labelledCases = 0;
  for (const { read, name } of cases) {
    const label = mappingOf(read.raw['in-words']);
    const words = read.case.words ?? read.raw['says'];
    if (label === undefined || typeof words !== 'string') continue;
    labelledCases += 1;
    const { complaint } = read.case;
    const readings = readWords(knowledge, words, {
      symptoms: { ...(complaint === undefined ? {} : { [complaint]: true }), ...read.case.symptoms },
    });
    for (const kind of kinds) {
      const wanted = valuesOf(label[kind]);
      const stated: Readonly<Record<string, string | number>> = read.case[kind];
      const count = counts[kind];
      count.labelled += Object.keys(wanted).length;
      for (const { id, value } of readings[kind]) {
        count.read += 1;
        const labelHas = Object.hasOwn(wanted, id);
        if (labelHas && agrees(wanted[id], value)) count.found += 1;
        else if (labelHas || !agrees(stated[id], value)) {
          count.wrong += 1;
          errors.push({ name, id, value });
        }
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
    errors,
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

/** Values by id; a label gives them bare or beside the words that say so. */
function valuesOf(label: unknown): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(mappingOf(label) ?? {}).map(([id, entry]) => [id, mappingOf(entry)?.['value'] ?? entry]),
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
