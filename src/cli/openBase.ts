import { findPlaces, type Places } from '../knowledge/folders.ts';
import type { Problem } from '../knowledge/problem.ts';
import { type Opened, openKnowledge } from '../knowledge/snapshot.ts';
import type { Options } from './options.ts';
import { writeNote } from './output.ts';

export function placesFor(options: Options): Places {
  return findPlaces({
    local: options.local,
    ...(options.data === undefined ? {} : { data: options.data }),
    ...(options.cache === undefined ? {} : { cache: options.cache }),
  });
}

/** The knowledge with the local findings this run was given. */
export function openBase(options: Options): Promise<Opened> {
  const places = placesFor(options);
  return openKnowledge({ shipped: places.shipped, local: places.local }, places.cache);
}

/** Says in one line that some entries were left out; the print in hand comes before mending them. */
export function noteProblems(problems: readonly Problem[]): void {
  const errors = problems.filter((problem) => problem.grade === 'error').length;
  if (errors === 0) return;
  writeNote(
    `note: ${errors} ${errors === 1 ? 'problem' : 'problems'} in the knowledge; the entries are left out. \`culprint check\` shows them.`,
  );
}
