import { createHash, randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { KnowledgeBase } from './knowledgeBase.ts';
import type { Folders, Loaded } from './load.ts';
import type { Problem } from './problem.ts';
import { listFolder, readBytes } from './read.ts';

/** Raised whenever the form of the knowledge, or what is checked in it, changes. */
const format = 1;
const largestSnapshot = 64 * 1024 * 1024;

interface Snapshot {
  readonly format: number;
  readonly stamp: string;
  readonly hash: string;
  readonly problems: readonly Problem[];
  readonly knowledge: KnowledgeBase;
}

export interface Opened extends Loaded {
  readonly fromSnapshot: boolean;
}

/**
 * The knowledge, from its compiled snapshot where that is still true, else from the YAML files. The snapshot is looked up
 * by names, sizes and times of all files, which takes a few milliseconds; where only the times differ, as in a fresh
 * copy, the contents decide. It is never the source: any defect in it, and the files are read again.
 */
export async function openKnowledge(folders: Folders, cache: string): Promise<Opened> {
  const file = join(cache, snapshotName(folders));
  const stamp = stampOf(folders);
  const kept = readSnapshot(file);
  if (kept?.stamp === stamp) return { ...opened(kept), fromSnapshot: true };
  const hash = hashOf(folders);
  if (kept?.hash === hash) {
    writeSnapshot(cache, file, { ...kept, stamp });
    return { ...opened(kept), fromSnapshot: true };
  }
  // Only here are the YAML reader and the schemas loaded: they cost more than everything else at the start.
  const { loadKnowledge } = await import('./load.ts');
  const loaded = loadKnowledge(folders);
  writeSnapshot(cache, file, { format, stamp, hash, problems: loaded.problems, knowledge: loaded.knowledge });
  return { ...loaded, fromSnapshot: false };
}

function opened({ knowledge, problems }: Snapshot): Loaded {
  return { knowledge, problems };
}

/** One snapshot for each set of folders, so that two shops on one machine do not keep undoing each other's. */
function snapshotName({ shipped, local }: Folders): string {
  const hash = createHash('sha256').update(JSON.stringify([shipped, local]));
  return `knowledge-${hash.digest('hex').slice(0, 16)}.json`;
}

function sourcesOf({ shipped, local }: Folders) {
  return [{ folder: shipped, name: 'knowledge' }, ...local];
}

function stampOf(folders: Folders): string {
  const hash = createHash('sha256').update(`${format}\0`);
  for (const source of sourcesOf(folders)) {
    hash.update(`${source.name}\0`);
    for (const { path, size, stamp } of listFolder(source).files) hash.update(`${path}\0${size}\0${stamp}\0`);
  }
  return hash.digest('hex');
}

function hashOf(folders: Folders): string {
  const hash = createHash('sha256').update(`${format}\0`);
  for (const source of sourcesOf(folders)) {
    hash.update(`${source.name}\0`);
    for (const { path } of listFolder(source).files) {
      const bytes = readBytes(join(source.folder, path));
      hash.update(`${path}\0${bytes?.length ?? -1}\0`);
      if (bytes) hash.update(bytes);
    }
  }
  return hash.digest('hex');
}

function readSnapshot(file: string): Snapshot | undefined {
  try {
    if (statSync(file).size > largestSnapshot) return undefined;
    // A name that reaches into the prototype of objects is dropped: the cache is a file like any other.
    const kept: unknown = JSON.parse(readFileSync(file, 'utf8'), (key, value) =>
      key === '__proto__' ? undefined : value,
    );
    return isSnapshot(kept) ? kept : undefined;
  } catch {
    return undefined;
  }
}

const parts = [
  'words',
  'weights',
  'symptoms',
  'signs',
  'facts',
  'causes',
  'fixes',
  'materials',
  'cautions',
  'sources',
];

function isSnapshot(value: unknown): value is Snapshot {
  if (typeof value !== 'object' || value === null) return false;
  const {
    format: kept,
    stamp,
    hash,
    problems,
    knowledge,
  } = value as Partial<Record<keyof Snapshot, unknown>>;
  if (kept !== format || typeof stamp !== 'string' || typeof hash !== 'string' || !Array.isArray(problems))
    return false;
  if (typeof knowledge !== 'object' || knowledge === null) return false;
  return parts.every((part) => typeof (knowledge as Record<string, unknown>)[part] === 'object');
}

/** Whole or not at all; a cache that cannot be written is nobody's loss. */
function writeSnapshot(cache: string, file: string, snapshot: Snapshot): void {
  const temporary = `${file}.${process.pid}.${randomBytes(4).toString('hex')}`;
  try {
    mkdirSync(cache, { recursive: true, mode: 0o700 });
    writeFileSync(temporary, JSON.stringify(snapshot), { mode: 0o600 });
    renameSync(temporary, file);
  } catch {
    rmSync(temporary, { force: true });
  }
}
