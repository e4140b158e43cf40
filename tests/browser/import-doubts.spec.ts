import { chooseFiles, expect, expectAccessible, given, openFirstPage, settled, test, unfold } from './workbench.ts';

const rows = (row: (i: number) => string) => Array.from({ length: 400 }, (_, i) => row(i)).join('\n');
const burst = (i: number) => 60 * Math.exp(-(((i - 200) / 12) ** 2)) * Math.cos((i - 200) / 2) + ((i * 37) % 11) / 10;

/** Each could be read as something else than it is. */
const files = [
  given('nanoseconds.csv', `time_us,a_pct\n${rows((i) => `${i * 10},${burst(i).toFixed(2)}`)}\n`),
  given('offset.csv', `time_us,a_pct\n${rows((i) => `${(i / 100).toFixed(2)},${(120 + burst(i)).toFixed(2)}`)}\n`),
  given('two-times.csv', `time_us,t_us,a_pct\n${rows((i) => `${i / 100},${i / 50},${burst(i).toFixed(2)}`)}\n`),
];

test('what a file leaves open is asked at its field, and how sure the rest is can be read', async ({ page }) => {
  await openFirstPage(page);
  await chooseFiles(page, page.getByRole('button', { name: 'Files …' }), files);
  await settled(page, /ask something/);
  const panel = page.getByRole('tabpanel', { name: /^Import/ });
  const asked = await unfold(panel, 'What must be said');
  const card = (name: string) => asked.getByRole('listitem').filter({ hasText: name }).first();
  await expect(panel.getByText(/--[a-z]/)).toHaveCount(0);
  await expect(page.getByRole('application')).toHaveCount(0);

  const unit = card('nanoseconds.csv');
  await expect(unit).toContainText('‘time_us’ gives a sampling rate of 0.1 MHz');
  await unit.getByText('What was taken, and how sure').click();
  await expect(unit).toContainText('unit of the axis: must be said');
  await expect(unit).toContainText('unit of amplitude: percent, stands in the file');
  await expectAccessible(page);
  await unit.getByRole('radiogroup', { name: 'Unit of time' }).getByText('ns', { exact: true }).click();

  const offset = card('offset.csv');
  await expect(offset).toContainText('State its base line at ‘Base line’');
  await offset.getByRole('textbox', { name: 'Base line' }).fill('120');
  await page.keyboard.press('Enter');
  await settled(page, /2 captures/);

  const times = card('two-times.csv');
  await expect(times).toContainText('‘time_us’ and ‘t_us’ could both be the axis');
  await times.getByRole('button', { name: /^Columns/ }).click();
  await expect(page.getByRole('dialog', { name: 'Columns of two-times.csv' })).toContainText('Column of the axis');
});
