type Task = () => Promise<void>;

/**
 * Runs one task at a time and remembers only the newest that came meanwhile: while a drawing is awaited and the person goes on zooming,
 * the windows in between are never asked for, and an answer never overwrites a newer one. Tasks that were passed over simply do not run.
 */
export function newestWins(onFailure: (error: unknown) => void): (task: Task) => void {
  let running = false;
  let next: Task | null = null;

  return function submit(task) {
    next = task;
    if (!running) void run();
  };

  async function run(): Promise<void> {
    running = true;
    while (next !== null) {
      const task: Task = next;
      next = null;
      await task().catch(onFailure);
    }
    running = false;
  }
}
