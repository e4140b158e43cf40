import { DiskRefusal } from './disk-words.ts';

/** A drive that has given nothing for so long is taken to be gone: a slow one gives a part of a file in less. */
export const silentAfterMs = 60_000;

/** Asks a drive; rejects where nothing has come for a while. What it was asked goes on by itself, and nobody waits for it. */
export type Asking = <T>(work: () => Promise<T>) => Promise<T>;

/**
 * Asks for the person's files, at most so many at once. Node has four threads for all files: without a bound, a network drive that stalls would hold all of
 * them, and the draft could not be kept. Where all that may be asked at once have gone silent, more is refused at once until one of them answers.
 */
export function driveAsked(most: number): Asking {
  const waiting: { begin(): void; giveUp(): void }[] = [];
  let running = 0;
  let silent = 0;

  function begin<T>(work: () => Promise<T>, resolve: (value: T) => void, reject: (error: unknown) => void): void {
    running++;
    let isSilent = false;
    const timer = setTimeout(() => {
      isSilent = true;
      silent++;
      reject(new DiskRefusal('SILENT'));
      if (silent >= most) for (const one of waiting.splice(0)) one.giveUp();
    }, silentAfterMs);
    void work()
      .then(resolve, reject)
      .finally(() => {
        clearTimeout(timer);
        running--;
        if (isSilent) silent--;
        waiting.shift()?.begin();
      });
  }

  return (work) =>
    new Promise((resolve, reject) => {
      if (silent >= most) reject(new DiskRefusal('SILENT'));
      else if (running < most) begin(work, resolve, reject);
      else waiting.push({ begin: () => begin(work, resolve, reject), giveUp: () => reject(new DiskRefusal('SILENT')) });
    });
}
