import type { BrowserContext, Page } from '@playwright/test';
import { expect, test } from './workbench.ts';

/** The browser's own dialogs cannot be driven: a file in the page's private folder stands in for the one that a person would pick. */
async function withPickers(context: BrowserContext): Promise<void> {
  await context.addInitScript(() => {
    const file = async () => (await navigator.storage.getDirectory()).getFileHandle('frame-12.json', { create: true });
    Object.assign(window, { showSaveFilePicker: file, showOpenFilePicker: async () => [await file()] });
  });
}

const title = (page: Page) => page.getByRole('textbox', { name: 'Title of the review' });

async function openSample(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Open the sample' }).click();
  await expect(page.getByText('94 captures in 14 files')).toBeVisible();
}

async function retitle(page: Page, text: string): Promise<void> {
  await title(page).fill(text);
  await title(page).press('Enter');
}

test('a review that was saved is reopened as it was, with its files, in another window', async ({ page, context }) => {
  await withPickers(context);
  await page.goto('/');
  await openSample(page);
  await retitle(page, 'Frame 12, seen again');
  await page.keyboard.press('Control+s');
  await expect(page.getByText('frame-12.json').first()).toBeVisible();

  const other = await context.newPage();
  await other.goto('/');
  await other.getByRole('button', { name: /frame-12\.json/ }).click();
  await expect(other.getByText('94 captures in 14 files')).toBeVisible();
  await expect(title(other)).toHaveValue('Frame 12, seen again');
});

test('work that was not saved is offered after the page has died, and is all there', async ({ page, context }) => {
  await page.goto('/');
  await openSample(page);
  await retitle(page, 'Nearly lost');
  // The promise to the person: a second.
  await page.waitForTimeout(1000);
  await page.close({ runBeforeUnload: false });

  const next = await context.newPage();
  await next.goto('/');
  await expect(next.getByText('Work that was not saved')).toBeVisible();
  await next.getByRole('button', { name: /^Recover Nearly lost/ }).click();
  await expect(next.getByText('94 captures in 14 files')).toBeVisible();
  await expect(title(next)).toHaveValue('Nearly lost');
});

test('two windows do not write over each other’s work', async ({ page, context }) => {
  await withPickers(context);
  await page.goto('/');
  await openSample(page);
  await page.keyboard.press('Control+s');
  await expect(page.getByText('frame-12.json').first()).toBeVisible();

  const other = await context.newPage();
  await other.goto('/');
  await other.getByRole('button', { name: /frame-12\.json/ }).click();
  await expect(other.getByText('94 captures in 14 files')).toBeVisible();
  await retitle(other, 'By the other window');
  await other.keyboard.press('Control+s');
  await expect(other.getByText(/unsaved/i)).toHaveCount(0);

  await retitle(page, 'By this window');
  await page.keyboard.press('Control+s');
  await expect(page.getByRole('button', { name: 'Write over it' })).toBeVisible();
  const standing = await page.evaluate(async () => {
    const folder = await navigator.storage.getDirectory();
    return (await (await folder.getFileHandle('frame-12.json')).getFile()).text();
  });
  expect(JSON.parse(standing)).toMatchObject({ title: 'By the other window' });
});

test('a broken batch: the broken file is named at its line, the rest is there, and all of it is one thing to undo', async ({
  page,
}) => {
  await page.goto('/');
  const good = Array.from({ length: 200 }, (_, i) => ({
    name: `scan-${i}.csv`,
    mimeType: 'text/csv',
    buffer: Buffer.from(
      `# rectification: rf\ntime_us,amplitude_pct\n${Array.from({ length: 40 }, (_, s) => `${(s / 50).toFixed(2)},${s === 20 ? i % 90 : (s % 3) - 1}`).join('\n')}\n`,
    ),
  }));
  const bad = {
    name: 'bad.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from('# rectification: rf\ntime_us,amplitude_pct\n0.00,1\n0.01\n0.02,3\n'),
  };
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: /^Files/ }).click();
  await (await chooser).setFiles([...good.slice(0, 100), bad, ...good.slice(100)]);
  await expect(page.getByText('200 captures in 201 files · 1 cannot be read')).toBeVisible();
  const closed = page.getByRole('button', { name: 'Show the procedures' });
  if (await closed.isVisible()) await closed.click();
  await expect(page.getByText(/bad\.csv:4/).first()).toBeVisible();
  await page.getByRole('button', { name: 'Undo: add 200 files' }).click();
  await expect(page.getByText('200 captures')).toHaveCount(0);
});
