import { exitCode, Stop } from './exit.ts';

/** Writes a result to stdout whole, however slow the reader; a reader that left ends it quietly. */
export async function writeResult(text: string): Promise<void> {
  await new Promise<void>((resolve, reject) => {
    const failed = (error: NodeJS.ErrnoException) => {
      if (error.code === 'EPIPE') resolve();
      else reject(new Stop(exitCode.ioError, `the result could not be written: ${error.message}`));
    };
    process.stdout.once('error', failed);
    process.stdout.write(text.endsWith('\n') ? text : `${text}\n`, (error) => {
      if (error) failed(error);
      else {
        process.stdout.off('error', failed);
        resolve();
      }
    });
  });
}

export async function writeJson(value: unknown): Promise<void> {
  await writeResult(JSON.stringify(value, null, 2));
}

/** Notes and problems go to stderr, broken by words; a closed stderr is nobody's loss. */
export function writeNote(text: string): void {
  const width = Math.max(20, (process.stderr.columns ?? 80) - 1);
  const lines = text.split('\n').map((line) => breakLine(line, width));
  process.stderr.write(`${lines.join('\n')}\n`);
}

/** Without a package: errors of the command line come before any is loaded. */
function breakLine(line: string, width: number): string {
  if (line.length <= width) return line;
  const cut = line.lastIndexOf(' ', width);
  if (cut <= 0) return line;
  return `${line.slice(0, cut)}\n${breakLine(line.slice(cut + 1), width)}`;
}
