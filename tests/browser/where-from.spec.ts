import { readFileSync } from 'node:fs';
import type { Locator, Page } from '@playwright/test';
import { expect, expectAccessible, openProcedure, openSample, test } from './workbench.ts';

async function openReadings(page: Page): Promise<Locator> {
  await openSample(page);
  if (!(await page.getByRole('tab', { name: /^Readings/ }).isVisible()))
    await page.getByRole('button', { name: 'Procedures' }).click();
  return (await openProcedure(page, 'Readings')).getByRole('grid', { name: 'Readings' });
}

/** Brings a capture's row into sight, asks one of its figures, and gives the panel. */
async function ask(page: Page, figure: RegExp): Promise<Locator> {
  const panel = await openProcedure(page, 'Readings');
  await panel.getByRole('textbox', { name: 'Filter readings' }).fill('capture_14_pct');
  await panel.getByRole('button', { name: figure }).first().click();
  return page.getByRole('dialog', { name: 'Where from?' });
}

test('from a depth back to the samples of the calibration’s echo, and the way home', async ({ page }) => {
  await openReadings(page);
  const from = await ask(page, /^Depth, mm .*Where from/);
  await expect(from).toContainText('Depth at gate ‘root’');
  await expectAccessible(page);
  // A number in the formula leads on, as its line below does.
  await from
    .getByRole('region', { name: 'Formula' })
    .getByRole('button', { name: /^sound path/ })
    .click();
  await expect(from).toContainText('Sound path at gate ‘root’');
  await from
    .getByRole('region', { name: 'Made from' })
    .getByRole('button', { name: /^velocity/ })
    .click();
  await from.getByRole('button', { name: /^echo of the reflector at 225 mm/ }).click();
  await expect(from).toContainText('Time of the echo at 225 mm');
  await expect(from.getByRole('list', { name: 'The way here' }).getByRole('listitem')).toHaveCount(3);
  await from.getByRole('button', { name: 'Show on the trace' }).click();
  await expect(page.getByText(/^Samples \d+ to \d+/).first()).toBeVisible();

  await page.keyboard.press('Backspace');
  await expect(from).toContainText('3241.0 m/s');
  await from.getByRole('button', { name: /^Back to Depth/ }).click();
  await expect(from.getByRole('list', { name: 'The way here' })).toBeHidden();
  await page.keyboard.press('Escape');
  await expect(from).toBeHidden();
  await expect(page.getByRole('button', { name: /^Depth, mm .*Where from/ }).first()).toBeFocused();
});

test('figures are asked and rows are put in order by the keyboard alone', async ({ page }) => {
  const grid = await openReadings(page);
  await grid
    .getByRole('columnheader', { name: /^Capture/ })
    .getByRole('button')
    .focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Enter');
  await expect(grid.getByRole('columnheader', { name: /^Sound path/ })).toHaveAttribute('aria-sort', 'descending');
  await page.keyboard.press('ArrowDown');
  await expect(page.locator(':focus')).toHaveAccessibleName(/^Sound path, mm 30\.0/);
  await page.keyboard.press('Enter');
  const from = page.getByRole('dialog', { name: 'Where from?' });
  await expect(from.getByRole('heading', { name: 'Where from?' })).toBeFocused();
  // A button that shows its hint does not keep Escape to itself.
  await page.keyboard.press('Tab');
  await page.keyboard.press('Escape');
  await expect(from).toBeHidden();
  await expect(page.locator(':focus')).toHaveAccessibleName(/^Sound path, mm 30\.0/);
});

test('a table is saved as it stands: filtered, in order, figures with their uncertainty', async ({ page }) => {
  await openReadings(page);
  const panel = await openProcedure(page, 'Readings');
  await panel.getByRole('textbox', { name: 'Filter readings' }).fill('off peak');
  await expect(panel.getByText('2 of 41 readings')).toBeVisible();
  // The browser's own dialog for saving cannot be driven; without it the host downloads.
  await page.evaluate(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  const download = page.waitForEvent('download');
  await panel.getByRole('button', { name: 'Save as CSV' }).click();
  const text = readFileSync(await (await download).path(), 'utf8');
  const [head, ...rows] = text.trim().split('\r\n');
  expect(head).toMatch(/^Capture,Position \(mm\),Gate,Sound path \(mm\),u of Sound path \(mm\),Amplitude \(% FSH\)/);
  expect(rows.map((row) => row.split(',').slice(1, 6))).toEqual([
    ['45.00', 'root', '29.994', '0.043', '56.1'],
    ['85.00', 'root', '29.995', '0.043', '48.6'],
  ]);
});
