import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { againAfterMs, Keeper, keptAfterMs } from '../../../renderer/state/keeper.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** A draft that a person works on: what stands, what has been kept, and a disk that takes its time or fails. */
function work() {
  const kept: number[] = [];
  const said: string[] = [];
  const open: { end(): void; fail(): void }[] = [];
  const desk = { stands: 0, kept, said, open, slow: false, isFull: false, writing: 0, most: 0 };
  const keeper = new Keeper(
    async () => {
      const { stands } = desk;
      desk.most = Math.max(desk.most, ++desk.writing);
      try {
        if (desk.slow)
          await new Promise<void>((end, fail) => open.push({ end, fail: () => fail(new Error('stalled')) }));
        if (desk.isFull) throw new Error('full');
        kept.push(stands);
      } finally {
        desk.writing--;
      }
    },
    (error) => said.push((error as Error).message),
  );
  const edit = () => {
    desk.stands++;
    keeper.changed();
  };
  return { desk, keeper, edit };
}

it('however many edits follow, no more than half a second of them stands unkept', async () => {
  const { desk, edit } = work();
  // Edits come faster than a pause would ever allow.
  for (let ms = 0; ms < 10_000; ms += 50) {
    edit();
    await vi.advanceTimersByTimeAsync(50);
    const unkept = desk.stands - (desk.kept.at(-1) ?? 0);
    expect(unkept * 50).toBeLessThanOrEqual(keptAfterMs);
  }
  // With the 300 ms that the review's text may take, a second is kept.
  expect(keptAfterMs + 300).toBeLessThan(1000);
  expect(desk.kept.length).toBeLessThan(desk.stands / 5);
});

it('one is written at a time, and the last is what stands', async () => {
  const { desk, keeper, edit } = work();
  desk.slow = true;
  edit();
  await vi.advanceTimersByTimeAsync(keptAfterMs);
  edit();
  const all = [keeper.now(), keeper.now()];
  edit();
  const more = keeper.now();
  while (desk.writing > 0) {
    desk.open.shift()?.end();
    await vi.advanceTimersByTimeAsync(0);
  }
  await Promise.all([...all, more]);
  expect([desk.most, desk.kept.at(-1), desk.kept.length]).toEqual([1, 3, 2]);
});

it('nothing is written after it was stopped, though more was waiting to be', async () => {
  const { desk, keeper, edit } = work();
  desk.slow = true;
  edit();
  await vi.advanceTimersByTimeAsync(keptAfterMs);
  edit();
  void keeper.now();
  const stopped = keeper.stop();
  desk.open.shift()?.end();
  await stopped;
  await vi.advanceTimersByTimeAsync(60_000);
  expect([desk.kept, desk.open.length, desk.writing]).toEqual([[1], 0, 0]);
});

it('nothing is tried again after it was stopped, though the last could not be kept', async () => {
  const { desk, keeper, edit } = work();
  desk.slow = true;
  edit();
  await vi.advanceTimersByTimeAsync(keptAfterMs);
  const stopped = keeper.stop();
  desk.open.shift()?.fail();
  await stopped;
  desk.slow = false;
  await vi.advanceTimersByTimeAsync(60_000);
  expect(desk.kept).toEqual([]);
});

it('what could not be kept is said once, and kept without another edit as soon as there is room', async () => {
  const { desk, edit } = work();
  desk.isFull = true;
  edit();
  await vi.advanceTimersByTimeAsync(keptAfterMs + 3 * againAfterMs);
  expect([desk.said, desk.kept]).toEqual([['full'], []]);
  desk.isFull = false;
  await vi.advanceTimersByTimeAsync(againAfterMs);
  expect(desk.kept).toEqual([1]);
  // Once kept, it is left alone; and the next time it fails, that is said again.
  await vi.advanceTimersByTimeAsync(60_000);
  expect(desk.kept).toEqual([1]);
  desk.isFull = true;
  edit();
  await vi.advanceTimersByTimeAsync(keptAfterMs + againAfterMs);
  expect(desk.said).toEqual(['full', 'full']);
});
