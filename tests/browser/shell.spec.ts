import type { Page } from '@playwright/test';
import { byMenu, expect, expectAccessible, openFirstPage, openSample, test } from './workbench.ts';

/** The captures’ list, the trace and the procedures: which of them are in sight. */
async function inSight(page: Page): Promise<string[]> {
  const parts = [
    ['captures', page.getByRole('complementary', { name: 'Captures' })],
    ['trace', page.getByRole('application', { name: /^Trace / })],
    ['procedures', page.getByRole('complementary', { name: 'Procedures' })],
  ] as const;
  const seen = await Promise.all(parts.map(async ([name, part]) => ((await part.isVisible()) ? [name] : [])));
  return seen.flat();
}

test('the first page offers the ways in, and by keyboard alone the sample opens', async ({ page }) => {
  await openFirstPage(page);
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
  await expectAccessible(page);
  await page.getByRole('button', { name: 'Open the sample' }).focus();
  await page.keyboard.press('Enter');
  await expect(page.getByLabel('Title of the review')).toHaveValue(/butt weld/);
  await expect(page).toHaveTitle(/butt weld .* – A-scan workbench$/);
});

test.describe('all commands', () => {
  test('are found by a few letters, chosen by the arrows, carried out by Enter', async ({ page }) => {
    await openSample(page);
    await page.keyboard.press('ControlOrMeta+k');
    const commands = page.getByRole('dialog', { name: 'All commands' });
    await expect(commands.getByRole('menuitem', { name: 'Save', exact: false })).not.toHaveCount(0);
    await expectAccessible(page);
    await page.keyboard.type('godrift');
    await expect(commands.getByRole('menuitem')).toHaveCount(1);
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await expect(commands).toBeHidden();
    await expect(page.getByRole('tab', { name: /^Drift/ })).toHaveAttribute('aria-selected', 'true');
  });

  test('say so where none fits, and Escape gives the focus back', async ({ page }) => {
    await openSample(page);
    const opener = page.getByRole('button', { name: 'All commands' });
    await opener.focus();
    await page.keyboard.press('Enter');
    await page.keyboard.type('xyzzy');
    await expect(page.getByText('No command has these letters in this order.')).toBeVisible();
    // Once for the words, once for the dialog.
    await page.keyboard.press('Escape');
    if (await page.getByRole('dialog').isVisible()) await page.keyboard.press('Escape');
    await expect(page.getByRole('dialog')).toBeHidden();
    await expect(opener).toBeFocused();
  });
});

test('menus and shortcuts do the same, and undo says what it takes back', async ({ page }) => {
  await openSample(page);
  const title = page.getByLabel('Title of the review');
  await title.fill('Frame 13');
  await title.press('Enter');
  await expect(page.getByText('Unsaved changes')).toBeVisible();
  await expect(page).toHaveTitle(/^Unsaved – Frame 13/);
  await page.getByRole('button', { name: 'Edit', exact: true }).click();
  await expectAccessible(page);
  await page.getByRole('menuitem', { name: 'Undo: change title' }).click();
  await expect(title).toHaveValue(/^Frame 12/);
  await page.keyboard.press('ControlOrMeta+Shift+z');
  await expect(title).toHaveValue('Frame 13');
  await page.getByRole('button', { name: 'Undo: change title' }).click();
  await expect(title).toHaveValue(/^Frame 12/);
});

test('settings show at once and are there the next time', async ({ page }) => {
  await openSample(page);
  await page.keyboard.press('ControlOrMeta+,');
  const settings = page.getByRole('dialog', { name: 'Settings' });
  await settings.getByText('in, in/µs').click();
  await settings.getByText('Comma: 30,01').click();
  await settings.getByText('Dark').click();
  await expectAccessible(page);
  await settings.getByRole('button', { name: 'Done' }).click();
  await expect(page.locator('html')).toHaveAttribute('data-scheme', 'dark');
  await expect(page.getByText(/^\d,\d{4} in\b/).first()).toBeVisible();
  await page.reload();
  await expect(page.locator('html')).toHaveAttribute('data-scheme', 'dark');
  await page.keyboard.press('ControlOrMeta+,');
  await expect(page.getByRole('radio', { name: 'in, in/µs' })).toBeChecked();
});

test('the colours follow the system until they are chosen', async ({ page }) => {
  await page.emulateMedia({ colorScheme: 'dark' });
  await openFirstPage(page);
  await expect(page.locator('html')).toHaveAttribute('data-scheme', 'dark');
  await expectAccessible(page);
  await page.emulateMedia({ colorScheme: 'light' });
  await expect(page.locator('html')).toHaveAttribute('data-scheme', 'light');
});

test('the keys are all in one place', async ({ page }) => {
  await openSample(page);
  await page.keyboard.press('F1');
  const help = page.getByRole('dialog', { name: 'Keys and shortcuts' });
  await expect(help.getByText('Ctrl+Shift+Z or Ctrl+Y')).toBeVisible();
  await expect(help.getByRole('heading', { name: 'On a gate' })).toBeVisible();
  await expectAccessible(page);
  await page.keyboard.press('Escape');
  await expect(help).toBeHidden();
});

test('the about box holds the cautions and the licences', async ({ page }) => {
  await openFirstPage(page);
  await byMenu(page, 'Help', /About/);
  const about = page.getByRole('dialog');
  await expect(about).toContainText('Readings support and never replace an evaluation by qualified personnel');
  await expect(about).toContainText('The code in force and the responsible Level III decide');
  await expect(about).toContainText('re-examination, not adjustment of the record');
  await about.getByRole('button', { name: 'Show the licences' }).click();
  await expect(about).toContainText(/^uplot \d.*: MIT$/m);
  await expectAccessible(page);
});

test.describe('work that is not saved', () => {
  const answers = [
    ['Stay here', 'Frame 13'],
    ['Go on without saving', ''],
  ] as const;
  for (const [answer, titleThen] of answers) {
    test(`is not left without a question: ${answer}`, async ({ page }) => {
      await openSample(page);
      const title = page.getByLabel('Title of the review');
      await title.fill('Frame 13');
      await title.press('Enter');
      await byMenu(page, 'File', /^New review/);
      const question = page.getByRole('alertdialog', { name: 'Save the changes to Frame 13?' });
      await expect(question.getByRole('button', { name: 'Save and go on' })).toBeFocused();
      await expectAccessible(page);
      await question.getByRole('button', { name: answer }).click();
      await expect(title).toHaveValue(titleThen);
    });
  }
});

test.describe('with room for all columns', () => {
  test.use({ viewport: { width: 1440, height: 900 } });

  test('in a text field the keys belong to the field', async ({ page }) => {
    await openSample(page);
    const title = page.getByLabel('Title of the review');
    await title.fill('Frame 13');
    await title.press('Enter');
    await page.getByRole('searchbox', { name: 'Filter captures by words' }).focus();
    await page.keyboard.press('ControlOrMeta+z');
    await expect(title).toHaveValue('Frame 13');
  });

  test('they widen by the arrow keys and by dragging, and close', async ({ page }) => {
    await openSample(page);
    const captures = page.getByRole('complementary', { name: 'Captures' });
    const width = async () => (await captures.boundingBox())!.width;
    const separator = page.getByRole('separator', { name: 'Width of the captures' });
    const before = await width();
    await separator.focus();
    await page.keyboard.press('ArrowRight');
    await expect.poll(width).toBe(before + 20);
    await expect(separator).toHaveAttribute('aria-valuenow', String(before + 20));
    const at = (await separator.boundingBox())!;
    await page.mouse.move(at.x + 4, at.y + 200);
    await page.mouse.down();
    await page.mouse.move(at.x + 54, at.y + 200, { steps: 3 });
    await page.mouse.up();
    await expect.poll(width).toBe(before + 70);
    await page.getByRole('button', { name: 'Hide the captures' }).click();
    expect(await inSight(page)).toEqual(['trace', 'procedures']);
    await page.getByRole('button', { name: 'Show the captures' }).click();
    await expect.poll(width).toBe(before + 70);
  });
});

test.describe('with little room', () => {
  test.use({ viewport: { width: 1024, height: 700 } });

  test('one column stands beside the trace at a time', async ({ page }) => {
    await openSample(page);
    expect(await inSight(page)).toEqual(['trace']);
    await page.getByRole('button', { name: 'Show the captures' }).click();
    expect(await inSight(page)).toEqual(['captures', 'trace']);
    await page.keyboard.press('Alt+3');
    expect(await inSight(page)).toEqual(['trace', 'procedures']);
    await expectAccessible(page);
  });
});

test.describe('at 200 % zoom of a small screen', () => {
  // 1440 × 900 at 200 % is half as many CSS pixels.
  test.use({ viewport: { width: 720, height: 450 } });

  test('one part stands at a time, all of it can be reached, and nothing runs over the edge', async ({ page }) => {
    await openSample(page);
    expect(await inSight(page)).toEqual(['trace']);
    for (const [part, seen] of [
      ['Procedures', ['procedures']],
      ['Captures', ['captures']],
      ['Trace', ['trace']],
    ] as const) {
      await page.getByRole('radiogroup', { name: 'Part of the page' }).getByText(part).click();
      await expect.poll(() => inSight(page)).toEqual(seen);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
      await expectAccessible(page);
    }
    await byMenu(page, 'Menu', /^Go to drift checks/);
    expect(await inSight(page)).toEqual(['procedures']);
  });
});

test('a notice stays until it was read', async ({ page, complaints }) => {
  await page.route('**/sample/review.json', (route) => route.fulfill({ status: 404 }));
  await openFirstPage(page);
  await page.getByRole('button', { name: 'Open the sample' }).click();
  const notice = page.getByRole('alert');
  await expect(notice).toContainText('npm run sample');
  await expectAccessible(page);
  await notice.getByRole('button', { name: 'I have read this' }).click();
  await expect(notice).toBeEmpty();
  // The browser itself notes a missing file on the console.
  expect(complaints.splice(0).every((text) => text.includes('404'))).toBe(true);
});

for (const [width, height] of [
  [1440, 900],
  [1024, 700],
] as const) {
  test(`fits a window of ${width} × ${height}`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await openSample(page);
    const beyond = await page.evaluate(() => [
      document.documentElement.scrollWidth - innerWidth,
      document.documentElement.scrollHeight - innerHeight,
    ]);
    expect(beyond.every((pixels) => pixels <= 0)).toBe(true);
  });
}
