import { readFileSync, writeFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import {
  choose,
  expect,
  expectAccessible,
  openFirstPage,
  openProcedure,
  resting,
  step,
  test,
  unfold,
} from './workbench.ts';

/** Opens the sample of an instrument in its yearly check. */
async function openYearlyCheck(page: Page): Promise<void> {
  await openFirstPage(page);
  await page.getByRole('button', { name: 'Open the yearly check' }).click();
  await expect(page.getByRole('contentinfo').getByRole('status')).toHaveText('82 captures in 43 files', {
    timeout: 20_000,
  });
  await resting(page);
}

/** The file that a press gives to the person. */
async function downloaded(page: Page, press: () => Promise<void>): Promise<{ name: string; bytes: Buffer }> {
  const coming = page.waitForEvent('download');
  await press();
  const download = await coming;
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

test('an auditor sees all verdicts, asks one for its arithmetic, and walks to the samples it was read from', async ({
  page,
}) => {
  await openYearlyCheck(page);
  const verdicts = await openProcedure(page, 'Verdicts');
  const counts = verdicts.getByRole('group', { name: /^How many of each/ });
  await expect(counts.getByRole('button', { name: /^0 fail$/ })).toBeDisabled();
  await expect(counts.getByRole('button', { name: /pass$/ })).toBeEnabled();

  await choose(verdicts, /Check/, /^Time-base linearity/);
  const timeBase = verdicts.getByRole('region', { name: /^Time-base linearity: pass, ISO 22232-1/ });
  await timeBase.getByRole('button', { name: /^Time-base linearity, echo 4: pass/ }).click();
  const panel = page.getByRole('dialog', { name: 'Where from?' });
  await expect(panel.getByText('Verdict: echo 4')).toBeVisible();
  await expect(panel.getByText(/allowed -1\.00\s% to 1\.00\s%: pass/)).toBeVisible();
  await panel
    .getByRole('button', { name: /^deviation/ })
    .first()
    .click();
  await expect(panel.getByText(/100 · \(time − time on the line\) \/ full range/)).toBeVisible();
  await panel
    .getByRole('button', { name: /^time of the echo/ })
    .first()
    .click();
  await expect(panel.getByText(/^sound\/time-base\.csv#.*samples \d+ to \d+/)).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(panel).toBeHidden();
});

test('another rule gives other verdicts, and Undo brings the first back', async ({ page }) => {
  await openYearlyCheck(page);
  const panel = await openProcedure(page, 'Time base');
  const results = step(panel, 'Steps and verdicts');
  await expect(results.getByText('9 pass.')).toBeVisible();
  await choose(step(panel, 'Rule and limits'), /Rule$/, 'No rule: figures without verdicts');
  await resting(page);
  await expect(results.getByText(/no rule was chosen, so there is no verdict/)).toBeVisible();

  await page.keyboard.press('ControlOrMeta+z');
  await resting(page);
  await expect(results.getByText('9 pass.')).toBeVisible();
  await expect(page.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
});

test('a rule file that is no rule says at which line and column, and changes nothing', async ({ page }) => {
  await openYearlyCheck(page);
  const panel = await openProcedure(page, 'Gain');
  const rule = step(panel, 'Rule and limits');
  const chooser = page.waitForEvent('filechooser');
  await rule.getByRole('button', { name: 'A rule file of my own …' }).click();
  const text = '{\n  "check": "gain",\n  "form": "run",\n  "totalDb": "two"\n}\n';
  await (await chooser).setFiles([{ name: 'own.json', mimeType: 'application/json', buffer: Buffer.from(text) }]);
  await expect(rule.getByRole('list', { name: 'What is wrong with the rule file' })).toContainText(/own\.json:4:\d+/);
  await expect(rule.getByText(/^AWS D1\.1: accuracy of the gain control/).first()).toBeVisible();
});

test('a step table that contradicts the captures is said in its row, and nothing passes by it', async ({ page }) => {
  await openYearlyCheck(page);
  const panel = await openProcedure(page, 'Gain');
  const gains = await unfold(panel, 'Gain of each capture');
  await gains.getByRole('button', { name: 'State the gains in a table' }).click();
  await resting(page);
  const field = gains.getByRole('textbox', { name: /^Stated for .*span_01_plus_2_pct/ });
  await expect(field).toHaveValue('22');
  await field.fill('29');
  await field.press('Enter');
  await resting(page);
  await expect(gains.getByText(/the step table says 29 dB of gain, and the capture .* says 22 dB/)).toBeVisible();
  await expect(panel.getByRole('button', { name: /^Gain of each capture contradicted/ })).toBeVisible();
});

test('a window is drawn on the trace as a gate is, and goes into the check', async ({ page }) => {
  await openYearlyCheck(page);
  const panel = await openProcedure(page, 'Gain');
  await panel.getByRole('button', { name: 'Draw the echo on the trace' }).click();
  const plot = page.getByRole('application', { name: /^Trace / });
  const box = (await plot.boundingBox())!;
  await page.mouse.move(box.x + 0.4 * box.width, box.y + 0.5 * box.height);
  await page.mouse.down();
  await page.mouse.move(box.x + 0.6 * box.width, box.y + 0.6 * box.height, { steps: 4 });
  await page.mouse.up();
  const from = panel.getByRole('group', { name: 'Window of the echo' }).getByRole('textbox', { name: 'From (µs)' });
  await expect(from).not.toHaveValue('10');
  await page.keyboard.press('ControlOrMeta+z');
  await expect(from).toHaveValue('10');
});

test('sensitivity shows curve, attenuation and readings, each figure to be asked', async ({ page }) => {
  await openYearlyCheck(page);
  const panel = await openProcedure(page, 'Sensitivity');
  await expect(panel.getByRole('img', { name: /^Distance-amplitude curve\. point at 25 mm: 0\.0 dB/ })).toBeVisible();
  await expect(panel.getByRole('button', { name: /^Attenuation by the law of the curve 14\.9/ })).toBeVisible();
  const readings = panel.getByRole('list', { name: 'Readings against the curve' });
  await expect(readings.getByText(/below half of the curve/).first()).toBeVisible();
  await readings.getByRole('button', { name: /^To the curve, shaft of sound\/part\/indication-1/ }).click();
  await expect(page.getByRole('dialog', { name: 'Where from?' })).toBeVisible();
});

test('the checks over time have their control chart, and fewer than eight say that they have no limits', async ({
  page,
}) => {
  await openYearlyCheck(page);
  const panel = await openProcedure(page, 'Drift');
  await expect(panel.getByRole('img', { name: /^Control chart of the distance error/ })).toBeVisible();
  await expect(panel.getByText(/^Control limits .* from 24 checks\.$/)).toBeVisible();
  const checks = await unfold(panel, 'Check captures');
  await checks.getByRole('button', { name: 'Choose none' }).click();
  for (const day of ['2026-04-07', '2026-04-08', '2026-04-09'])
    await checks.getByRole('checkbox', { name: new RegExp(`checks/${day}`) }).check();
  await resting(page);
  await expect(panel.getByText(/No control limits: fewer than 8 checks/)).toBeVisible();
});

test('the record is filled in and undone; report and package are saved, and the package is verified, then altered', async ({
  page,
}, info) => {
  await openYearlyCheck(page);
  const panel = await openProcedure(page, 'Report');
  const identification = await unfold(panel, 'Identification');
  const number = identification.getByRole('textbox', { name: 'Report number' });
  await number.fill('2026-017');
  await number.press('Enter');
  await expect(page.getByRole('button', { name: 'Undo: change record' })).toBeVisible();

  await panel.getByRole('button', { name: 'Preview …' }).click();
  const preview = page.getByRole('dialog', { name: 'Report preview' });
  const report = preview.frameLocator('iframe');
  await expect(report.getByRole('heading', { level: 1 })).toHaveText(/Flaw detector 4/);
  await expect(report.getByText('2026-017')).toBeVisible();
  const page1 = await downloaded(page, () => preview.getByRole('button', { name: 'Save as HTML' }).click());
  expect(page1.name).toMatch(/-report\.html$/);
  expect(page1.bytes.toString()).toContain('2026-017');
  await page.keyboard.press('Escape');

  const zip = await downloaded(page, () => panel.getByRole('button', { name: 'Save package …' }).click());
  expect(zip.name).toMatch(/-evidence\.zip$/);
  await expect(panel.getByText('Keep that hash apart from the package')).toBeVisible();

  const verify = async (bytes: Buffer) => {
    const path = info.outputPath(`evidence-${bytes.length}-${bytes[bytes.length >> 1]}.zip`);
    writeFileSync(path, bytes);
    const chooser = page.waitForEvent('filechooser');
    await panel.getByRole('button', { name: 'Package …', exact: true }).click();
    await (await chooser).setFiles(path);
  };
  await verify(zip.bytes);
  await expect(panel.getByRole('status').getByText(/files are what was packed/)).toBeVisible();
  const altered = Buffer.from(zip.bytes);
  altered[altered.length >> 1]! ^= 0xff;
  await verify(altered);
  await expect(panel.getByText(/^The package is not what it says it is|damaged/).first()).toBeVisible();

  await page.getByRole('button', { name: 'Undo: change record' }).click();
  await expect(number).toHaveValue('');
});

test('every procedure is reached by its keys, and the groups by the arrows', async ({ page }) => {
  await openYearlyCheck(page);
  for (const [keys, name] of [
    ['Alt+5', 'Time base'],
    ['Alt+6', 'Screen height'],
    ['Alt+7', 'Gain'],
    ['Alt+8', 'Sensitivity'],
    ['Alt+9', 'Verdicts'],
    ['Alt+r', 'Report'],
    ['Alt+4', 'Drift'],
  ] as const) {
    await page.keyboard.press(keys);
    await expect(page.getByRole('tab', { name: new RegExp(`^${name}`), selected: true })).toBeVisible();
  }
  const groups = page.getByRole('tablist', { name: 'Groups' });
  await groups.getByRole('tab', { name: /^Distance/ }).focus();
  await page.keyboard.press('End');
  await page.keyboard.press('Enter');
  // A group is found again where it was left.
  await expect(page.getByRole('tab', { name: /^Report/, selected: true })).toBeVisible();
});

for (const colorScheme of ['light', 'dark'] as const) {
  test(`axe has nothing to say of the auditor’s procedures, ${colorScheme}`, async ({ page }) => {
    test.setTimeout(120_000);
    await page.emulateMedia({ colorScheme });
    const rules = colorScheme === 'dark' ? (['color-contrast'] as const) : null;
    await openYearlyCheck(page);
    for (const name of ['Time base', 'Screen height', 'Gain', 'Sensitivity', 'Drift', 'Verdicts', 'Report'] as const) {
      await openProcedure(page, name);
      await expectAccessible(page, rules);
    }
  });
}
