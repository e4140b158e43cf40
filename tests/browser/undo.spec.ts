import type { Page } from '@playwright/test';
import {
  chooseFiles,
  expect,
  openProcedure,
  openSample,
  resting,
  root,
  settled,
  step,
  test,
  unfold,
} from './workbench.ts';

const undo = (page: Page, what: string) => page.getByRole('button', { name: `Undo: ${what}`, exact: true });
const redo = (page: Page, what: string) => page.getByRole('button', { name: `Redo: ${what}`, exact: true });

test('a calibration that was accepted is taken back and put in force again, by its name', async ({ page }) => {
  await openSample(page);
  const panel = await openProcedure(page, 'Calibration');
  const velocity = panel.getByRole('definition').getByRole('button', { name: /^Velocity .*Where from/ });
  await expect(velocity).toHaveText('3241.0 ± 2.1 m/s');
  const zeroOffset = panel.getByRole('definition').getByRole('button', { name: /^Zero offset .*Where from/ });
  const before = (await zeroOffset.textContent())!;
  await unfold(panel, 'How echoes are read');
  await panel.getByRole('radiogroup', { name: 'Timed by' }).getByText('Crossing').click();
  await panel.getByRole('button', { name: 'Accept this calibration' }).click();
  await expect(panel.getByText('This calibration is in force.')).toBeVisible();
  await resting(page);
  const after = (await zeroOffset.textContent())!;
  expect(after).not.toBe(before);
  // What is read by the peak with it is shifted, and that is said.
  const shifted = page.getByText('All paths: the calibration was timed by crossing and the readings are timed by peak');
  await openProcedure(page, 'Readings');
  await expect(shifted).toBeVisible();
  await openProcedure(page, 'Calibration');

  await undo(page, 'change calibration').click();
  await expect(zeroOffset).toHaveText(before);
  await openProcedure(page, 'Readings');
  await expect(shifted).toHaveCount(0);
  await openProcedure(page, 'Calibration');
  await redo(page, 'change calibration').click();
  await expect(zeroOffset).toHaveText(after);
});

test('files that were taken in and files that were taken out come and go by their names', async ({ page }) => {
  await openSample(page);
  const panel = await openProcedure(page, 'Import');
  const added = ['step-10-mm.csv', 'step-20-mm.csv'].map((name) => `${root}sample-data/step-block/${name}`);
  await chooseFiles(page, panel.getByRole('button', { name: 'Open files …' }), added);
  await settled(page, '96 captures in 16 files');
  await undo(page, 'add 2 files').click();
  await settled(page, '94 captures in 14 files');
  await redo(page, 'add 2 files').click();
  await settled(page, '96 captures in 16 files');

  const understood = step(panel, 'What was understood');
  await understood
    .getByRole('listitem')
    .filter({ hasText: 'reference-block.csv' })
    .getByRole('button', { name: 'Take it out' })
    .click();
  await settled(page, '95 captures in 15 files');
  await undo(page, "remove file 'reference-block.csv'").click();
  await settled(page, '96 captures in 16 files');
  // And with the file its calibration.
  const calibration = await openProcedure(page, 'Calibration');
  await expect(calibration.getByRole('button', { name: /^Velocity 3241\.0 ± 2\.1 m\/s/ })).toBeVisible();
});

test('everything back to the beginning and forward again gives the same review', async ({ page }) => {
  await openSample(page);
  const said = async () => [
    await page.getByRole('textbox', { name: 'Title of the review' }).inputValue(),
    await (await openProcedure(page, 'Readings')).ariaSnapshot(),
    await (await openProcedure(page, 'Drift')).ariaSnapshot(),
  ];
  const before = await said();

  const title = page.getByRole('textbox', { name: 'Title of the review' });
  await title.fill('Frame 13');
  await title.press('Enter');
  const drift = await openProcedure(page, 'Drift');
  await drift.getByRole('radiogroup', { name: 'What decides' }).getByText('Value alone').click();
  const readings = await openProcedure(page, 'Readings');
  await readings.getByRole('button', { name: 'Remove gate root' }).click();
  await expect(readings.getByText('Needs captures and a gate.')).toBeVisible();
  await resting(page);
  const after = await said();
  expect(after).not.toEqual(before);

  for (const name of ["remove gate 'root'", 'change drift checks', 'change title']) await undo(page, name).click();
  await expect(page.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
  await resting(page);
  expect(await said()).toEqual(before);
  for (const name of ['change title', 'change drift checks', "remove gate 'root'"]) await redo(page, name).click();
  await expect(page.getByRole('button', { name: 'Redo', exact: true })).toBeDisabled();
  await resting(page);
  expect(await said()).toEqual(after);
});
