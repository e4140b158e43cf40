import type { Browser, Page } from '@playwright/test';
import { expect, test } from './workbench.ts';

const title = (page: Page) => page.getByRole('textbox', { name: 'Title of the review' });

async function openSample(page: Page): Promise<void> {
  await page.goto('/');
  await page.getByRole('button', { name: 'Open the sample' }).click();
  await expect(page.getByText('94 captures in 14 files')).toBeVisible();
}

async function retitle(page: Page, text: string): Promise<void> {
  await title(page).fill(text);
  await title(page).press('Enter');
}

/** The titles of the drafts that stand in the browser's database. */
function titlesKept(page: Page): Promise<string[]> {
  return page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open('a-scan-workbench');
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const kept = await new Promise<{ text: string }[]>((resolve, reject) => {
      const request = database.transaction('drafts').objectStore('drafts').getAll();
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    database.close();
    return kept.map(({ text }) => JSON.parse(text).title as string);
  });
}

/** The processes that draw pages and run their code. */
async function pageProcesses(browser: Browser): Promise<number[]> {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  await session.detach();
  return processInfo.filter(({ type }) => type === 'renderer').map(({ id }) => id);
}

test('a page that is killed in the midst of edits is offered as it was last kept, and no kept edit is missing', async ({
  page,
  context,
  browser,
}) => {
  await openSample(page);
  const processes = await pageProcesses(browser);
  let keptLast = 0;
  for (let edit = 1; edit <= 60 && keptLast < 4; edit++) {
    await retitle(page, `Edit ${edit}`);
    keptLast = Number((await titlesKept(page))[0]?.replace('Edit ', '') ?? 0);
  }
  expect(keptLast).toBeGreaterThanOrEqual(4);
  const crashed = page.waitForEvent('crash');
  for (const id of processes) process.kill(id, 'SIGKILL');
  await crashed;

  const next = await context.newPage();
  await next.goto('/');
  await next.getByRole('button', { name: /^Recover Edit \d+/ }).click();
  await expect(next.getByText('94 captures in 14 files')).toBeVisible();
  const edit = Number((await title(next).inputValue()).replace('Edit ', ''));
  expect(edit).toBeGreaterThanOrEqual(keptLast);
});

test('where the browser has no room left that is said, the work can be saved, and it is kept as soon as there is room', async ({
  page,
  context,
  served,
}) => {
  // A browser that can only download: what is saved there needs no room in the browser.
  await page.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  await openSample(page);
  const session = await context.newCDPSession(page);
  const { origin } = new URL(served.address);
  await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 });
  await retitle(page, 'Without room');
  await expect(page.getByText(/could not keep this \(there is no room left\)\. Save the review now/)).toBeVisible();
  await expect(title(page)).toHaveValue('Without room');
  expect(await titlesKept(page)).toEqual([]);

  await session.send('Storage.overrideQuotaForOrigin', { origin });
  // Nothing more is edited.
  await expect.poll(() => titlesKept(page), { timeout: 20_000 }).toEqual(['Without room']);

  await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 });
  await retitle(page, 'Saved without room');
  const download = page.waitForEvent('download');
  await page.keyboard.press('Control+s');
  const saved = JSON.parse(await (await import('node:fs/promises')).readFile(await (await download).path(), 'utf8'));
  expect(saved.title).toBe('Saved without room');
  await expect(page.getByText(/unsaved/i)).toHaveCount(0);
});
