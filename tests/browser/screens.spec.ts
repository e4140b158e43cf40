import type { Locator, Page } from '@playwright/test';
import { expect, expectAccessible, openProcedure, openSample, resting, test } from './workbench.ts';

const procedures = ['Import', 'Calibration', 'Readings', 'Drift'] as const;

/** Sets how figures are written, and closes the settings again. */
async function write(page: Page, units: 'mm, m/s' | 'in, in/µs', mark: 'Point: 30.01' | 'Comma: 30,01'): Promise<void> {
  await page.keyboard.press('Control+,');
  const settings = page.getByRole('dialog', { name: 'Settings' });
  await settings.getByText(units, { exact: true }).click();
  await settings.getByText(mark, { exact: true }).click();
  await settings.getByRole('button', { name: 'Done' }).click();
  await expect(settings).toBeHidden();
}

/** What is written on the whole page with one procedure open, the sentences of sources and rules aside. */
async function said(page: Page, name: (typeof procedures)[number]): Promise<string> {
  await openProcedure(page, name);
  return page.getByRole('main').evaluate((main) => {
    const names = [...main.querySelectorAll('[aria-label],[aria-valuetext]')].map(
      (element) => `${element.getAttribute('aria-label')} ${element.getAttribute('aria-valuetext')}`,
    );
    // biome-ignore lint/performance/useDomNodeTextContent: only what is seen, and words of neighbours apart
    return [(main as HTMLElement).innerText, ...names].join('\n');
  });
}

/** Figures with a unit: the number and its sign. */
const figures = (text: string): string[] =>
  text.match(/\d+[.,]\d+ (?:± \d+[.,]\d+ )?(?:mm|in|m\/s|in\/µs|µs|dB|%)(?![\w/])/g) ?? [];

test('inches and the decimal comma go through every figure of every procedure, and back', async ({ page }) => {
  await openSample(page);
  const before = new Map<string, string>();
  for (const name of procedures) before.set(name, await said(page, name));

  await write(page, 'in, in/µs', 'Comma: 30,01');
  for (const name of procedures) {
    const text = await said(page, name);
    const found = figures(text);
    expect(found.length, name).toBeGreaterThan(name === 'Import' ? 3 : 10);
    expect(
      found.filter((figure) => figure.includes('.')),
      `${name}: no decimal point is left`,
    ).toEqual([]);
    expect(
      found.filter((figure) => /(mm|m\/s)$/.test(figure)),
      `${name}: no metric length is left`,
    ).toEqual([]);
  }
  // 1 in = 25.4 mm exactly: 3,240.957 m/s is 0.127597 in/µs, and a path of 30.009 mm is 1.1815 in.
  const calibration = await openProcedure(page, 'Calibration');
  await expect(calibration.getByRole('button', { name: /^Velocity 0,127597 ± 0,000083 in\/µs/ })).toBeVisible();
  const readings = await openProcedure(page, 'Readings');
  await expect(readings.getByRole('row', { name: /^capture_17_pct/ }).getByText(/^1,1815 ± 0,0017$/)).toBeVisible();

  await write(page, 'mm, m/s', 'Point: 30.01');
  for (const name of procedures) expect(await said(page, name), name).toBe(before.get(name));
});

test('what is typed is read in the units and with the mark that are shown', async ({ page }) => {
  await openSample(page);
  await write(page, 'in, in/µs', 'Comma: 30,01');
  await page.getByRole('slider', { name: 'Gate root' }).focus();
  const from = page.getByRole('textbox', { name: 'From (in)' });
  await from.fill('1.0');
  await from.press('Enter');
  await expect(page.getByText('write decimals with a comma')).toBeVisible();
  await from.fill('1,0');
  await from.press('Enter');
  await write(page, 'mm, m/s', 'Point: 30.01');
  await expect(page.getByRole('slider', { name: 'Gate root' })).toHaveAttribute('aria-valuetext', /^25\.40? mm to 36/);
});

for (const colorScheme of ['light', 'dark'] as const) {
  test(`axe has nothing to say of any procedure, nor of a figure that is asked, ${colorScheme}`, async ({ page }) => {
    test.setTimeout(120_000);
    await page.emulateMedia({ colorScheme });
    // In the dark only the colours are others.
    const rules = colorScheme === 'dark' ? (['color-contrast'] as const) : null;
    await openSample(page);
    for (const name of procedures) {
      const panel = await openProcedure(page, name);
      await unfoldAll(panel);
      await resting(page);
      await expectAccessible(page, rules);
    }
    await openProcedure(page, 'Calibration');
    await page
      .getByRole('button', { name: /^Zero offset .*Where from/ })
      .first()
      .click();
    await expect(page.getByRole('dialog', { name: 'Where from?' })).toBeVisible();
    await expectAccessible(page, rules);
  });
}

async function unfoldAll(panel: Locator): Promise<void> {
  const folded = panel.getByRole('heading', { level: 3 }).getByRole('button', { expanded: false });
  while ((await folded.count()) > 0) await folded.first().click();
}

test.describe('at 200 % zoom of a small screen', () => {
  // 1440 × 900 at 200 %: half as many CSS pixels, twice as dense.
  test.use({ viewport: { width: 720, height: 450 }, deviceScaleFactor: 2 });

  test('every step, field and button of every procedure can be reached and seen whole', async ({ page }) => {
    await openSample(page);
    await page.getByRole('radiogroup', { name: 'Part of the page' }).getByText('Procedures').click();
    for (const name of procedures) {
      const panel = await openProcedure(page, name);
      await unfoldAll(panel);
      expect(await outOfReach(panel), name).toEqual([]);
    }
  });
});

/** Buttons and fields that, brought into sight, are not at their own middle: cut off, or covered by something else. Those of tables that scroll sideways are left to the tables. */
async function outOfReach(panel: Locator): Promise<string[]> {
  return panel.evaluate((element) => {
    const out: string[] = [];
    for (const control of element.querySelectorAll<HTMLElement>(
      'button, input:not([type=radio]), [role=radiogroup] label',
    )) {
      if (control.closest('[role=grid]') !== null || control.getClientRects().length === 0) continue;
      control.scrollIntoView({ block: 'center', inline: 'nearest' });
      const { left, top, width, height } = control.getBoundingClientRect();
      const hit = document.elementFromPoint(left + width / 2, top + height / 2);
      const isHit =
        hit !== null && (control.contains(hit) || hit.contains(control) || hit.closest('label')?.contains(control));
      if (!isHit || width < 12 || height < 12)
        out.push(`${control.tagName} ${control.getAttribute('aria-label') ?? control.textContent}`);
    }
    return out;
  });
}
