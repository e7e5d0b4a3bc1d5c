import { createHash, randomBytes } from 'node:crypto';
import { readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ensureFolder } from './ensureFolder.ts';
import { entryKinds } from './entryKinds.ts';
import type { KnowledgeBase, Wording } from './knowledgeBase.ts';
import type { Folders, Loaded } from './load.ts';
import type { Problem } from './problem.ts';
import { listFolder, readBytes } from './read.ts';

/** Raised when a newer program could not tell by its own files that a snapshot is older. */
const format = 5;
const largestSnapshot = 64 * 1024 * 1024;

interface Snapshot {
  readonly format: number;
  readonly stamp: string;
  readonly hash: string;
  readonly problems: readonly Problem[];
  readonly knowledge: KnowledgeBase;
}

/** The first line of the file; the second is the wording, which a start does without. */
type Kept = Omit<Snapshot, 'knowledge'> & {
  readonly knowledge: Omit<KnowledgeBase, 'wording'>;
  readonly wordingBytes: number;
  readonly wordingHash: string;
};

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
  return load(folders, cache, stamp, hash);
}

/**
 * Holds the snapshot against the contents of all files, for when there is time: a file changed without a trace in its
 * size and times is not seen by `openKnowledge`. Throws nothing; false where the knowledge had to be read again.
 */
export async function verifySnapshot(folders: Folders, cache: string): Promise<boolean> {
  const hash = hashOf(folders);
  if (readSnapshot(join(cache, snapshotName(folders)))?.hash === hash) return true;
  await load(folders, cache, stampOf(folders), hash);
  return false;
}

async function load(folders: Folders, cache: string, stamp: string, hash: string): Promise<Opened> {
  // Only here are the YAML reader and the schemas loaded: they cost more than everything else at the start.
  const { loadKnowledge } = await import('./load.ts');
  const loaded = loadKnowledge(folders);
  const file = join(cache, snapshotName(folders));
  writeSnapshot(cache, file, { format, stamp, hash, problems: loaded.problems, knowledge: loaded.knowledge });
  return { ...loaded, fromSnapshot: false };
}

function opened({ knowledge, problems }: Pick<Snapshot, 'knowledge' | 'problems'>): Loaded {
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

/** Changes with the program's own files: what an older reader made of the knowledge is not what this one would. */
function programStamp(): string {
  const here = dirname(fileURLToPath(import.meta.url));
  const files = readdirSync(here).filter((name) => /\.[jt]s$/.test(name));
  return files
    .sort()
    .map((name) => {
      const { size, mtimeMs } = statSync(join(here, name));
      return `${name} ${size} ${mtimeMs}`;
    })
    .join('\n');
}

function stampOf(folders: Folders): string {
  const hash = createHash('sha256').update(`${format}\0${programStamp()}\0`);
  for (const source of sourcesOf(folders)) {
    hash.update(`${source.name}\0`);
    for (const { path, size, stamp } of listFolder(source).files) hash.update(`${path}\0${size}\0${stamp}\0`);
  }
  return hash.digest('hex');
}

function hashOf(folders: Folders): string {
  const hash = createHash('sha256').update(`${format}\0${programStamp()}\0`);
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
    const bytes = readFileSync(file);
    const cut = bytes.indexOf(newline);
    const wording = bytes.subarray(cut + 1);
    const text = bytes.toString('utf8', 0, cut);
    if (cut < 0 || couldHarm(text)) return undefined;
    const kept: unknown = JSON.parse(text);
    return isKept(kept) && kept.wordingBytes === wording.length ? unpacked(kept, wording) : undefined;
  } catch {
    return undefined;
  }
}

const newline = 0x0a;

/** The wording is looked at when it is first asked for; damaged without a trace in its length, it says nothing. */
function unpacked({ wordingBytes: _, wordingHash, knowledge, ...rest }: Kept, bytes: Buffer): Snapshot {
  let wording: Wording | undefined;
  const lazy = {
    ...knowledge,
    get wording() {
      if (wording === undefined) {
        const text = bytes.toString('utf8');
        const sound = hashOfText(text) === wordingHash && !couldHarm(text);
        wording = sound ? (JSON.parse(text) as Wording) : noWording;
      }
      return wording;
    },
  };
  return { ...rest, knowledge: lazy };
}

/** What is said where there are no entries. */
export const noWording: Wording = {
  synonyms: {},
  phraseWords: {},
  peopleSay: {},
  told: {},
  saidByAnswer: {},
  said: {},
};

function packed({ knowledge, ...rest }: Snapshot): string {
  const { wording, ...entries } = knowledge;
  const text = JSON.stringify(wording);
  const kept: Kept = {
    ...rest,
    knowledge: entries,
    wordingBytes: Buffer.byteLength(text),
    wordingHash: hashOfText(text),
  };
  return `${JSON.stringify(kept)}\n${text}`;
}

const hashOfText = (text: string): string => createHash('sha256').update(text).digest('hex');

/** What this program never writes into a snapshot: names that reach into prototypes, and signs that move the cursor. */
function couldHarm(text: string): boolean {
  // A backslash of an author's is written as two; what is left of them makes an escape.
  const escapes = text.replaceAll('\\\\', '');
  return /__proto__|\\u00|\\[bf]|[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/.test(escapes);
}

function isKept(value: unknown): value is Kept {
  if (!isMapping(value)) return false;
  const { format: kept, stamp, hash, problems, knowledge } = value;
  if (kept !== format || typeof stamp !== 'string' || typeof hash !== 'string') return false;
  if (!Array.isArray(problems) || !problems.every(isMapping) || !isMapping(knowledge)) return false;
  if (!['words', 'weights'].every((part) => isMapping(knowledge[part]))) return false;
  return entryKinds.every((kind) => {
    const entries = knowledge[kind];
    return (
      isMapping(entries) &&
      Object.entries(entries).every(([id, entry]) => isMapping(entry) && entry['id'] === id)
    );
  });
}

function isMapping(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Whole or not at all; a cache that cannot be written is nobody's loss. */
function writeSnapshot(cache: string, file: string, snapshot: Snapshot): void {
  const temporary = `${file}.${process.pid}.${randomBytes(4).toString('hex')}`;
  try {
    ensureFolder(cache);
    writeFileSync(temporary, packed(snapshot), { mode: 0o600 });
    renameSync(temporary, file);
  } catch {
    try {
      rmSync(temporary, { force: true });
    } catch {
      // Where nothing can be written there is nothing to take away.
    }
  }
}
