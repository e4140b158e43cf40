import type { Page } from '@playwright/test';
import {
  byMenu,
  chooseCapture,
  chooseFiles,
  dropFiles,
  expect,
  expectAccessible,
  given,
  openFirstPage,
  openProcedure,
  openSample,
  resting,
  root,
  settled,
  shownWindow,
  spikeFile,
  test,
  withReviewPickers,
} from './workbench.ts';

test('the sample opens at its beginning: the reference block with its calibration', async ({ page }) => {
  await openSample(page);
  await expect(page.getByRole('application', { name: /^Trace reference-block\.csv/ })).toBeVisible();
  await expect(page.getByText('100 mm', { exact: true }).first()).toBeVisible();
  await expect(page.getByRole('tab', { name: /^Calibration/ })).toHaveAttribute('aria-selected', 'true');
  // The list has come to its line, far down among the names.
  await expect(page.getByRole('option', { name: /^reference-block\.csv/ })).toBeInViewport();
});

test('a capture that does not reach into the shown window is shown whole, another keeps the window', async ({
  page,
}) => {
  await openSample(page);
  await chooseCapture(page, 'first-leg.csv#capture_17_pct');
  const plot = page.getByRole('application', { name: /^Trace / });
  await plot.focus();
  for (let i = 0; i < 3; i++) await page.keyboard.press('+');
  const near = await shownWindow(page);
  expect(near[1]).toBeLessThan(50);
  await chooseCapture(page, 'first-leg.csv#capture_18_pct');
  expect(await shownWindow(page)).toEqual(near);
  await chooseCapture(page, 'check-3');
  await expect.poll(() => shownWindow(page)).toEqual([50, 165]);
  await expect(page.getByRole('group', { name: /^Echoes/ }).getByRole('button', { name: /^Echo 1:/ })).toBeVisible();
});

test('all of a record is all of the next one too', async ({ page }) => {
  await openFirstPage(page);
  await chooseFiles(page, page.getByRole('button', { name: 'Files …' }), [
    given('long.csv', spikeFile(2000, 8)),
    given('short.csv', spikeFile(1000, 4)),
  ]);
  await settled(page, '2 captures in 2 files');
  await chooseCapture(page, 'short');
  await page.getByRole('application', { name: /^Trace / }).focus();
  await page.keyboard.press('+');
  await page.keyboard.press('0');
  await chooseCapture(page, 'long');
  await expect.poll(async () => (await shownWindow(page))[1]).toBeGreaterThan(19);
});

test('the series keeps its picture while a capture of another range is on the trace', async ({ page }) => {
  await openSample(page);
  await chooseCapture(page, 'check-3');
  await expect.poll(() => shownWindow(page)).toEqual([50, 165]);
  const stack = page.getByRole('slider', { name: 'Captures of the series, side by side' });
  await stack.focus();
  await page.keyboard.press('+');
  await resting(page);
  // Its window is its own: the trace stays where it is.
  expect(await shownWindow(page)).toEqual([50, 165]);
  await page.keyboard.press('ArrowRight');
  await expect(page.getByRole('application', { name: /^Trace capture_\d+_pct/ })).toBeVisible();
});

test.describe('how the page was left', () => {
  test('is how it stands at the next start: widths, columns, orders', async ({ page }) => {
    await openSample(page);
    const captures = page.getByRole('separator', { name: 'Width of the captures' });
    await captures.focus();
    await page.keyboard.press('ArrowRight');
    await expect(captures).toHaveAttribute('aria-valuenow', '280');
    await page.getByRole('complementary', { name: 'Captures' }).getByText('Position', { exact: true }).click();
    const readings = await openProcedure(page, 'Readings');
    await readings
      .getByRole('columnheader', { name: /^Amplitude/ })
      .getByRole('button')
      .click();
    await byMenu(page, 'View', /^Series: show or hide/);
    await page.reload();
    await page.getByRole('button', { name: 'Open the sample' }).click();
    await settled(page, '94 captures in 14 files');
    await expect(captures).toHaveAttribute('aria-valuenow', '280');
    await expect(page.getByRole('radio', { name: 'Position' }).first()).toBeChecked();
    await expect(page.getByRole('region', { name: 'Series' })).toHaveCount(0);
    await openProcedure(page, 'Readings');
    await expect(readings.getByRole('columnheader', { name: /^Amplitude/ })).toHaveAttribute('aria-sort', 'ascending');
    await page.getByRole('button', { name: 'Hide the procedures' }).click();
    await page.reload();
    await page.getByRole('button', { name: 'Open the sample' }).click();
    await settled(page, '94 captures in 14 files');
    await expect(page.getByRole('button', { name: 'Show the procedures' })).toBeVisible();
  });

  test('what was kept and is damaged does not matter', async ({ page }) => {
    await page.addInitScript(() =>
      localStorage.setItem('layout', '{"panels":{"widths":{"captures":-7}},"captureOrder":3'),
    );
    await openSample(page);
    await expect(page.getByRole('separator', { name: 'Width of the captures' })).toHaveAttribute(
      'aria-valuenow',
      '260',
    );
  });
});

for (const [width, height] of [
  [1440, 900],
  [1024, 700],
] as const) {
  test(`the procedures’ tabs stand in one line at ${width} × ${height}, however narrow their column`, async ({
    page,
  }) => {
    await page.setViewportSize({ width, height });
    await openSample(page);
    await dropFiles(page, ['broken/empty.csv', 'broken/no-units.csv', 'broken/gap-in-time.csv']);
    await settled(page, /3 files? (ask|can)|cannot be read/);
    await openProcedure(page, 'Import');
    await page.getByRole('separator', { name: 'Width of the procedures' }).focus();
    await page.keyboard.press('Home');
    const tabs = page.getByRole('tablist', { name: 'Procedures' });
    await expect(tabs.getByRole('tab', { name: /^Import 3/ })).toBeVisible();
    await expect
      .poll(() => tabs.evaluate((list) => [list.scrollWidth - list.clientWidth, list.clientHeight < 50]))
      .toEqual([0, true]);
    for (const list of [tabs, page.getByRole('tablist', { name: 'Groups' })]) {
      const tops = await list.getByRole('tab').evaluateAll((all) => all.map((tab) => tab.getBoundingClientRect().top));
      expect(new Set(tops).size).toBe(1);
      expect(await list.evaluate((one) => one.scrollWidth - one.clientWidth)).toBe(0);
    }
  });
}

test.describe('a saved review that is dropped over unsaved work', () => {
  const title = (page: Page) => page.getByLabel('Title of the review');

  async function withUnsavedWork(page: Page): Promise<void> {
    await withReviewPickers(page, 'kept.json');
    await openFirstPage(page);
    await chooseFiles(page, page.getByRole('button', { name: 'Files …' }), [given('a.csv', spikeFile(500, 2))]);
    await settled(page, '1 capture in 1 file');
    await title(page).fill('Of this morning');
    await title(page).press('Enter');
    await dropFiles(page, ['review.json']);
  }

  test('asks first, and leaves everything where it is told to', async ({ page }) => {
    await withUnsavedWork(page);
    const question = page.getByRole('alertdialog', { name: 'Save the changes to Of this morning?' });
    await expect(question).toContainText('review.json is a saved review');
    await expectAccessible(page);
    await question.getByRole('button', { name: 'Stay here' }).click();
    await expect(title(page)).toHaveValue('Of this morning');
    await expect(page.getByText('Unsaved changes')).toBeVisible();
  });

  for (const answer of ['Save and go on', 'Go on without saving'] as const) {
    test(`opens it then: ${answer}`, async ({ page }) => {
      await withUnsavedWork(page);
      await page.getByRole('alertdialog').getByRole('button', { name: answer }).click();
      await expect(title(page)).toHaveValue(/^Frame 12/);
      await page.reload();
      await expect(page.getByRole('button', { name: /^kept\.json/ })).toHaveCount(answer === 'Save and go on' ? 1 : 0);
    });
  }
});

test('a conditioning that captures do not allow is said where they are missed, once for all of them', async ({
  page,
}) => {
  await openSample(page);
  await page.getByRole('button', { name: 'Conditioning', exact: true }).click();
  const conditioning = page.getByRole('region', { name: 'Conditioning' });
  await conditioning.getByText('On', { exact: true }).click();
  await conditioning.getByRole('button', { name: 'Close the conditioning' }).click();
  await chooseCapture(page, 'first-leg.csv#capture_17_pct');
  await resting(page);
  const series = page.getByRole('region', { name: 'Series', exact: true });
  await expect(series.getByText(/A band-pass needs the carrier.*and 40 more/)).toHaveCount(1);
  const readings = await openProcedure(page, 'Readings');
  await expect(readings.getByText('Nothing could be read.')).toBeVisible();
  await expect(readings.getByText(/A band-pass needs the carrier.*and 40 more/)).toHaveCount(1);
  await page.getByRole('button', { name: 'Change the conditioning' }).click();
  await conditioning.getByText('Off', { exact: true }).click();
  await expect(readings.getByText(/^41 readings/).first()).toBeVisible();
});

test('what a file does not say is asked at a field that is there', async ({ page }) => {
  await openFirstPage(page);
  await chooseFiles(page, page.getByRole('button', { name: 'Files …' }), [`${root}sample-data/broken/no-units.csv`]);
  await settled(page, /asks something/);
  const panel = await openProcedure(page, 'Import');
  for (const [sentence, field] of [
    [/State it at ‘Unit of time’/, panel.getByRole('radiogroup', { name: 'Unit of time' })],
    [/State it at ‘Unit of amplitude’/, panel.getByRole('button', { name: /Unit of amplitude/ })],
  ] as const) {
    await expect(panel.getByText(sentence)).toBeVisible();
    await expect(field).toBeVisible();
  }
  await expect(panel.getByText(/--[a-z]/)).toHaveCount(0);
});

test('the overview’s window goes by keys, and these are in the list', async ({ page }) => {
  await openSample(page);
  await page.getByRole('application', { name: /^Trace / }).focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press('+');
  const window = page.getByRole('slider', { name: 'Visible window', exact: true });
  await window.focus();
  await page.keyboard.press('Home');
  await expect.poll(async () => (await shownWindow(page))[0]).toBe(0);
  await page.keyboard.press('ArrowRight');
  await expect.poll(async () => (await shownWindow(page))[0]).toBeGreaterThan(0);
  await page.keyboard.press('End');
  await expect.poll(async () => (await shownWindow(page))[1]).toBeCloseTo(239.99, 1);
  const before = await shownWindow(page);
  await page.keyboard.press('+');
  await expect.poll(async () => (await shownWindow(page))[0]).toBeGreaterThan(before[0]);
  await page.keyboard.press('F1');
  const keys = page.getByRole('dialog', { name: 'Keys and shortcuts' });
  await expect(keys.getByRole('heading', { name: 'On the overview’s window' })).toBeVisible();
});

test('a figure in the readings’ table is never cut off within its cell, and fades where the table goes on', async ({
  page,
}) => {
  await openSample(page);
  for (const units of ['in, in/µs', 'mm, m/s']) {
    await page.keyboard.press('ControlOrMeta+,');
    await page.getByRole('dialog', { name: 'Settings' }).getByText(units).click();
    await page.getByRole('button', { name: 'Done', exact: true }).click();
    const panel = await openProcedure(page, 'Readings');
    await panel.getByRole('button', { name: 'Show the table large' }).click();
    const grid = page.getByRole('dialog', { name: 'Readings' }).getByRole('grid', { name: 'Readings' });
    await expect(grid.getByRole('row', { name: /^capture_11_pct/ })).toBeVisible();
    const cutOff = await grid
      .getByRole('gridcell')
      .evaluateAll((cells) =>
        cells.filter((cell) => cell.scrollWidth > cell.clientWidth + 1).map((cell) => cell.textContent),
      );
    expect(cutOff).toEqual([]);
    await page.getByRole('button', { name: 'Close' }).first().click();
    const narrow = panel.getByRole('grid', { name: 'Readings' });
    const mask = () => narrow.evaluate((table) => getComputedStyle(table).maskImage);
    await expect.poll(mask).toContain('gradient');
    await narrow.evaluate((table) => table.scrollTo(table.scrollWidth, 0));
    await expect.poll(mask).toBe('none');
    await narrow.evaluate((table) => table.scrollTo(0, 0));
  }
});

test('a gate is given another place by its two ends, from the first to the second', async ({ page }) => {
  await openSample(page);
  const gate = page.getByRole('slider', { name: 'Gate root', exact: true });
  await gate.focus();
  await page.keyboard.press('Enter');
  const numbers = page.getByRole('region', { name: 'Numbers of gate root' });
  for (const [end, value] of [
    ['From (mm)', '95'],
    ['To (mm)', '105'],
  ] as const) {
    await numbers.getByLabel(end).fill(value);
    await page.keyboard.press('Enter');
  }
  await expect(numbers.getByLabel('From (mm)')).toHaveValue('95');
  await expect(numbers.getByLabel('To (mm)')).toHaveValue('105');
  await expect(gate).toHaveAttribute('aria-valuetext', /^95.*105 mm|100\.0/);
});
