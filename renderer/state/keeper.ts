/** So soon after a change it is on its way: with the writing it is kept within a second. */
export const keptAfterMs = 500;
/** A disk that was full may have room again. */
export const againAfterMs = 5000;

/**
 * Keeps what changes (a draft, the page's layout) a moment after the first change since it was last kept, however many follow: a crash costs no more than
 * about a second. One is written at a time; changes meanwhile are kept next. What could not be kept is said once, and tried again until it is.
 */
export class Keeper {
  private readonly keep: () => Promise<void>;
  private readonly onFailure: (error: unknown) => void;
  private timer: ReturnType<typeof setTimeout> | null = null;
  private writing: Promise<boolean> | null = null;
  private isDue = false;
  private isFailing = false;

  constructor(keep: () => Promise<void>, onFailure: (error: unknown) => void) {
    this.keep = keep;
    this.onFailure = onFailure;
  }

  changed(): void {
    this.timer ??= setTimeout(() => void this.now(), keptAfterMs);
  }

  /** At once: the window may be closing. Resolves when what stands now has been kept; with `false` where it could not be. */
  now(): Promise<boolean> {
    this.unset();
    this.isDue = true;
    this.writing ??= this.write().finally(() => {
      this.writing = null;
    });
    return this.writing;
  }

  /** At once what is waiting to be kept, where anything is. */
  async rest(): Promise<void> {
    if (this.timer !== null) await this.now();
  }

  /** It is no longer wanted; resolves when nothing is being written, and nothing more will be. */
  async stop(): Promise<void> {
    this.unset();
    this.isDue = false;
    await this.writing;
    this.unset();
  }

  private async write(): Promise<boolean> {
    while (this.isDue) {
      this.isDue = false;
      try {
        await this.keep();
        this.isFailing = false;
      } catch (error) {
        if (!this.isFailing) this.onFailure(error);
        this.isFailing = true;
        this.timer ??= setTimeout(() => void this.now(), againAfterMs);
      }
    }
    return !this.isFailing;
  }

  private unset(): void {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = null;
  }
}
