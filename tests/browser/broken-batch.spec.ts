import { readdirSync } from 'node:fs';
import {
  choose,
  chooseFiles,
  expect,
  expectAccessible,
  openFirstPage,
  openProcedure,
  openSample,
  root,
  settled,
  test,
  unfold,
} from './workbench.ts';

const folder = `${root}sample-data/broken`;
/** What is wrong with each, and where: sample-data/README.md, "Broken on purpose". */
const faults = [
  { file: 'missing-field.csv', place: 'missing-field.csv:23' },
  { file: 'field-too-many.csv', place: 'field-too-many.csv:34' },
  { file: 'not-a-number.csv', place: 'not-a-number.csv:15' },
  { file: 'over-range-sign.csv', place: 'over-range-sign.csv:47' },
  { file: 'time-goes-back.csv', place: 'time-goes-back.csv:38' },
  { file: 'gap-in-time.csv', place: 'gap-in-time.csv:33' },
  { file: 'last-line-cut-off.csv', place: 'last-line-cut-off.csv:62' },
  { file: 'empty.csv', place: 'empty.csv' },
  { file: 'not-text.csv', place: 'not-text.csv' },
] as const;

test('a broken batch: each problem stands at its place, one file is asked about, the whole ones are loaded', async ({
  page,
}) => {
  const names = readdirSync(folder);
  expect(names.toSorted()).toEqual([...faults.map(({ file }) => file), 'no-units.csv'].toSorted());
  await openFirstPage(page);
  await chooseFiles(page, page.getByRole('button', { name: 'Files …' }), [
    ...names.map((name) => `${folder}/${name}`),
    `${root}sample-data/reference-block.csv`,
  ]);
  await settled(page, /^1 capture in 11 files/);
  const panel = page.getByRole('tabpanel', { name: /^Import/ });

  const broken = await unfold(panel, 'What cannot be read');
  await expect(broken).toContainText('9 files, with what is wrong and where. The others are loaded.');
  for (const { place } of faults) await expect(broken.getByText(place).first()).toBeVisible();

  const asked = await unfold(panel, 'What must be said');
  await expect(asked).toContainText('no-units.csv');
  await expect(asked).toContainText('1 file cannot be measured with before something is said.');
  await expect(await unfold(panel, 'What was understood')).toContainText('1 file with 1 capture.');

  // Nothing of a broken file is shown as if it were whole.
  await expect(page.getByRole('application', { name: /^Trace / })).toHaveAccessibleName(/reference-block\.csv/);
  await expectAccessible(page);
});

test('what is asked of a file is said, and then it is there', async ({ page }) => {
  await openFirstPage(page);
  await chooseFiles(page, page.getByRole('button', { name: 'Files …' }), [`${folder}/no-units.csv`]);
  const panel = page.getByRole('tabpanel', { name: /^Import/ });
  const asked = await unfold(panel, 'What must be said');
  await expect(asked).toContainText('The file does not say the unit of its axis ‘time’.');
  await expect(page.getByRole('application')).toHaveCount(0);

  // The columns can be looked through before anything is said.
  await asked.getByRole('button', { name: /^Columns/ }).click();
  const columns = page.getByRole('dialog', { name: 'Columns of no-units.csv' });
  await expect(columns).toContainText('Read so, the file cannot be measured with yet');
  await expectAccessible(page);
  await page.keyboard.press('Escape');

  await asked.getByRole('radiogroup', { name: 'Unit of time' }).getByText('µs').click();
  await choose(asked, /Unit of amplitude$/, /full screen/);
  await settled(page, '1 capture in 1 file');
  await expect(panel.getByRole('heading', { name: /What must be said/ })).toHaveCount(0);
  await expect(page.getByRole('application', { name: /^Trace no-units\.csv/ })).toBeVisible();
  await page.getByRole('button', { name: "Undo: change import of 'no-units.csv'" }).click();
  await expect(asked).toBeVisible();
  await expect(page.getByRole('application')).toHaveCount(0);
});

test('a broken file beside good ones brings the import into sight, whatever was looked at', async ({ page }) => {
  await openSample(page);
  await openProcedure(page, 'Readings');
  const dialog = page.waitForEvent('filechooser');
  await page.keyboard.press('Control+o');
  await (await dialog).setFiles([`${folder}/missing-field.csv`]);
  await expect(page.getByRole('tab', { name: /^Import/, selected: true })).toBeVisible();
  const panel = page.getByRole('tabpanel', { name: /^Import/ });
  await expect((await unfold(panel, 'What cannot be read')).getByText('missing-field.csv:23').first()).toBeVisible();
});
