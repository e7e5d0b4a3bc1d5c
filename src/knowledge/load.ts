import { joinKnowledge, type Loaded } from './join.ts';
import { readFolder, type SourceFolder } from './read.ts';

export type { Loaded } from './join.ts';

export interface Folders {
  /** The knowledge that comes with the program. */
  readonly shipped: string;
  /** Local folders that lie over it, later ones on top; `name` is what lists and problems call them. */
  readonly local: readonly SourceFolder[];
}

/** Reads, checks and joins the knowledge folders. Nothing is thrown, however broken they are. */
export function loadKnowledge({ shipped, local }: Folders): Loaded {
  const { knowledge, problems } = joinKnowledge(
    readFolder({ folder: shipped, name: 'knowledge' }),
    local.map(readFolder),
  );
  return { knowledge: deepFreeze(knowledge), problems };
}

function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const item of Object.values(value)) deepFreeze(item);
  }
  return value;
}
