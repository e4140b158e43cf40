import { counterOf, keepCount } from '../endure/window/counts.mjs';
import { round, scanFiles } from '../endure/window/day.mjs';
import { expect, openFirstPage, root, test } from './workbench.ts';

test('a review that was worked in and closed leaves nothing behind in the window', async ({ page }) => {
  test.setTimeout(180_000);
  await page.addInitScript(keepCount);
  await openFirstPage(page);
  const count = await counterOf(page);
  const scan = scanFiles(`${root}build/endure`);
  // What is loaded when it is first wanted is there after the first round of its kind.
  await round(page, 0, { moves: 3, scan });
  const before = await count();
  await round(page, 4, { moves: 3, scan });
  const { workers, urls, listeners, documents, nodes, observers, kept } = await count();
  expect({ workers, urls, listeners, documents, observers, kept }).toEqual({
    workers: before.workers,
    urls: before.urls,
    listeners: before.listeners,
    documents: before.documents,
    observers: before.observers,
    kept: before.kept,
  });
  // One page that is torn down would be some thousand.
  expect(nodes).toBeLessThanOrEqual(before.nodes + 20);
  expect(workers, 'the core’s worker, and no other').toBe(1);
});
