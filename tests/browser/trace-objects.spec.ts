import type { Page } from '@playwright/test';
import {
  expect,
  expectAccessible,
  openSample,
  openTrace,
  paintedColumns,
  shownWindow,
  spikeFile,
  test,
} from './workbench.ts';

const plot = (page: Page) => page.getByRole('application', { name: /^Trace / });
const gate = (page: Page, name: string) => page.getByRole('slider', { name: `Gate ${name}`, exact: true });
const inside = async (page: Page) => (await page.locator('.u-over').boundingBox())!;

/** Shows another capture, by the end of its name, and gives the trace its room back; with `over`, lays the next one over it. */
async function show(page: Page, capture: string, over = false): Promise<void> {
  const opener = page.getByRole('button', { name: 'Show the captures' });
  const isFolded = await opener.isVisible();
  if (isFolded) await opener.click();
  const filter = page.getByRole('region', { name: 'Captures' }).getByPlaceholder('Filter');
  await filter.fill(capture);
  await page.getByRole('option', { name: new RegExp(capture) }).click();
  await filter.fill('');
  if (over) {
    await expect(page.getByRole('option').nth(2)).toBeVisible();
    await page.getByRole('listbox', { name: /^Captures/ }).focus();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Space');
  }
  if (isFolded) await page.getByRole('button', { name: 'Hide the captures' }).click();
}

async function openAtPeak(page: Page): Promise<void> {
  await openSample(page);
  await show(page, 'first-leg.csv#capture_11_pct');
  await expect(gate(page, 'root')).toHaveAttribute('aria-valuetext', /30\.00 mm, 65\.8 %, 0\.1 dB below peak/);
}

test('a spike of one sample stands at its full height at every zoom at which samples share a column', async ({
  page,
}) => {
  await openTrace(page, spikeFile(200_000, 1234.5));
  const { x, y, width } = await inside(page);
  for (let window = await shownWindow(page); window[1] - window[0] > 20; window = await shownWindow(page)) {
    const [from, to] = window;
    await expect
      .poll(async () => {
        const { heights, canvasHeight } = await paintedColumns(page);
        return Math.max(...heights) / canvasHeight;
      })
      // 90 of the 208 % from top to bottom.
      .toBeGreaterThan(0.42);
    await page.mouse.move(x + (width * (1234.5 - from)) / (to - from), y + 30);
    await page.mouse.wheel(0, -400);
    await expect.poll(async () => (await shownWindow(page))[1]).toBeLessThan(to);
  }
});

test('Home and End go to the record’s ends, Shift-drag zooms into what is drawn', async ({ page }) => {
  await openTrace(page);
  const whole = await shownWindow(page);
  await plot(page).press('+');
  await page.keyboard.press('Home');
  expect((await shownWindow(page))[0]).toBe(whole[0]);
  await page.keyboard.press('End');
  expect((await shownWindow(page))[1]).toBe(whole[1]);
  await page.keyboard.press('0');
  const { x, y, width, height } = await inside(page);
  await page.keyboard.down('Shift');
  await page.mouse.move(x + 0.4 * width, y + 0.1 * height);
  await page.mouse.down();
  await page.mouse.move(x + 0.5 * width, y + 0.1 * height, { steps: 4 });
  await page.mouse.up();
  await page.keyboard.up('Shift');
  const drawn = await shownWindow(page);
  expect((drawn[1] - drawn[0]) / (whole[1] - whole[0])).toBeCloseTo(0.1, 2);
  expect((drawn[0] - whole[0]) / (whole[1] - whole[0])).toBeCloseTo(0.4, 2);
});

test('the strip below shows the window, moves it and resizes it, by pointer and by keyboard', async ({ page }) => {
  await openTrace(page);
  await plot(page).focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press('+');
  const before = await shownWindow(page);
  const window = page.getByRole('slider', { name: 'Visible window', exact: true });
  const { x, y, width } = (await window.boundingBox())!;
  await page.mouse.move(x + width / 2, y + 10);
  await page.mouse.down();
  await page.mouse.move(x + width / 2 - 40, y + 10, { steps: 3 });
  await page.mouse.up();
  const moved = await shownWindow(page);
  expect(moved[0]).toBeLessThan(before[0]);
  expect(moved[1] - moved[0]).toBeCloseTo(before[1] - before[0], 1);
  await window.press('ArrowRight');
  const [from, to] = await shownWindow(page);
  expect(from).toBeGreaterThan(moved[0]);
  await page.getByRole('slider', { name: 'End of the visible window' }).press('PageUp');
  const stretched = await shownWindow(page);
  expect(stretched[0]).toBeCloseTo(from, 1);
  expect(stretched[1]).toBeGreaterThan(to);
});

test('two cursors say what lies between them', async ({ page }) => {
  await openSample(page);
  await plot(page).press('c');
  const between = page.getByText('Cursor 1 to 2:');
  await expect(between).toContainText(/µs · \d+\.\d+ mm · -?\d+\.\d dB/);
  const words = await between.textContent();
  await page.getByRole('slider', { name: 'Cursor 2' }).press('Shift+ArrowRight');
  await expect(between).not.toHaveText(words!);
  await plot(page).press('c');
  await expect(between).toBeHidden();
});

test('a gate is drawn, named, given exact numbers, moved by keys and removed, and each step can be undone', async ({
  page,
}) => {
  await openAtPeak(page);
  const { x, y, width, height } = await inside(page);
  await plot(page).press('g');
  await page.mouse.move(x + 0.6 * width, y + 0.2 * height);
  await page.mouse.down();
  await page.mouse.move(x + 0.8 * width, y + 0.5 * height, { steps: 4 });
  await page.mouse.up();
  await expect(page.getByRole('textbox', { name: 'Gate', exact: true })).toBeFocused();
  await page.keyboard.type('far side');
  await page.keyboard.press('Enter');
  const far = gate(page, 'far side');
  await expect(far).toHaveAttribute('aria-valuetext', /threshold 5\d %; no echo/);

  const threshold = page.getByRole('textbox', { name: 'Threshold (% FSH)' });
  await threshold.fill('30');
  await threshold.press('Enter');
  const from = page.getByRole('textbox', { name: 'From (mm)' });
  await from.fill('2in');
  await from.press('Enter');
  await expect(far).toHaveAttribute('aria-valuetext', /^50\.80 mm to .* threshold 30 %/);
  await from.fill('near');
  await from.press('Enter');
  await expect(page.getByText('"near" is not a length')).toBeVisible();
  await from.press('Escape');

  await far.press('ArrowUp');
  await expect(far).toHaveAttribute('aria-valuetext', /threshold 31 %/);
  const before = (await far.getAttribute('aria-valuetext'))!;
  await far.press('Shift+ArrowRight');
  await expect(far).not.toHaveAttribute('aria-valuetext', before);
  await page.keyboard.press('Control+z');
  await expect(far).toHaveAttribute('aria-valuetext', before);
  await far.press('Delete');
  await expect(far).toBeHidden();
  await page.keyboard.press('Control+z');
  await expect(far).toHaveAttribute('aria-valuetext', before);
});

test('a gate takes its reading along, and one undo takes the whole drag back', async ({ page }) => {
  await openAtPeak(page);
  const root = gate(page, 'root');
  const before = (await root.getAttribute('aria-valuetext'))!;
  const bar = (await root.boundingBox())!;
  await page.mouse.move(bar.x + 0.3 * bar.width, bar.y + bar.height / 2);
  await page.mouse.down();
  await page.mouse.move(bar.x + 2.3 * bar.width, bar.y + bar.height / 2, { steps: 8 });
  await expect(root).toHaveAttribute('aria-valuetext', /no echo/);
  await page.mouse.up();
  await page.keyboard.press('Control+z');
  await expect(root).toHaveAttribute('aria-valuetext', before);
});

test('a gate is placed without a pointer, and one beyond the edge is brought into view', async ({ page }) => {
  await openSample(page);
  await plot(page).press('g');
  await page.keyboard.press('Enter');
  await expect(gate(page, 'new gate')).toBeVisible();
  await plot(page).focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press('+');
  await page.keyboard.press('End');
  await page.getByRole('button', { name: /^Gate root, beyond the left edge/ }).press('Enter');
  await expect(gate(page, 'root')).toBeFocused();
});

test('a figure at a gate says where it comes from, and its samples are shown on the trace', async ({ page }) => {
  await openAtPeak(page);
  await gate(page, 'root').focus();
  const numbers = page.getByRole('region', { name: 'Numbers of gate root' });
  await numbers.getByRole('button', { name: /^Sound path 29\.998 .* Where from\?$/ }).click();
  const from = page.getByRole('dialog', { name: /Where from/ });
  await expect(from).toContainText('29.998');
  await from.getByRole('button', { name: 'Show on the trace' }).click();
  await expect(page.getByText(/^Samples \d+ to \d+/)).toBeVisible();
});

test('an echo that is chosen becomes a reflector of the calibration', async ({ page }) => {
  await openTrace(page);
  const choose = async (number: number, distance: string) => {
    await page.getByRole('button', { name: new RegExp(`^Echo ${number}:`) }).press('Enter');
    const dialog = page.getByRole('dialog', { name: `Echo ${number} as a reflector` });
    await dialog.getByRole('button', { name: 'Add to the calibration' }).click();
    await expect(dialog).toContainText('Give the distance');
    await dialog.getByRole('textbox', { name: /sound path/ }).fill(distance);
    await page.keyboard.press('Enter');
    await expect(dialog).toBeHidden();
  };
  await choose(2, '100mm');
  await choose(4, '225');
  // The axis of sound path is there as soon as the calibration is.
  await expect(page.getByRole('application', { name: /time and sound path/ })).toBeVisible();
  const reflectors = page.getByRole('list', { name: 'Reflectors of the calibration' });
  await expect(reflectors.getByRole('img', { name: /^Reflector at 100/ })).toBeVisible();
  await expect(reflectors.getByRole('img', { name: /^Reflector at 225/ })).toBeVisible();
});

test('the conditioning is changed with the trace in sight, and a band that cannot be is refused at its field', async ({
  page,
}) => {
  await openTrace(page);
  const { heights: before } = await paintedColumns(page);
  await page.getByRole('button', { name: 'Conditioning' }).click();
  await page.getByRole('radiogroup', { name: 'Band-pass' }).getByText('On').click();
  await expect(page.getByRole('button', { name: 'Conditioning: 1 to 10 MHz' })).toBeVisible();
  await expect.poll(async () => (await paintedColumns(page)).heights).not.toEqual(before);
  const to = page.getByRole('textbox', { name: 'To (MHz)' });
  await to.fill('80');
  await to.press('Enter');
  await expect(page.getByText('half its sampling rate')).toBeVisible();
  await to.press('Escape');
  await expect(to).toHaveValue('10');
});

test('captures laid over one another are named in a legend, by pattern too', async ({ page }) => {
  await openSample(page);
  await show(page, 'first-leg.csv#capture_11_pct', true);
  const legend = page.getByRole('list', { name: 'Lines on the plot' });
  await expect(legend).toContainText('capture_12_pct');
  await expect(legend.getByRole('img', { name: 'dashed line' })).toBeVisible();
});

for (const colorScheme of ['light', 'dark'] as const) {
  test(`axe has nothing to say of the trace with all that stands on it, ${colorScheme}`, async ({ page }) => {
    await page.emulateMedia({ colorScheme });
    await openAtPeak(page);
    await plot(page).press('c');
    await page.getByRole('button', { name: 'Envelope' }).click();
    await gate(page, 'root').focus();
    await expectAccessible(page);
    await openTrace(page);
    await page.getByRole('button', { name: 'Conditioning' }).click();
    await page.getByRole('radiogroup', { name: 'Band-pass' }).getByText('On').click();
    await expectAccessible(page);
  });
}
