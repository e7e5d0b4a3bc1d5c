/** What a person pressed while no question stood on the screen. */
export type GapKey = 'interrupt' | 'end';

const ctrlC = 0x03;
const ctrlD = 0x04;

/**
 * Listens between two questions. There the line reader has let go of the terminal, and the terminal left to itself would
 * turn Ctrl-D into the end of all input. Other keys pressed meanwhile are passed over.
 */
export class GapWatch {
  private pressed: GapKey | undefined;

  constructor(
    private readonly input: NodeJS.ReadStream,
    private readonly onInterrupt: () => void,
  ) {}

  private readonly listen = (data: Buffer | string): void => {
    for (const byte of Buffer.from(data)) {
      if (byte === ctrlC) this.onInterrupt();
      if (byte === ctrlD) this.pressed = 'end';
    }
  };

  /** From the end of one question to the beginning of the next. */
  start(): void {
    if (!this.input.isTTY) return;
    this.input.setRawMode(true);
    this.input.on('data', this.listen);
    this.input.resume();
  }

  /** @returns what was pressed in between */
  stop(): GapKey | undefined {
    this.input.off('data', this.listen);
    const { pressed } = this;
    this.pressed = undefined;
    return pressed;
  }

  /** Gives the terminal back as it was. */
  release(): void {
    this.stop();
    if (!this.input.isTTY) return;
    this.input.setRawMode(false);
    this.input.pause();
  }
}
