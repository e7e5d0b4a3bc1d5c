import { closeSync, fstatSync, openSync, readdirSync, readSync, realpathSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { gradeOf, type Problem } from './problem.ts';

/** Bounds of what is read: far above any honest knowledge folder, low enough that a hostile one cannot stall the program. */
export const largestFileBytes = 256 * 1024;
export const mostFiles = 5000;
const deepestFolder = 6;

export interface SourceFolder {
  readonly folder: string;
  /** What problems call the folder. */
  readonly name: string;
}

export interface ListedFile {
  /** Path inside the folder, with `/`. */
  readonly path: string;
  readonly size: number;
  /** Changes whenever the file is written. */
  readonly stamp: string;
}

export interface SourceFile {
  readonly path: string;
  readonly text: string;
}

/** What one knowledge folder holds, read but not understood. */
export interface FolderContents {
  readonly name: string;
  readonly files: readonly SourceFile[];
  /** Paths of files that are there but could not be read: who mentions their entries has made no mistake. */
  readonly unread: readonly string[];
  /** Paths of the case files, which are not part of the knowledge. */
  readonly caseFiles: readonly string[];
  readonly problems: readonly Problem[];
}

function fileProblem(code: Problem['code'], file: string, message: string, help: string): Problem {
  const nowhere = { line: 1, column: 1, length: 1, lineText: '' };
  return { code, grade: gradeOf(code), file, reading: 'the knowledge', message, help, ...nowhere };
}

function why(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT') return 'it is not there';
  if (code === 'EACCES' || code === 'EPERM') return 'reading it is not allowed';
  if (code === 'EISDIR' || code === 'ENOTDIR') return 'it is not what its name says';
  return `the system says ${String(code ?? 'no')}`;
}

/**
 * The YAML files of a folder, sorted by path. Names that begin with `_` or `.`, and the `schema` folder, are passed over;
 * links are followed, but no folder is entered twice.
 */
export function listFolder(source: SourceFolder): { files: ListedFile[]; problems: Problem[] } {
  const files: ListedFile[] = [];
  const problems: Problem[] = [];
  const entered = new Set<string>();
  const enter = (inside: string, depth: number): void => {
    const folder = join(source.folder, inside);
    let names: string[];
    try {
      const real = realpathSync(folder);
      if (entered.has(real)) return;
      entered.add(real);
      names = readdirSync(folder).sort();
    } catch (error) {
      problems.push(
        fileProblem(
          'unreadable',
          join(source.name, inside),
          `cannot open this folder: ${why(error)}`,
          'Check the path and its rights.',
        ),
      );
      return;
    }
    for (const name of names) {
      if (name.startsWith('_') || name.startsWith('.') || files.length > mostFiles) continue;
      const path = inside === '' ? name : `${inside}/${name}`;
      try {
        const stat = statSync(join(folder, name));
        if (stat.isDirectory()) {
          if (path !== 'schema' && depth < deepestFolder) enter(path, depth + 1);
        } else if (/\.ya?ml$/i.test(name)) {
          // A pipe or a device would be waited for.
          if (!stat.isFile()) throw Object.assign(new Error(), { code: 'EISDIR' });
          files.push({ path, size: stat.size, stamp: `${stat.mtimeMs} ${stat.ctimeMs}` });
        }
      } catch (error) {
        if (/\.ya?ml$/i.test(name))
          problems.push(
            fileProblem(
              'unreadable',
              `${source.name}/${path}`,
              `cannot read this file: ${why(error)}`,
              'Check the file and its rights.',
            ),
          );
      }
    }
  };
  enter('', 0);
  if (files.length > mostFiles) {
    files.length = mostFiles;
    problems.push(
      fileProblem(
        'too-big',
        source.name,
        `there are more than ${mostFiles} files`,
        'Those beyond are not read. Is this the right folder?',
      ),
    );
  }
  return { files, problems };
}

/** The bytes of a file, at most one more than the bound allows: a device or a growing file cannot fill the memory. */
function readBounded(path: string): Buffer {
  const handle = openSync(path, 'r');
  try {
    if (!fstatSync(handle).isFile()) throw Object.assign(new Error(), { code: 'EISDIR' });
    const buffer = Buffer.alloc(largestFileBytes + 1);
    let filled = 0;
    for (;;) {
      const count = readSync(handle, buffer, filled, buffer.length - filled, null);
      filled += count;
      if (count === 0 || filled === buffer.length) return buffer.subarray(0, filled);
    }
  } finally {
    closeSync(handle);
  }
}

/** Case files stand beside causes and are read by the tests and the evaluation, not as knowledge. */
export function isCaseFile(path: string): boolean {
  return path.endsWith('.cases.yaml');
}

/** The text of one file, or what is wrong with it. `file` is its name in problems. */
export function readText(path: string, file: string): { text: string } | { problem: Problem } {
  try {
    const bytes = readBounded(path);
    if (bytes.length > largestFileBytes)
      return {
        problem: fileProblem(
          'too-big',
          file,
          `it is larger than ${largestFileBytes / 1024} KiB`,
          'An entry takes a few lines; split the file.',
        ),
      };
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch (error) {
    if (
      error instanceof TypeError &&
      (error as NodeJS.ErrnoException).code === 'ERR_ENCODING_INVALID_ENCODED_DATA'
    )
      return { problem: fileProblem('bad-text', file, 'it is not UTF-8 text', 'Save it as UTF-8.') };
    return {
      problem: fileProblem(
        'unreadable',
        file,
        `cannot read this file: ${why(error)}`,
        'Check the file and its rights.',
      ),
    };
  }
}

/** Bytes of a file for a fingerprint; undefined where it cannot be read. */
export function readBytes(path: string): Buffer | undefined {
  try {
    return readBounded(path);
  } catch {
    return undefined;
  }
}

/** Reads a knowledge folder. Nothing is thrown: what cannot be read becomes a Problem. */
export function readFolder(source: SourceFolder): FolderContents {
  const listed = listFolder(source);
  const problems = [...listed.problems];
  const files: SourceFile[] = [];
  const unread: string[] = [];
  const caseFiles: string[] = [];
  for (const { path } of listed.files) {
    if (isCaseFile(path)) {
      caseFiles.push(path);
      continue;
    }
    const read = readText(join(source.folder, path), `${source.name}/${path}`);
    if ('text' in read) files.push({ path, text: read.text });
    else {
      problems.push(read.problem);
      unread.push(path);
    }
  }
  return { name: source.name, files, unread, caseFiles, problems };
}
