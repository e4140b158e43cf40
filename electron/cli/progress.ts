import { printable } from './table.ts';

/** The terminal is not asked more often than a person can read. */
const leastMs = 100;
let lastMs = Number.NEGATIVE_INFINITY;
let shown = false;

/** Progress goes to standard error, only on a terminal, over itself. */
export function showProgress(words: string): void {
  if (!process.stderr.isTTY) return;
  const now = performance.now();
  if (now - lastMs < leastMs) return;
  lastMs = now;
  shown = true;
  process.stderr.write(`\r\u001b[K${printable(words)}`);
}

export function endProgress(): void {
  if (!shown) return;
  shown = false;
  process.stderr.write('\r\u001b[K');
}
