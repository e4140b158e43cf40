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
  /** Rejects with `Interrupted` when the program is asked to end; never resolves. */
  readonly interrupted: Promise<never>;
  end(): void;
}

/** Until `end`, a first Ctrl+C ends the work in good order; a second one ends the program at once. */
export function watchInterrupt(): Watch {
  let refuse: (reason: Interrupted) => void = () => {};
  const interrupted = new Promise<never>((_, reject) => {
    refuse = reject;
  });
  interrupted.catch(() => {});
  const onInt = () => refuse(new Interrupted('SIGINT'));
  const onTerm = () => refuse(new Interrupted('SIGTERM'));
  process.once('SIGINT', onInt);
  process.once('SIGTERM', onTerm);
  return {
    interrupted,
    end() {
      process.off('SIGINT', onInt);
      process.off('SIGTERM', onTerm);
    },
  };
}

/** The system’s own way with Ctrl+C: the program ends at once. */
export function unwatched(): Watch {
  return { interrupted: new Promise(() => {}), end() {} };
}

/** A thread that a stalled drive holds would keep a program from ending: after a moment it ends as if it had not listened. */
export function endWithoutThreads({ signal }: Interrupted): void {
  setTimeout(() => process.kill(process.pid, signal), 500).unref();
}
