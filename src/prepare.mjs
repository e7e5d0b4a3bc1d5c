// Brings a clone into a state that runs: installs packages that are missing and compiles what has changed.
// Uses node alone, for it runs before anything is installed. All it says goes to stderr: stdout belongs to the program.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

export const root = dirname(dirname(fileURLToPath(import.meta.url)));

function fingerprint(paths) {
  const hash = createHash('sha256');
  for (const path of paths) hash.update(path).update('\0').update(readFileSync(path)).update('\0');
  return hash.digest('hex');
}

/** Names, sizes and times instead of contents: this runs at every start and must cost a few milliseconds. */
function stamp(paths) {
  const hash = createHash('sha256');
  for (const path of paths) {
    const { size, mtimeMs } = statSync(path);
    hash.update(`${path}\0${size}\0${mtimeMs}\0`);
  }
  return hash.digest('hex');
}

function sources(folder) {
  return readdirSync(folder, { recursive: true })
    .map((name) => join(folder, String(name)))
    .filter((path) => path.endsWith('.ts'))
    .sort();
}

function readOr(path, fallback) {
  return existsSync(path) ? readFileSync(path, 'utf8') : fallback;
}

function run(what, command, args) {
  process.stderr.write(`culprint: ${what} ...\n`);
  const { status, error } = spawnSync(command, args, {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
  });
  if (status !== 0) {
    process.stderr.write(`culprint: ${what} failed${error ? ` (${error.message})` : ''}\n`);
    process.exit(70);
  }
}

function installed() {
  const lock = join(root, 'package-lock.json');
  const mark = join(root, 'node_modules', '.culprint-installed');
  if (!existsSync(lock)) return;
  const want = fingerprint([lock]);
  if (readOr(mark, '') === want) return;
  // --ignore-scripts: nothing that the program needs has an install script, and none of another's should run.
  run('installing packages', 'npm', ['ci', '--ignore-scripts', '--loglevel=error']);
  writeFileSync(mark, want);
}

function built() {
  const files = [
    ...sources(join(root, 'src')),
    join(root, 'tsconfig.json'),
    join(root, 'tsconfig.build.json'),
  ];
  const dist = join(root, 'dist');
  const mark = join(dist, '.built');
  const want = stamp(files);
  if (readOr(mark, '') === want) return;
  // Compiled over what is there: another window may be running it at this moment.
  run('compiling', process.execPath, [
    join(root, 'node_modules', 'typescript', 'bin', 'tsc'),
    '-p',
    'tsconfig.build.json',
  ]);
  mkdirSync(dist, { recursive: true });
  writeFileSync(mark, want);
}

/** A package that was installed from a registry has no sources to compile. */
export function prepare({ install = true } = {}) {
  if (!existsSync(join(root, 'tsconfig.build.json'))) return;
  if (install) installed();
  built();
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  prepare({ install: !process.argv.includes('--build-only') });
}
