import { findPlaces } from '../knowledge/folders.ts';
import { type Opened, openKnowledge } from '../knowledge/snapshot.ts';
import type { Options } from './options.ts';

/** The knowledge with the local findings this run was given. */
export function openBase(options: Options): Promise<Opened> {
  const places = findPlaces({
    local: options.local,
    ...(options.data === undefined ? {} : { data: options.data }),
    ...(options.cache === undefined ? {} : { cache: options.cache }),
  });
  return openKnowledge({ shipped: places.shipped, local: places.local }, places.cache);
}
