#!/usr/bin/env node
import { exitCode, Stop } from './exit.ts';
import { nearest, type Options, readCommandLine } from './options.ts';

/** Runs one command; whatever goes wrong becomes an exit code and a few plain lines. */
export async function main(args: readonly string[]): Promise<number> {
  let debug = args.includes('--debug');
  try {
    // Help and version ignore everything else on the line, also what is wrong there.
    if (args.includes('--help') || args.includes('-h') || args[0] === 'help') return await showHelp();
    if (args.includes('--version') || args[0] === 'version') return await showVersion();
    const line = readCommandLine(args);
    debug = line.options.debug;
    return await run(line.command, line.operands, line.options);
  } catch (error) {
    return await report(error, debug);
  }
}

async function run(
  command: string | undefined,
  operands: readonly string[],
  options: Options,
): Promise<number> {
  switch (command) {
    case undefined:
      return options.case === undefined
        ? (await import('./interview.ts')).interview(options)
        : (await import('./diagnose.ts')).diagnoseCase(options);
    case 'diagnose':
      refuseOperands(operands, 'diagnose');
      return options.case === undefined && options.input
        ? (await import('./interview.ts')).interview(options)
        : (await import('./diagnose.ts')).diagnoseCase(options);
    case 'resume':
      return (await import('./resume.ts')).resume(operands, options);
    case 'completion':
      return (await import('./completion.ts')).completion(operands);
    case 'list':
      return (await import('./list.ts')).list(operands, options);
    case 'search':
      return (await import('./search.ts')).search(operands, options);
    case 'show':
      return (await import('./show.ts')).show(operands, options);
    case 'check':
      return (await import('./check.ts')).check(operands, options);
    default: {
      const { commandNames } = await import('./help.ts');
      const near = nearest(command, commandNames);
      throw new Stop(
        exitCode.usage,
        `there is no command ${JSON.stringify(command)}`,
        near ? `did you mean culprint ${near}?` : 'culprint --help lists them',
      );
    }
  }
}

function refuseOperands(operands: readonly string[], command: string): void {
  if (operands.length > 0) {
    throw new Stop(
      exitCode.usage,
      `${command} takes no file names: ${JSON.stringify(operands[0])}`,
      `culprint ${command} --case ${operands[0]}`,
    );
  }
}

async function showHelp(): Promise<number> {
  const { helpText } = await import('./help.ts');
  const { writeResult } = await import('./output.ts');
  await writeResult(helpText());
  return exitCode.finished;
}

async function showVersion(): Promise<number> {
  const { readFileSync } = await import('node:fs');
  const { writeResult } = await import('./output.ts');
  const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));
  await writeResult(`culprint ${version}`);
  return exitCode.finished;
}

async function report(error: unknown, debug: boolean): Promise<number> {
  const { writeNote } = await import('./output.ts');
  if (error instanceof Stop) {
    writeNote(`error: ${error.message}`);
    if (error.help !== undefined) writeNote(`help: ${error.help}`);
    return error.code;
  }
  writeNote('error: something went wrong inside the program; nothing you did should do this');
  writeNote(
    debug && error instanceof Error
      ? (error.stack ?? error.message)
      : 'help: run it again with --debug, and report what it prints',
  );
  return exitCode.bug;
}

// The exit code is set, not forced: output that is still on its way to a slow reader must arrive.
process.exitCode = await main(process.argv.slice(2));
