import { spawn, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bench, describe } from 'vitest';
import { shippedFolder } from '../../src/knowledge/folders.ts';
import { loadKnowledge } from '../../src/knowledge/load.ts';
import { openKnowledge } from '../../src/knowledge/snapshot.ts';

// Whole processes, the disk cache warm: each line beside bare node in the same run. The built program, not through npm.
const folder = mkdtempSync(join(tmpdir(), 'culprint-bench-'));
const env = { ...process.env, CULPRINT_DATA: join(folder, 'data'), CULPRINT_CACHE: join(folder, 'cache') };
const caseFile = join(folder, 'case.yaml');
writeFileSync(
  caseFile,
  'complaint: stringing\nfacts: {material: PETG, spool_open: weeks}\nsigns: {popping: some}\n',
);
const few = { iterations: 10, warmupIterations: 2, time: 0, warmupTime: 0 };

function run(args: readonly string[]): void {
  spawnSync(process.execPath, args, { env, stdio: 'ignore' });
}

/** Until the first question stands on stderr. */
function firstQuestion(): Promise<void> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, ['dist/cli/main.js', '--plain'], {
      env,
      stdio: ['pipe', 'ignore', 'pipe'],
    });
    let seen = '';
    child.stderr.on('data', (chunk) => {
      seen += chunk;
      if (seen.includes('q stop')) child.kill('SIGKILL');
    });
    child.on('close', () => resolve());
  });
}

describe('start', () => {
  bench('bare node', () => run(['-e', '0']), few);
  bench('--help', () => run(['dist/cli/main.js', '--help']), few);
  bench('first question, line mode', firstQuestion, few);
  bench(
    'diagnose --case FILE --json',
    () => run(['dist/cli/main.js', 'diagnose', '--case', caseFile, '--json']),
    few,
  );
});

// About 1 MB of local causes over the shipped knowledge.
const big = join(folder, 'big');
mkdirSync(join(big, 'causes', 'room'), { recursive: true });
mkdirSync(join(big, 'fixes', 'room'), { recursive: true });
for (let index = 0; index < 1100; index++) {
  const why = 'It comes about little by little and is seen late. '.repeat(12);
  writeFileSync(
    join(big, 'causes', 'room', `local_cause_${index}.yaml`),
    `name: Local cause ${index}\nwhy: ${why}\nusual: rare\nsigns: {stringing: sometimes, popping: rarely}\nlikelier-when: {material: {PLA: favours}}\nsources: [trade_practice]\n`,
  );
}
writeFileSync(
  join(big, 'fixes', 'room', 'local_fix.yaml'),
  `do: Put it right.\nno-number: A test.\nhands-on-minutes: 1\nreprint: none\nremoves:\n${Array.from({ length: 1100 }, (_, index) => `  local_cause_${index}: usually\n`).join('')}seen-when-it-worked: It is gone.\nsources: [trade_practice]\n`,
);
const folders = { shipped: shippedFolder, local: [{ folder: big, name: 'big' }] };
const cache = join(folder, 'big-cache');

describe('1 MB of knowledge', () => {
  bench('from the YAML files', () => void loadKnowledge(folders), {
    iterations: 3,
    warmupIterations: 1,
    time: 0,
    warmupTime: 0,
  });
  bench('from the snapshot', async () => void (await openKnowledge(folders, cache)), few);
});
