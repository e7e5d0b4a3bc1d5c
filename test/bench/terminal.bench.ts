import { spawnSync } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { spawn } from '@lydell/node-pty';
import { bench, describe } from 'vitest';
import { emptyCase, openEngine } from '../../src/dialogue/engine.ts';
import { shippedFolder } from '../../src/knowledge/folders.ts';
import { loadKnowledge } from '../../src/knowledge/load.ts';

// A real pseudo-terminal, all knowledge present, the snapshot warm; beside bare node in the same run.
const folder = mkdtempSync(join(tmpdir(), 'culprint-bench-'));
const env = {
  ...process.env,
  LANG: 'C.UTF-8',
  CI: '',
  CULPRINT_DATA: join(folder, 'data'),
  CULPRINT_CACHE: join(folder, 'cache'),
};
const few = { iterations: 10, warmupIterations: 2, time: 0, warmupTime: 0 };

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => {
    setTimeout(resolve, milliseconds);
  });
}

function open() {
  const pty = spawn(process.execPath, ['dist/cli/main.js'], {
    name: 'xterm-256color',
    cols: 80,
    rows: 40,
    env,
  });
  let drawn = '';
  let wake = () => {};
  pty.onData((data) => {
    drawn += data;
    wake();
  });
  const until = (what: RegExp) =>
    new Promise<void>((resolve) => {
      wake = () => {
        if (what.test(drawn)) resolve();
      };
      wake();
    });
  return {
    pty,
    until,
    forget: () => {
      drawn = '';
    },
  };
}

async function bareNodeInTerminal(): Promise<void> {
  const pty = spawn(process.execPath, ['-e', '0'], { name: 'xterm-256color', cols: 80, rows: 40, env });
  await new Promise<void>((resolve) => {
    pty.onExit(() => resolve());
  });
}

describe('in a terminal', () => {
  bench(
    'bare node, no terminal',
    () => void spawnSync(process.execPath, ['-e', '0'], { stdio: 'ignore' }),
    few,
  );
  bench('bare node', bareNodeInTerminal, few);
  bench(
    'first question drawn',
    async () => {
      const { pty, until } = open();
      await until(/q stop/);
      pty.kill('SIGKILL');
    },
    few,
  );
});

// One interview whose questions are answered in turn by two keys, so that the guard against a held key lets each through.
const running = open();
await running.until(/q stop/);
for (const key of ['1', '2', '1']) {
  running.forget();
  await pause(300);
  running.pty.write(key);
  await running.until(/q (?:save and )?stop/);
}
let turn = 0;

describe('one question to the next', () => {
  bench(
    'from the key to the next question on the screen (300 ms of waiting taken off by hand)',
    async () => {
      await pause(300);
      running.forget();
      running.pty.write(['b', '2'][turn % 2]!);
      turn += 1;
      await running.until(/q save and stop/);
    },
    { iterations: 10, warmupIterations: 2, time: 0, warmupTime: 0 },
  );

  const engine = openEngine(loadKnowledge({ shipped: shippedFolder, local: [] }).knowledge);
  const known = { ...emptyCase, complaint: 'lifted_corner', facts: { material: 'ABS' } };
  bench('of it computing', () => void engine.next(engine.start(known), 8), { iterations: 30, time: 0 });
});
