import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { type ReadCase, readCases } from '../cases/caseFile.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { Problem } from '../knowledge/problem.ts';

/** A case with its label; `own` ones stand beside the causes, `real` ones come from public reports. */
export interface LabelledCase {
  readonly read: ReadCase;
  readonly name: string;
  /** Place in the tree of symptoms that the complaint stands under. */
  readonly family: string;
  readonly truth: readonly string[];
  readonly quality: string;
  /** Written by the author of the links: not a clean test of them. */
  readonly byAuthor: boolean;
}

export interface LabelledCases {
  readonly cases: readonly LabelledCase[];
  readonly problems: readonly Problem[];
}

/** The cases beside the causes: each file belongs to the cause of its name. */
export function ownCases(knowledge: KnowledgeBase, causesFolder: string): LabelledCases {
  const files = readdirSync(causesFolder, { recursive: true })
    .map(String)
    .filter((name) => name.endsWith('.cases.yaml') && !basename(name).startsWith('_'))
    .sort();
  const problems: Problem[] = [];
  const cases = files.flatMap((file) => {
    const cause = basename(file, '.cases.yaml');
    const read = readCases(readFileSync(join(causesFolder, file), 'utf8'), `causes/${file}`, knowledge);
    problems.push(...read.problems);
    return read.cases.map((one, index) => label(knowledge, one, `${cause} ${index + 1}`, [cause]));
  });
  return { cases, problems };
}

/** Cases from public reports, each with its established cause. */
export function realCases(knowledge: KnowledgeBase, file: string): LabelledCases {
  const read = readCases(readFileSync(file, 'utf8'), basename(file), knowledge);
  const cases = read.cases.map((one) => {
    const { cause } = one.expectation;
    const also = Array.isArray(one.raw['also-right']) ? one.raw['also-right'].map(String) : [];
    return label(knowledge, one, String(one.raw['id'] ?? one.case.words), [
      ...(cause === undefined ? [] : [cause]),
      ...also,
    ]);
  });
  return { cases, problems: read.problems };
}

function label(knowledge: KnowledgeBase, read: ReadCase, name: string, truth: string[]): LabelledCase {
  const complaint = read.case.complaint;
  const family = (complaint !== undefined && knowledge.symptoms[complaint]?.under) || 'none';
  return {
    read,
    name,
    family,
    truth,
    quality: String(read.raw['quality'] ?? 'own'),
    byAuthor: read.raw['by-author'] !== undefined,
  };
}
