/** Exit codes, as `culprint --help` lists them. */
export const exitCode = {
  finished: 0,
  usage: 64,
  badData: 65,
  missingInput: 66,
  bug: 70,
  cannotCreate: 73,
  ioError: 74,
  interrupted: 130,
} as const;

/** The person's mistake, or the machine's: said in a few lines, without a trace. */
export class Stop extends Error {
  override readonly name = 'Stop';
  constructor(
    readonly code: number,
    message: string,
    /** One thing to type or do. */
    readonly help?: string,
  ) {
    super(message);
  }
}
