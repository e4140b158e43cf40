import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { openToPrint } from '../../../renderer/host/browser-files.ts';

/** The addresses that a report's pages still hold. */
let alive: Set<string>;

beforeEach(() => {
  vi.useFakeTimers();
  alive = new Set();
  vi.spyOn(URL, 'createObjectURL').mockImplementation(() => {
    alive.add('blob:report');
    return 'blob:report';
  });
  vi.spyOn(URL, 'revokeObjectURL').mockImplementation((address) => void alive.delete(address));
});

afterEach(() => {
  vi.useRealTimers();
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
});

it.each([
  ['is shown and printed', true],
  ['is closed before it is there', false],
])('a report’s page that %s holds no address a minute later', (_, isShown) => {
  const page = Object.assign(new EventTarget(), { print: vi.fn() });
  vi.stubGlobal('window', { open: () => page });
  openToPrint('<p>Report</p>');
  expect(alive.size, 'as long as it is on its way').toBe(1);
  if (isShown) page.dispatchEvent(new Event('load'));
  vi.advanceTimersByTime(60_000);
  expect(alive.size).toBe(0);
  expect(page.print).toHaveBeenCalledTimes(isShown ? 1 : 0);
});
