/** The clock, so that tests need not wait. */
export type Clock = () => number;

/** A key that is held begins to repeat within this time on the keyboards people have (250 to 660 ms). */
const beforeRepeat = 700;
/** Faster than any hand: the rest of a burst, or a repeat. */
const burst = 150;

/**
 * Keeps one key press from answering several questions: a key that is still held, or typed ahead in one burst, is
 * swallowed at the next question until it has been let go.
 */
export class HeldKey {
  private last = { key: '', at: Number.NEGATIVE_INFINITY };
  private fresh = true;

  constructor(private readonly now: Clock = Date.now) {}

  /** A new question stands on the screen. */
  newQuestion(): void {
    this.fresh = true;
  }

  /** Whether this key press is to be passed over. */
  swallows(key: string): boolean {
    const at = this.now();
    const quiet = at - this.last.at;
    const same = key === this.last.key;
    this.last = { key, at };
    if (this.fresh && quiet < (same ? beforeRepeat : burst)) return true;
    this.fresh = false;
    return false;
  }
}
