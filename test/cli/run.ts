import { spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface Ran {
  readonly code: number | null;
  readonly signal: string | null;
  readonly out: string;
  readonly err: string;
}

const scratch = mkdtempSync(join(tmpdir(), 'culprint-test-'));

/** A folder of its own for every test run: nothing of the user's is read or written. */
export function scratchFolder(name: string): string {
  return mkdtempSync(join(scratch, `${name}-`));
}

/** Runs the built program as a child process. */
export function runCulprint(
  args: readonly string[],
  { input, env = {} }: { input?: string; env?: Readonly<Record<string, string>> } = {},
): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ['dist/cli/main.js', ...args], {
      env: {
        PATH: process.env['PATH'] ?? '',
        HOME: scratch,
        LANG: 'C.UTF-8',
        CULPRINT_DATA: join(scratch, 'data'),
        CULPRINT_CACHE: join(scratch, 'cache'),
        ...env,
      },
    });
    let out = '';
    let err = '';
    child.stdout.on('data', (chunk) => {
      out += chunk;
    });
    child.stderr.on('data', (chunk) => {
      err += chunk;
    });
    // The program may end before it has read all of its input.
    child.stdin.on('error', () => {});
    child.on('error', reject);
    child.on('close', (code, signal) => resolve({ code, signal, out, err }));
    child.stdin.end(input ?? '');
  });
}
