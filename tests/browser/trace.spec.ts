import {
  chooseFiles,
  expect,
  expectAccessible,
  given,
  openFirstPage,
  openTrace,
  paintedColumns,
  shownWindow,
  spikeFile,
  test,
} from './workbench.ts';

test('shows a capture’s trace and how it was taken', async ({ page }) => {
  await openTrace(page);
  await expect(page.getByRole('main').getByRole('heading', { name: 'reference-block.csv' })).toBeVisible();
  await expect(page.getByRole('definition').filter({ hasText: '42.0 dB' })).toBeVisible();
  const [from, to] = await shownWindow(page);
  expect(from).toBe(0);
  expect(to).toBeGreaterThan(200);
});

test('a spike of one sample in 200,000 stands at its full height', async ({ page }) => {
  await openTrace(page, spikeFile(200_000, 1234.5));
  const tallColumns = async () => {
    const { heights, canvasHeight } = await paintedColumns(page);
    return heights.flatMap((height, x) => (height > 0.25 * canvasHeight ? [x] : []));
  };
  // One column, or two where its flank reaches into the next.
  await expect.poll(async () => [1, 2].includes((await tallColumns()).length)).toBe(true);
  const tall = await tallColumns();
  const { heights } = await paintedColumns(page);
  const painted = heights.flatMap((height, x) => (height > 0 ? [x] : []));
  const share = (tall[0]! - painted[0]!) / (painted.at(-1)! - painted[0]!);
  expect(share).toBeCloseTo(1234.5 / 2000, 2);
});

test.describe('on a dense screen', () => {
  test.use({ deviceScaleFactor: 2 });

  test('a spike of one sample stands at its full height, too', async ({ page }) => {
    await openTrace(page, spikeFile(200_000, 1234.5));
    const { width } = (await page.locator('.u-over').boundingBox())!;
    await expect.poll(async () => (await paintedColumns(page)).heights.length).toBeCloseTo(2 * width, -1);
    // Painted anew for the screen's own columns a moment after it first appears.
    await expect
      .poll(async () => {
        const { heights, canvasHeight } = await paintedColumns(page);
        return heights.filter((height) => height > 0.25 * canvasHeight).length;
      })
      .toBe(1);
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
  await openTrace(page, spikeFile(1000, 5));
  const plot = (await page.locator('.u-over').boundingBox())!;
  await page.mouse.move(plot.x + (5 / 9.99) * plot.width, plot.y + 0.5 * plot.height);
  // Shown less its base line: one spike of 90 % in 1,000 samples lifts that by 0.09 %.
  await expect(page.getByText('Pointer:')).toContainText('89.9 %');
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
  await openFirstPage(page);
  const text = '# rectification: rf\ntime_us,amplitude_pct\n0.00,1\n0.01\n0.02,3\n0.03,4\n';
  await chooseFiles(page, page.getByRole('button', { name: 'Files …' }), [given('scan.csv', text)]);
  await expect(page.getByText('scan.csv:4').first()).toBeVisible();
  await expect(page.getByRole('application')).toHaveCount(0);
  await expectAccessible(page);
});

test('a file without units asks for them, and is shown once they were said', async ({ page }) => {
  await openFirstPage(page);
  const rows = Array.from({ length: 40 }, (_, i) => `${(i / 100).toFixed(2)},${i === 20 ? 60 : (i % 3) - 1}`);
  await chooseFiles(page, page.getByRole('button', { name: 'Files …' }), [
    given('scan.csv', `t,a\n${rows.join('\n')}\n`),
  ]);
  const asked = page.getByRole('listitem').filter({ has: page.getByRole('heading', { name: /What must be said/ }) });
  await expect(asked).toContainText('1 file cannot be measured with before something is said.');
  await expect(page.getByRole('application')).toHaveCount(0);
  await expectAccessible(page);
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
  test(`axe has nothing to say of one capture, ${colorScheme}`, async ({ page }) => {
    await page.emulateMedia({ colorScheme });
    await openTrace(page);
    await expectAccessible(page);
  });
}
