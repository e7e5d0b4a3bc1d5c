import { existsSync, writeFileSync } from 'node:fs';
import type { Case, Engine } from '../dialogue/engine.ts';
import { reportMarkdown } from '../report/markdown.ts';
import { exitCode, Stop } from './exit.ts';

/** Writes the report where it was asked for; an existing file stays unless it may be overwritten. */
export function saveReport(engine: Engine, known: Case, file: string, force: boolean): string {
  if (file === '-') {
    throw new Stop(
      exitCode.usage,
      'the result already goes to standard output',
      'give --report a file name, as in --report bad-print.md',
    );
  }
  write(file, reportMarkdown(engine.knowledge, engine.diagnose(known), new Date()), force);
  return `report written: ${file}`;
}

/** Writes the report into the folder at hand under a name that is still free. */
export function saveReportBeside(engine: Engine, known: Case): string {
  const day = new Date().toISOString().slice(0, 10);
  for (let count = 1; ; count++) {
    const file = `culprint-${day}${count === 1 ? '' : `-${count}`}.md`;
    if (existsSync(file)) continue;
    try {
      return saveReport(engine, known, file, false);
    } catch (error) {
      // The result is still on the screen; a folder that cannot be written should not end the program.
      if (error instanceof Stop) return `${error.message}; use --report FILE`;
      throw error;
    }
  }
}

function write(file: string, text: string, force: boolean): void {
  try {
    writeFileSync(file, text, { flag: force ? 'w' : 'wx' });
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST')
      throw new Stop(
        exitCode.cannotCreate,
        `${file} is there already`,
        'another name, or --force to overwrite it',
      );
    if (code === 'ENOSPC' || code === 'EIO')
      throw new Stop(exitCode.ioError, `the report could not be written: ${message}`);
    throw new Stop(exitCode.cannotCreate, `${file} cannot be written: ${message}`);
  }
}
