/** Everything the terminal needs undone, whatever ends the program. */
const showCursor = '\u001b[?25h';

export interface Guarded {
  /** Undoes the guard at the normal end. */
  release(): void;
}

/**
 * Leaves the terminal usable when a signal ends the program, and draws anew after Ctrl-Z and fg or a change of size.
 * Answers need no saving here: each was on the disk before the next question was put.
 */
export function guardTerminal(
  input: NodeJS.ReadStream,
  output: NodeJS.WriteStream,
  redraw: () => void,
  farewell: string,
): Guarded {
  const leave = (signal: 'SIGTERM' | 'SIGHUP', number: number) => () => {
    if (input.isTTY) input.setRawMode(false);
    // After a hang-up there may be nobody to write to.
    if (signal === 'SIGTERM' && output.isTTY) output.write(`${showCursor}\n`);
    process.exit(128 + number);
  };
  // At a question Ctrl-C is a key and reaches the prompt; between two questions it is a signal and comes here.
  const onInterrupt = () => {
    output.write(`${showCursor}${farewell}\n`);
    process.exit(128 + 2);
  };
  const onTerm = leave('SIGTERM', 15);
  const onHangUp = leave('SIGHUP', 1);
  const onContinue = () => {
    if (!input.isTTY) return;
    // The line reader pauses its input on the same signal, after us; ours is the last word.
    setImmediate(() => {
      input.setRawMode(true);
      input.resume();
      redraw();
    });
  };
  // Without something to wait for, the program would end when the shell takes the terminal away on Ctrl-Z.
  const alive = setInterval(() => {}, 60_000);
  process.on('SIGINT', onInterrupt).on('SIGTERM', onTerm).on('SIGHUP', onHangUp).on('SIGCONT', onContinue);
  output.on('resize', redraw);
  const onError = () => process.exit(128 + 1);
  output.on('error', onError);
  return {
    release() {
      clearInterval(alive);
      process
        .off('SIGINT', onInterrupt)
        .off('SIGTERM', onTerm)
        .off('SIGHUP', onHangUp)
        .off('SIGCONT', onContinue);
      output.off('resize', redraw);
      output.off('error', onError);
      if (input.isTTY) input.unref();
    },
  };
}
