import { readdirSync } from 'node:fs';
import {
  chooseFiles,
  expect,
  expectAccessible,
  openFirstPage,
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

test('what is asked of a file is said, and it is there', async ({ page }) => {
  await openFirstPage(page);
  await chooseFiles(page, page.getByRole('button', { name: 'Files …' }), [`${folder}/no-units.csv`]);
  const panel = page.getByRole('tabpanel', { name: /^Import/ });
  await panel.getByRole('button', { name: /Columns/ }).click();
  const columns = page.getByRole('dialog');
  await expect(columns).toContainText('no-units.csv');
  await expectAccessible(page);
});

test('broken files among others bring the import into sight, whatever was looked at', async ({ page }) => {
  await openSample(page);
  await expect(page.getByRole('tab', { name: /^Readings/, selected: true })).toBeVisible();
  await page.keyboard.press('Control+o');
});
void settled;
