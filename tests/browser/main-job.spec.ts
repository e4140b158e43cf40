import type { Locator, Page } from '@playwright/test';
import {
  byMenu,
  choose,
  chooseCapture,
  chooseFiles,
  dropFiles,
  expect,
  expectAccessible,
  openFirstPage,
  openProcedure,
  root,
  settled,
  step,
  test,
  unfold,
  withReviewPickers,
} from './workbench.ts';

const checks = Array.from({ length: 9 }, (_, i) => `${root}sample-data/shift/check-${i + 1}.csv`);

test('one’s own captures, from the first page to a saved review that reopens as it was, by mouse', async ({ page }) => {
  // The whole job is as long as ten ordinary tests.
  test.setTimeout(240_000);
  await withReviewPickers(page, 'shift.json');
  await openFirstPage(page);

  await test.step('open captures: some chosen, some dropped', async () => {
    const chosen = ['reference-block.csv', 'plate-weld/first-leg.csv', 'plate-weld/manifest.csv'];
    await chooseFiles(
      page,
      page.getByRole('button', { name: 'Files …' }),
      chosen.map((name) => `${root}sample-data/${name}`),
    );
    await settled(page, '42 captures in 2 files');
    await dropFiles(
      page,
      checks.map((path) => path.slice(`${root}sample-data/`.length)),
    );
    await settled(page, '51 captures in 11 files');
    await expectAccessible(page);
  });

  await test.step('calibrate on the block', async () => {
    const panel = await openProcedure(page, 'Calibration');
    await step(panel, 'Captures of the block').getByLabel('reference-block.csv').check();
    await choose(panel, /Block and direction/, 'ISO 2400 type block, quadrant of 100 mm with a return radius of 25 mm');
    await expect(panel.getByText('3 taken for reflectors, 2 left over.')).toBeVisible();
    await expect(panel.getByText('slot or saw cut just ahead of 100 mm')).toBeVisible();
    await unfold(panel, 'How echoes are read');
    await choose(panel, /^.*Material/, 'steel');
    await panel.getByRole('button', { name: 'Accept this calibration' }).click();
    await expect(panel.getByText('This calibration is in force.')).toBeVisible();
    await expect(velocity(panel)).toHaveText('3241.0 ± 2.1 m/s');
    await expectAccessible(page);
  });

  await test.step('and by distances with their windows: the same velocity', async () => {
    const panel = page.getByRole('tabpanel', { name: /^Calibration/ });
    await choose(panel, /Block and direction/, 'Distances, each with its window in time');
    for (const [distance, from, to] of [
      ['100', '68', '71'],
      ['225', '145', '148'],
      ['350', '222', '225'],
    ] as const) {
      const row = panel.getByRole('group', { name: 'Another reflector' });
      await row.getByLabel('Distance').fill(distance);
      await row.getByLabel('From (µs)').fill(from);
      await row.getByLabel('To (µs)').fill(to);
      await row.getByLabel('To (µs)').press('Enter');
      await row.getByRole('button', { name: 'Add this reflector' }).click();
    }
    await expect(panel.getByText('3 distances with their windows')).toBeVisible();
    // Distances that are said to be exact leave the timing alone to doubt.
    await expect(velocity(panel)).toHaveText('3240.96 ± 0.11 m/s');
    await expect(panel.getByText('no difference beyond its uncertainty').first()).toBeVisible();
    await panel.getByRole('button', { name: 'Accept this calibration' }).click();
    await expect(panel.getByText('This calibration is in force.')).toBeVisible();
  });

  await test.step('read the weld with a gate that is drawn on the trace', async () => {
    const panel = await openProcedure(page, 'Readings');
    await step(panel, 'Captures of the part')
      .getByLabel(/^first-leg.csv/)
      .check();
    await chooseCapture(page, 'capture_17_pct');
    await openProcedure(page, 'Readings');
    await panel.getByRole('button', { name: 'Draw a gate' }).click();
    await drawGate(page, [20, 30], 20);
    await expect(page.getByRole('slider', { name: /^Gate / })).toBeVisible();
    await settled(page, '51 captures in 11 files');
    await expect(panel.getByText(/^41 readings, \d+ with a doubt\.$/)).toBeVisible();
    await unfold(panel, 'Beam and part');
    await panel.getByLabel('Beam angle').fill('60');
    await panel.getByLabel('Beam angle').press('Enter');
    await panel.getByLabel('Thickness').fill('16');
    await panel.getByLabel('Thickness').press('Enter');
    await panel.getByLabel('The captures are a series of one reflector: hold each against the peak').check();
    await expect(panel.getByRole('button', { name: /^Peak 66\.8 % at 50\.0 dB/ })).toBeVisible();
    const row = panel.getByRole('row', { name: /^capture_18_pct/ });
    await expect(row.getByRole('gridcell', { name: 'off peak', exact: true })).toBeVisible();
    await expectAccessible(page);
  });

  await test.step('hold the shift’s checks against a rule', async () => {
    const panel = await openProcedure(page, 'Drift');
    const captures = step(panel, 'Check captures');
    await captures.getByPlaceholder(/^Filter/).fill('check');
    await captures.getByRole('button', { name: 'Choose these 9' }).click();
    await panel.getByRole('button', { name: 'Take the calibration’s reflectors' }).click();
    await panel.getByRole('button', { name: 'Take out the reflector at 350 mm' }).click();
    await choose(panel, /Rule$/, 'ISO 17640: sensitivity and range corrections');
    await panel.getByLabel('Range (mm)').fill('250');
    await panel.getByLabel('Range (mm)').press('Enter');
    await panel.getByLabel('Height at calibration (% FSH)').fill('80');
    await panel.getByLabel('Height at calibration (% FSH)').press('Enter');
    await expect(panel.getByText(/^First failing: check-7\.csv/)).toBeVisible();
    await expect(panel.getByText('repeat the tests made since the last valid check').first()).toBeVisible();
    const seventh = panel
      .getByRole('list', { name: 'Checks in order of time' })
      .getByRole('listitem')
      .filter({ hasText: 'check-7.csv' });
    await expect(seventh.getByRole('button', { name: 'Verdict fail. Where from?' })).toBeVisible();
    await expect(seventh.getByText('The zero offset has moved')).toBeVisible();
    await expectAccessible(page);
  });

  const before = await everyFigure(page);
  await test.step('save, close, reopen: everything as it was', async () => {
    await expect(page.getByText('Unsaved changes')).toBeVisible();
    await byMenu(page, 'File', /^Save (?!as)/);
    await expect(page.getByRole('banner').getByText('Saved', { exact: true })).toBeVisible();
    await page.reload();
    await page.getByRole('button', { name: /^shift\.json/ }).click();
    await settled(page, '51 captures in 11 files');
    // It opens at its calibration; which capture was looked at last is no decision.
    await chooseCapture(page, 'capture_17_pct');
    expect(await everyFigure(page)).toEqual(before);
    await expect(page.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
  });
});

/** What stands in the columns of all procedures, as a screen reader would say it. */
async function everyFigure(page: Page): Promise<readonly string[]> {
  const said: string[] = [];
  for (const name of ['Calibration', 'Readings', 'Drift'] as const) {
    said.push(await (await openProcedure(page, name)).ariaSnapshot());
  }
  return said;
}

function velocity(panel: Locator): Locator {
  return panel.getByRole('button', { name: /^Velocity .*Where from/ }).first();
}

/** Draws on the trace from one time to another, ending at a height in per cent of full screen height. */
async function drawGate(page: Page, [fromUs, toUs]: readonly [number, number], percent: number): Promise<void> {
  const plot = (await page.locator('.u-over').boundingBox())!;
  const shown = (await page.getByText(/^Shown:/).textContent())!.match(/[\d.]+/g)!.map(Number);
  const x = (us: number) => plot.x + ((us - shown[0]!) / (shown[1]! - shown[0]!)) * plot.width;
  const y = plot.y + plot.height * (1 - percent / 105);
  await page.mouse.move(x(fromUs), y);
  await page.mouse.down();
  await page.mouse.move(x(toUs), y, { steps: 5 });
  await page.mouse.up();
}
