import { AxeBuilder } from '@axe-core/playwright';
import { expect, openTrace, paintedColumns, replaceSample, shownWindow, spikeFile, test } from './workbench.ts';

test('shows the sample capture’s trace and how it was taken', async ({ page }) => {
  await openTrace(page);
  await expect(page.getByText('reference-block.csv')).toBeVisible();
  await expect(page.getByText('42 dB')).toBeVisible();
  const [from, to] = await shownWindow(page);
  expect(from).toBe(0);
  expect(to).toBeGreaterThan(200);
});

test('a spike of one sample in 200,000 stands at its full height', async ({ page }) => {
  await replaceSample(page, spikeFile(200_000, 1234.5));
  await openTrace(page);
  const { heights, canvasHeight } = await paintedColumns(page);
  const tall = heights.flatMap((height, x) => (height > 0.25 * canvasHeight ? [x] : []));
  // One column, or two where its flank reaches into the next.
  expect(tall.length).toBeGreaterThanOrEqual(1);
  expect(tall.length).toBeLessThanOrEqual(2);
  const painted = heights.flatMap((height, x) => (height > 0 ? [x] : []));
  const share = (tall[0]! - painted[0]!) / (painted.at(-1)! - painted[0]!);
  expect(share).toBeCloseTo(1234.5 / 2000, 2);
});

test.describe('on a dense screen', () => {
  test.use({ deviceScaleFactor: 2 });

  test('a spike of one sample stands at its full height, too', async ({ page }) => {
    await replaceSample(page, spikeFile(200_000, 1234.5));
    await openTrace(page);
    const { heights, canvasHeight } = await paintedColumns(page);
    const tall = heights.filter((height) => height > 0.25 * canvasHeight);
    expect(heights.length).toBeGreaterThan(1500);
    expect(tall.length).toBeGreaterThanOrEqual(1);
    expect(tall.length).toBeLessThanOrEqual(2);
  });
});

test('the keyboard zooms, moves and shows all again', async ({ page }) => {
  await openTrace(page);
  const whole = await shownWindow(page);
  await page.getByRole('application').focus();
  await page.keyboard.press('+');
  const zoomed = await shownWindow(page);
  expect((zoomed[1] - zoomed[0]) / (whole[1] - whole[0])).toBeCloseTo(1 / 1.5, 2);
  await page.keyboard.press('ArrowRight');
  const later = await shownWindow(page);
  expect(later[0]).toBeGreaterThan(zoomed[0]);
  await page.keyboard.press('ArrowLeft');
  expect(await shownWindow(page)).toEqual(zoomed);
  await page.keyboard.press('-');
  expect(await shownWindow(page)).toEqual(whole);
  await page.keyboard.press('+');
  await page.keyboard.press('+');
  await page.keyboard.press('0');
  expect(await shownWindow(page)).toEqual(whole);
});

test('the wheel zooms about the pointer, dragging moves, a double-click shows all', async ({ page }) => {
  await openTrace(page);
  const whole = await shownWindow(page);
  const plot = (await page.locator('.u-over').boundingBox())!;
  const at = { x: plot.x + 0.25 * plot.width, y: plot.y + 0.5 * plot.height };
  const under = (window: readonly [number, number]) => window[0] + 0.25 * (window[1] - window[0]);
  await page.mouse.move(at.x, at.y);
  await page.mouse.wheel(0, -400);
  await expect.poll(async () => (await shownWindow(page))[1]).toBeLessThan(whole[1]);
  const zoomed = await shownWindow(page);
  expect(under(zoomed)).toBeCloseTo(under(whole), 0);

  await page.mouse.down();
  await page.mouse.move(at.x - 0.1 * plot.width, at.y, { steps: 4 });
  await page.mouse.up();
  const dragged = await shownWindow(page);
  expect((dragged[0] - zoomed[0]) / (zoomed[1] - zoomed[0])).toBeCloseTo(0.1, 1);

  await page.mouse.dblclick(at.x, at.y);
  expect(await shownWindow(page)).toEqual(whole);
});

test('the pointer reads time and amplitude', async ({ page }) => {
  await replaceSample(page, spikeFile(1000, 5));
  await openTrace(page);
  const plot = (await page.locator('.u-over').boundingBox())!;
  await page.mouse.move(plot.x + (5 / 9.99) * plot.width, plot.y + 0.5 * plot.height);
  await expect(page.getByText('Pointer:')).toContainText('90.0 %');
  await expect(page.getByText('Pointer:')).toContainText(/\b(5\.0|4\.99)\d* µs/);
});

test('close in, the samples themselves are drawn', async ({ page }) => {
  await openTrace(page);
  await page.getByRole('application').focus();
  for (let i = 0; i < 25; i++) await page.keyboard.press('+');
  const [from, to] = await shownWindow(page);
  expect(to - from).toBeCloseTo(0.08, 2);
  await expect
    .poll(async () => (await paintedColumns(page)).heights.filter((height) => height > 0).length)
    .toBeGreaterThan(500);
});

test('a broken file is refused at its line, and nothing of it is shown', async ({ page }) => {
  await replaceSample(page, '# rectification: rf\ntime_us,amplitude_pct\n0.00,1\n0.01\n0.02,3\n0.03,4\n');
  await page.goto('/');
  await expect(page.getByRole('alert')).toContainText('reference-block.csv:4');
  await expect(page.getByRole('application')).toHaveCount(0);
});

test('a file without units asks for them', async ({ page }) => {
  await replaceSample(page, 't,a\n0.00,1\n0.01,2\n0.02,3\n0.03,-4\n');
  await page.goto('/');
  await expect(page.getByRole('alert')).toContainText('Say this before the file can be shown');
});

test('a sample capture that is not there is said so, with what to do', async ({ page, complaints }) => {
  await replaceSample(page, null);
  await page.goto('/');
  await expect(page.getByRole('alert')).toContainText('npm run sample');
  // The browser itself notes a missing file on the console.
  expect(complaints.splice(0).every((text) => text.includes('404'))).toBe(true);
});

test('while a file is being read the page says so', async ({ page }) => {
  await page.route('**/sample/reference-block.csv', () => {});
  await page.goto('/');
  await expect(page.getByText('Reading reference-block.csv')).toBeVisible();
});

test('the about box holds the cautions and closes with Escape', async ({ page }) => {
  await openTrace(page);
  await page.getByRole('button', { name: 'About and cautions' }).press('Enter');
  const box = page.getByRole('dialog');
  await expect(box).toContainText('Readings support and never replace an evaluation by qualified personnel');
  await expect(box).toContainText('The code in force and the responsible Level III decide');
  await expect(box).toContainText('re-examination, not adjustment of the record');
  await page.keyboard.press('Escape');
  await expect(box).toBeHidden();
  await expect(page.getByRole('button', { name: 'About and cautions' })).toBeFocused();
});

test('is isolated from every other site', async ({ page }) => {
  await openTrace(page);
  expect(await page.evaluate(() => crossOriginIsolated)).toBe(true);
  expect(await page.evaluate(() => 'workbench' in window)).toBe(false);
});

test('fits the window', async ({ page }) => {
  await openTrace(page);
  const beyond = await page.evaluate(() => [
    document.documentElement.scrollWidth - innerWidth,
    document.documentElement.scrollHeight - innerHeight,
  ]);
  expect(beyond.every((pixels) => pixels <= 0)).toBe(true);
});

for (const colorScheme of ['light', 'dark'] as const) {
  test(`axe has nothing to say, ${colorScheme}`, async ({ page }) => {
    await page.emulateMedia({ colorScheme });
    await openTrace(page);
    expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
    await page.getByRole('button', { name: 'About and cautions' }).click();
    expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  });

  test(`axe has nothing to say of problems, ${colorScheme}`, async ({ page }) => {
    await page.emulateMedia({ colorScheme });
    await replaceSample(page, '');
    await page.goto('/');
    await expect(page.getByRole('alert')).toBeVisible();
    expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  });
}
