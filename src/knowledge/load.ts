import { assemble } from './assemble.ts';
import { collectDrafts, overlay } from './collect.ts';
import { crossCheck } from './crossCheck.ts';
import type { KnowledgeBase } from './knowledgeBase.ts';
import { type Problem, sortProblems } from './problem.ts';
import { readFolder, type SourceFolder } from './read.ts';

export interface Folders {
  /** The knowledge that comes with the program. */
  readonly shipped: string;
  /** Local folders that lie over it, later ones on top; `name` is what lists and problems call them. */
  readonly local: readonly SourceFolder[];
}

export interface Loaded {
  readonly knowledge: KnowledgeBase;
  /** Everything that is wrong, in all files at once; entries with an error are left out of the knowledge. */
  readonly problems: readonly Problem[];
}

/** Reads, checks and joins the knowledge folders. Nothing is thrown, however broken they are. */
export function loadKnowledge({ shipped, local }: Folders): Loaded {
  const layers = [
    collectDrafts(readFolder({ folder: shipped, name: 'knowledge' }), undefined),
    ...local.map((source) => collectDrafts(readFolder(source), source.name)),
  ];
  const joined = overlay(layers.map((layer) => layer.drafts));
  const assembled = assemble(joined.drafts);
  const checked = crossCheck(assembled.knowledge, assembled.drafts);
  const problems = [...layers.flatMap((layer) => layer.problems), ...joined.problems, ...assembled.problems, ...checked.problems];
  return { knowledge: deepFreeze(checked.knowledge), problems: sortProblems(problems) };
}

function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const item of Object.values(value)) deepFreeze(item);
  }
  return value;
}
