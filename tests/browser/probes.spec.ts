import type { Page } from '@playwright/test';
import { choose, expect, expectAccessible, openFirstPage, settled, test, unfold } from './workbench.ts';

/** Opens the sample of three probes and waits until they are measured. */
async function openProbes(page: Page): Promise<void> {
  await openFirstPage(page);
  await page.getByRole('button', { name: 'Open the three probes' }).click();
  await settled(page, '18 captures in 18 files');
}

async function openProcedure(page: Page, name: string) {
  const folded = page.getByRole('button', { name: 'Show the procedures' });
  if (await folded.isVisible()) await folded.click();
  await page
    .getByRole('tablist', { name: 'Procedures' })
    .getByRole('tab', { name: new RegExp(`^${name}`) })
    .click();
  return page.getByRole('tabpanel', { name: new RegExp(`^${name}`) });
}

const show = (page: Page, name: string) =>
  page.getByRole('radiogroup', { name: 'What stands here' }).getByText(name, { exact: true }).click();

test('probes side by side: both centre frequencies, verdicts in words, and where a figure comes from', async ({
  page,
}) => {
  await openProbes(page);
  const table = page.getByRole('grid', { name: 'Characteristics of the probes' });
  for (const name of ['straight probe 21', 'straight probe 22', 'straight probe 23'])
    await expect(table.getByRole('columnheader', { name: new RegExp(name) })).toBeVisible();
  await expect(table.getByRole('rowheader', { name: /^Centre frequency, ISO 22232-2/ })).toBeVisible();
  const astm = table.getByRole('row', { name: /^Centre frequency, ASTM E1065/ });
  // Made as 5.05, 4.35 and 5.00 MHz and stated as 5 MHz ± 10 %: the second lies outside.
  await expect(astm.getByRole('gridcell').nth(0)).toContainText(/5\.0\d+ ± .*pass/);
  await expect(astm.getByRole('gridcell').nth(1)).toContainText(/4\.3\d+ ± .*fail/);
  await expectAccessible(page);

  const figure = astm.getByRole('button', { name: /straight probe 22 4\.3/ });
  await figure.click();
  const origin = page.getByRole('dialog', { name: /Where/ });
  await expect(origin).toContainText('ASTM E1065');
  await page.keyboard.press('Escape');
  await expect(origin).toBeHidden();
  await expect(figure).toBeFocused();
  await page.keyboard.press('ArrowDown');
  await expect(table.getByRole('button', { name: /^Centre frequency, ISO 22232-2.*straight probe 22/ })).toBeFocused();
});

test('probes over one another: shifts told, spectra, difference, one by one, time and frequency', async ({ page }) => {
  await openProbes(page);
  const panel = await openProcedure(page, 'Comparison');
  await expect(page.getByRole('img', { name: /^Echoes of straight probe 21, .* over time/ })).toBeVisible();
  await expect(page.getByText(/^Times of straight probe 21\. Shifts taken out: straight probe 22 /)).toBeVisible();
  await expect(panel.getByText(/were they alike, chance would part them as far/).first()).toBeVisible();
  await expectAccessible(page);
  for (const [name, picture] of [
    ['Spectra', /^Amplitude spectra of straight probe 21/],
    ['Difference', /^Difference of straight probe 22 from straight probe 21: in time and by frequency/],
    ['One by one', /each by itself, with straight probe 21 behind it/],
    ['Time–frequency', /^Spectrogram: .* of probe-21-capture-1\.csv/],
  ] as const) {
    await show(page, name);
    await expect(page.getByRole('img', { name: picture })).toBeVisible();
    await expectAccessible(page);
  }
  await page.getByText('Scalogram', { exact: true }).click();
  await expect(page.getByRole('img', { name: /^Scalogram: Morlet/ })).toBeVisible();
});

test('a picture is saved as it would be printed: SVG with its size in mm, PNG of 600 dots in an inch', async ({
  page,
}) => {
  await openProbes(page);
  await openProcedure(page, 'Comparison');
  const saved = async (name: string): Promise<Buffer> => {
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name }).click();
    const stream = await (await download).createReadStream();
    const parts: Buffer[] = [];
    for await (const part of stream) parts.push(part as Buffer);
    return Buffer.concat(parts);
  };
  const svg = (await saved('Save the picture as SVG')).toString('utf8');
  expect(svg).toContain('width="85mm"');
  expect(svg).toContain('>time (µs)</text>');
  const png = await saved('Save the picture as PNG');
  expect(png.subarray(1, 4).toString()).toBe('PNG');
  // 85 mm at 600 dots in an inch of 25.4 mm.
  expect(png.readUInt32BE(16)).toBe(2008);
});

test('the material: velocity, and attenuation in the band in which it means something', async ({ page }) => {
  await openProbes(page);
  const panel = await openProcedure(page, 'Material');
  // Made at 5918 m/s.
  await expect(panel.getByRole('button', { name: /^Velocity of the material 59(17|18|19)\.\d ± / })).toBeVisible();
  await expect(panel.getByText(/^Meaningful from \d\.\d+ to \d\.\d+ MHz/)).toBeVisible();
  await expect(page.getByRole('img', { name: /^Attenuation over frequency from/ })).toBeVisible();
  await expectAccessible(page);
});

test('a gate that cuts the echo gives no figure and says why', async ({ page }) => {
  await openProbes(page);
  const panel = await openProcedure(page, 'Probes');
  const to = panel.getByRole('group', { name: 'Window of the gate' }).getByLabel('To (µs)');
  await to.fill('9.1');
  await to.press('Enter');
  await expect(panel.getByText('Nothing could be measured.')).toBeVisible();
  const table = page.getByRole('grid', { name: 'Characteristics of the probes' });
  await expect(table.getByText('not measurable').first()).toBeVisible();
  await expect(table.getByText(/does not come down to the level asked for/).first()).toBeVisible();
  await expectAccessible(page);
});

test('one probe has a gate of its own, and all are taken out by a button, both undone again', async ({ page }) => {
  await openProbes(page);
  const panel = await openProcedure(page, 'Probes');
  const table = page.getByRole('grid', { name: 'Characteristics of the probes' });
  await choose(panel, /A gate of its own for/, 'straight probe 22');
  const gate = panel.getByRole('group', { name: 'Window of the gate of straight probe 22' });
  await gate.getByLabel(/^To/).fill('10.25');
  await page.keyboard.press('Enter');
  await expect(panel.getByText('(1 with a gate of their own)')).toBeVisible();
  await panel.getByRole('button', { name: 'Read it in the gate of all' }).click();
  await expect(panel.getByText('with a gate of their own')).toHaveCount(0);
  await expectAccessible(page);

  await (await unfold(panel, 'Captures')).getByRole('button', { name: 'Take the probes out' }).click();
  await expect(table).toHaveCount(0);
  await page.keyboard.press('Control+z');
  await expect(table).toBeVisible();
});
