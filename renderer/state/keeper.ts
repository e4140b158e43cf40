/** So soon after a change it is on its way: with the writing it is kept within a second. */
const keptAfterMs = 500;

/**
 * Keeps what changes (a draft, the page's layout) a moment after the first change since it was last kept, however many follow: a crash costs no more than
 * about a second. One is written at a time; changes meanwhile are kept next.
 */
export class Keeper {
  private readonly keep: () => Promise<void>;
  private readonly onFailure: (error: unknown) => void;
  private timer: ReturnType<typeof setTimeout> | null = null;
  private writing: Promise<void> | null = null;

  constructor(keep: () => Promise<void>, onFailure: (error: unknown) => void) {
    this.keep = keep;
    this.onFailure = onFailure;
  }

  changed(): void {
    this.timer ??= setTimeout(() => void this.now(), keptAfterMs);
  }

  /** At once: the window may be closing. */
  async now(): Promise<void> {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = null;
    await this.writing;
    this.writing = this.keep()
      .catch(this.onFailure)
      .finally(() => (this.writing = null));
    await this.writing;
  }

  /** At once what is waiting to be kept, where anything is. */
  async rest(): Promise<void> {
    if (this.timer !== null) await this.now();
  }

  /** It is no longer wanted; resolves when nothing is being written. */
  async stop(): Promise<void> {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = null;
    await this.writing;
  }
}
