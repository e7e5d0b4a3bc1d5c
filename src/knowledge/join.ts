import { assemble } from './assemble.ts';
import { type Collected, collectDrafts } from './collect.ts';
import { crossCheck } from './crossCheck.ts';
import { type Draft, problemIn } from './draft.ts';
import { entryKinds } from './entryKinds.ts';
import type { KnowledgeBase } from './knowledgeBase.ts';
import { addEntries, applyChange, type Stack } from './overlay.ts';
import type { Path } from './parse.ts';
import { type Problem, sortProblems } from './problem.ts';
import type { FolderContents } from './read.ts';
import type { Raw } from './schemas.ts';

export interface Loaded {
  readonly knowledge: KnowledgeBase;
  /** Everything that is wrong, in all files at once; entries with an error are left out of the knowledge. */
  readonly problems: readonly Problem[];
}

/**
 * Checks the contents of knowledge folders and joins them: what local folders add, then what they change. A local change
 * is in force only if all that stood without it still stands, so that no slip of a user's can take the shipped knowledge apart.
 */
export function joinKnowledge(shipped: FolderContents, local: readonly FolderContents[] = []): Loaded {
  return joinLayers([
    collectDrafts(shipped, undefined),
    ...local.map((contents) => collectDrafts(contents, contents.name)),
  ]);
}

/** The same for folders whose files are parsed: the shipped one first. */
export function joinLayers(layers: readonly Collected[]): Loaded {
  const added = addEntries(layers.map((layer) => layer.drafts));
  const changes = layers.flatMap((layer) =>
    layer.drafts.filter((draft) => draft.kind === 'change' && draft.raw !== undefined),
  );
  const settled = settle(added.stack, changes);
  const problems = [...layers.flatMap((layer) => layer.problems), ...added.problems, ...settled.problems];
  return { knowledge: settled.knowledge, problems: sortProblems(problems) };
}

function check(stack: Stack): Loaded {
  const assembled = assemble(stack);
  const checked = crossCheck(assembled.knowledge, stack);
  return { knowledge: checked.knowledge, problems: [...assembled.problems, ...checked.problems] };
}

function settle(base: Stack, changes: readonly Draft[]): Loaded {
  let now = check(base);
  if (changes.length === 0) return now;
  const refused: Problem[] = [];
  const applicable: Draft[] = [];
  let stack = base;
  for (const change of changes) {
    const changed = applyChange(change, stack);
    if ('problems' in changed) refused.push(...changed.problems);
    else {
      stack = changed.stack;
      applicable.push(change);
    }
  }
  const together = check(stack);
  if (harmOf(applicable, now, together, stack).length === 0) {
    return { knowledge: together.knowledge, problems: [...refused, ...together.problems] };
  }
  // At least one of them does harm: take them one at a time to find out which.
  stack = base;
  for (const change of applicable) {
    const changed = applyChange(change, stack);
    if ('problems' in changed) {
      refused.push(...changed.problems);
      continue;
    }
    const tried = check(changed.stack);
    const harm = harmOf([change], now, tried, changed.stack);
    if (harm.length > 0) refused.push(...harm);
    else {
      stack = changed.stack;
      now = tried;
    }
  }
  return { knowledge: now.knowledge, problems: [...refused, ...now.problems] };
}

/** What changes broke: mistakes in their own files, else the entries that stood before and do not any more. */
function harmOf(changes: readonly Draft[], before: Loaded, after: Loaded, { off }: Stack): Problem[] {
  const files = new Set(changes.map((change) => change.parsed.file));
  const own = after.problems.filter((problem) => problem.grade === 'error' && files.has(problem.file));
  if (own.length > 0) return own;
  const lost = entryKinds.flatMap((kind) =>
    Object.values(before.knowledge[kind]).filter(
      (entry) => !(off.has(entry.id) || Object.hasOwn(after.knowledge[kind], entry.id)),
    ),
  );
  if (lost.length === 0) return [];
  const [change] = changes;
  const names = lost.map(({ id }) => `\`${id}\``);
  const shown =
    names.length > 4 ? `${names.slice(0, 3).join(', ')} and ${names.length - 3} more` : names.join(', ');
  const reason = after.problems.find(
    (problem) => problem.grade === 'error' && problem.file.endsWith(lost[0]!.file),
  );
  return [
    problemIn(change!, 'still-needed', placeOf(change!), {
      reading: 'a local change',
      message: `${shown} would not stand without what it takes away${reason ? `: ${reason.message}` : ''}`,
      help: 'The change is not in force. Change or switch off those as well, or take the change back.',
    }),
  ];
}

function placeOf(change: Draft): Path {
  const raw = change.raw as Raw<'change'>;
  return raw['switch-off'] === undefined ? ['change'] : ['switch-off', 0];
}
