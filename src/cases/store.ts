import { randomBytes } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { ensureFolder } from '../knowledge/ensureFolder.ts';
import { type Case, emptyCase } from '../model/case.ts';

/** Raised when a line changes its meaning; a case written by a newer program is left alone. */
const format = 1;

export interface KeptSheet {
  readonly items: readonly string[];
  readonly marks: Readonly<Record<string, 'yes' | 'no'>>;
}

/** What a case log holds at one moment. */
export interface Progress {
  readonly case: Case;
  /** Ids of the questions asked, in order. */
  readonly trail: readonly string[];
  /** Sheets as they were filled in, by their id in the trail; logs from before there were any have none. */
  readonly sheets?: Readonly<Record<string, KeptSheet>>;
  /** Fixes that were proposed first and are being tried. */
  readonly planned: readonly string[];
  /** Set when the print came out well: the fixes that did it. */
  readonly solvedBy?: readonly string[];
}

export interface StoredCase extends Progress {
  readonly id: string;
  /** Milliseconds since 1970. */
  readonly at: number;
}

export type Opening =
  | { readonly kind: 'open'; readonly stored: StoredCase }
  /** Nothing in the file can be read; the file is kept. */
  | { readonly kind: 'damaged' | 'newer'; readonly id: string };

interface Line extends Progress {
  readonly format: number;
  readonly at: number;
}

export const nothingYet: Progress = { case: emptyCase, trail: [], planned: [] };

function folderOf(data: string): string {
  return join(data, 'cases');
}

/** Cases in the data folder, newest first, also damaged ones. */
export function listCases(data: string): Opening[] {
  const folder = folderOf(data);
  if (!existsSync(folder)) return [];
  const found = readdirSync(folder)
    .filter((name) => /^[a-z0-9-]+\.jsonl$/.test(name))
    .map((name) => openCase(data, name.slice(0, -'.jsonl'.length)));
  const when = (opening: Opening) => (opening.kind === 'open' ? opening.stored.at : 0);
  return found.sort((a, b) => when(b) - when(a));
}

/** The last whole line of a case's log. A torn line at the end, as a crash may leave it, is passed over. */
export function openCase(data: string, id: string): Opening {
  let text: string;
  try {
    text = readFileSync(join(folderOf(data), `${id}.jsonl`), 'utf8');
  } catch {
    return { kind: 'damaged', id };
  }
  for (const line of text.split('\n').reverse()) {
    const read = readLine(line);
    if (read === 'newer') return { kind: 'newer', id };
    if (read) {
      const { format: _, ...rest } = read;
      return { kind: 'open', stored: { ...rest, id } };
    }
  }
  return { kind: 'damaged', id };
}

function readLine(line: string): Line | 'newer' | undefined {
  if (line.trim() === '') return undefined;
  try {
    const value: unknown = JSON.parse(line, (key, item) => (key === '__proto__' ? undefined : item));
    if (typeof value !== 'object' || value === null) return undefined;
    const { format: written } = value as { format?: unknown };
    if (typeof written !== 'number') return undefined;
    if (written > format) return 'newer';
    return isLine(value) ? value : undefined;
  } catch {
    return undefined;
  }
}

const isRecord = (value: unknown) => typeof value === 'object' && value !== null && !Array.isArray(value);
const isTexts = (value: unknown) => Array.isArray(value) && value.every((item) => typeof item === 'string');

function isKeptSheet(value: unknown): boolean {
  if (!isRecord(value)) return false;
  const { items, marks } = value as Record<string, unknown>;
  return (
    isTexts(items) &&
    isRecord(marks) &&
    Object.values(marks as object).every((mark) => mark === 'yes' || mark === 'no')
  );
}

function isLine(value: object): value is Line {
  const { at, case: known, trail, planned, solvedBy, sheets = {} } = value as Record<string, unknown>;
  if (typeof at !== 'number' || !isRecord(known) || !isTexts(trail) || !isTexts(planned)) return false;
  if (solvedBy !== undefined && !isTexts(solvedBy)) return false;
  if (!isRecord(sheets) || !Object.values(sheets as object).every(isKeptSheet)) return false;
  const { facts, signs, symptoms, tried, unknown, complaint } = known as Record<string, unknown>;
  return (
    [facts, signs, symptoms, tried].every(isRecord) &&
    isTexts(unknown) &&
    (complaint === undefined || typeof complaint === 'string')
  );
}

/** One case being written: a line for every answer, on the disk before the next question is put. */
export interface CaseLog {
  readonly id: string;
  /** @returns false when it could not be written; the interview goes on without being kept */
  save(progress: Progress): boolean;
  close(): void;
}

/** @returns the log, `busy` when another program writes this case, or undefined when nothing can be written there */
export function writeCase(data: string, id = newId()): CaseLog | 'busy' | undefined {
  const folder = folderOf(data);
  const file = join(folder, `${id}.jsonl`);
  const lock = join(folder, `${id}.lock`);
  try {
    ensureFolder(folder);
    if (!takeLock(lock)) return 'busy';
  } catch {
    return undefined;
  }
  return {
    id,
    save: (progress) => appendLine(file, { format, at: Date.now(), ...progress }),
    close: () => rmSync(lock, { force: true }),
  };
}

function newId(): string {
  const day = new Date().toISOString().slice(0, 10);
  return `${day}-${randomBytes(3).toString('hex')}`;
}

/** A torn line before it must not swallow this one, so a line begins on a line of its own. */
function appendLine(file: string, line: Line): boolean {
  try {
    const handle = openSync(file, 'a', 0o600);
    try {
      writeSync(handle, `\n${JSON.stringify(line)}\n`);
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
    return true;
  } catch {
    return false;
  }
}

/** The number of the process that holds it; one that no longer runs, as after a kill, holds nothing. */
function takeLock(lock: string): boolean {
  try {
    writeFileSync(lock, String(process.pid), { flag: 'wx', mode: 0o600 });
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    const holder = Number(readFileSync(lock, 'utf8'));
    if (holder !== process.pid && isRunning(holder)) return false;
    writeFileSync(lock, String(process.pid), { mode: 0o600 });
    return true;
  }
}

function isRunning(pid: number): boolean {
  if (!Number.isInteger(pid) || pid <= 0) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
