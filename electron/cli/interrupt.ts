/** The person, or the system, asked the program to end before it was done. */
export class Interrupted extends Error {
  /** What a shell counts a program as that a signal ended: 128 and its number. */
  readonly status: number;
  /** What is done, and how to go on; the command that was at work says it. */
  sentence = 'Interrupted.';

  constructor(readonly signal: 'SIGINT' | 'SIGTERM') {
    super(signal);
    this.status = signal === 'SIGINT' ? 130 : 143;
  }
}

export interface Watch {
  /** Waits for what is given, or rejects with `Interrupted` when the program is asked to end. One at a time: nothing of an earlier wait is kept. */
  wait<T>(awaited: Promise<T>): Promise<T>;
  end(): void;
}

/** Until `end`, a first Ctrl+C ends the work in good order; a second one ends the program at once. */
export function watchInterrupt(): Watch {
  let interrupted: Interrupted | null = null;
  let wake: (() => void) | null = null;
  const on = (signal: 'SIGINT' | 'SIGTERM') => () => {
    interrupted ??= new Interrupted(signal);
    wake?.();
  };
  const [onInt, onTerm] = [on('SIGINT'), on('SIGTERM')];
  process.once('SIGINT', onInt);
  process.once('SIGTERM', onTerm);
  return {
    wait(awaited) {
      return new Promise((resolve, reject) => {
        wake = () => reject(interrupted);
        if (interrupted !== null) wake();
        awaited.then(resolve, reject);
      });
    },
    end() {
      process.off('SIGINT', onInt);
      process.off('SIGTERM', onTerm);
    },
  };
}

/** The system’s own way with Ctrl+C: the program ends at once. */
export function unwatched(): Watch {
  return { wait: (awaited) => awaited, end() {} };
}

/** A thread that a stalled drive holds would keep a program from ending: after a moment it ends as if it had not listened. */
export function endWithoutThreads({ signal }: Interrupted): void {
  setTimeout(() => process.kill(process.pid, signal), 2000).unref();
}
