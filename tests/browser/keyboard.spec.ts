import type { Locator, Page } from '@playwright/test';
import { expect, openFirstPage, settled, test, withReviewPickers } from './workbench.ts';

/** Tab, or with Shift back, until the element has the focus; every stop on the way can be seen to have it. */
async function tabTo(page: Page, target: Locator, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
  for (let stops = 0; stops < 120; stops++) {
    if (await target.evaluateAll((found) => found.includes(document.activeElement as HTMLElement))) return;
    await page.keyboard.press(key);
  }
  throw new Error(`120 stops of ${key} do not lead to ${target}`);
}

/** What has the focus is drawn apart from what has not. */
async function expectFocusSeen(page: Page): Promise<void> {
  const drawn = await page.evaluate(() => {
    const focused = document.activeElement as HTMLElement;
    const style = () => {
      const { outlineStyle, outlineWidth, boxShadow, borderColor, backgroundColor } = getComputedStyle(focused);
      return [outlineStyle === 'none' ? '' : outlineWidth, boxShadow, borderColor, backgroundColor].join(' ');
    };
    const withFocus = style();
    focused.blur();
    const without = style();
    focused.focus();
    return { withFocus, without };
  });
  expect(drawn.withFocus).not.toBe(drawn.without);
}

test('the main job by keyboard alone: calibrate, gate, ask, save, reopen', async ({ page }) => {
  await withReviewPickers(page);
  await openFirstPage(page);

  await test.step('open the sample', async () => {
    await tabTo(page, page.getByRole('button', { name: 'Open the sample' }));
    await expectFocusSeen(page);
    await page.keyboard.press('Enter');
    await settled(page, '94 captures in 14 files');
  });

  await test.step('calibrate anew, by the first crossing', async () => {
    await page.keyboard.press('Alt+2');
    const panel = page.getByRole('tabpanel', { name: /^Calibration/ });
    await tabTo(page, panel.getByRole('button', { name: /^How echoes are read/ }));
    await page.keyboard.press('Enter');
    await tabTo(page, panel.getByRole('radio', { name: 'Peak', exact: true }));
    await page.keyboard.press('ArrowRight');
    await expect(panel.getByRole('radio', { name: 'Crossing' })).toBeChecked();
    await expect(panel.getByText('Velocity, new less old')).toBeVisible();
    await tabTo(page, panel.getByRole('button', { name: 'Accept this calibration' }));
    await expectFocusSeen(page);
    await page.keyboard.press('Enter');
    await expect(panel.getByText('This calibration is in force.')).toBeVisible();
  });

  const gate = page.getByRole('slider', { name: 'Gate side wall' });
  await test.step('place a gate, name it, move it', async () => {
    await tabTo(page, page.getByRole('application', { name: /^Trace / }), 'Shift+Tab');
    await expectFocusSeen(page);
    await page.keyboard.press('g');
    await page.keyboard.press('Enter');
    await expect(page.getByRole('textbox', { name: 'Gate', exact: true })).toBeFocused();
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('side wall');
    await page.keyboard.press('Enter');
    await tabTo(page, gate, 'Shift+Tab');
    await expectFocusSeen(page);
    const before = (await gate.getAttribute('aria-valuetext'))!;
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowUp');
    await expect(gate).not.toHaveAttribute('aria-valuetext', before);
  });

  await test.step('ask a reading where it comes from, back to the samples', async () => {
    await page.keyboard.press('Alt+3');
    const panel = page.getByRole('tabpanel', { name: /^Readings/ });
    const grid = panel.getByRole('grid', { name: 'Readings' });
    await expect(grid.getByRole('row')).not.toHaveCount(1);
    await tabTo(page, panel.getByRole('textbox', { name: 'Filter readings' }));
    await page.keyboard.type('off peak');
    await expect(panel.getByText(/^2 of \d+ readings$/)).toBeVisible();
    await tabTo(page, grid.getByRole('button'));
    await page.keyboard.press('ArrowDown');
    const path = grid.getByRole('button', { name: /^Sound path, mm \d+\.\d+ ± .*Where from/ }).first();
    for (let column = 0; column < 8 && !(await isFocused(path)); column++) await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Enter');
    const from = page.getByRole('dialog', { name: 'Where from?' });
    await expect(from).toContainText('Sound path at gate ‘root’');
    await tabTo(page, from.getByRole('region', { name: 'Made from' }).getByRole('button', { name: /^velocity/ }));
    await expectFocusSeen(page);
    await page.keyboard.press('Enter');
    await expect(from).toContainText('Velocity');
    await tabTo(page, from.getByRole('button', { name: /^echo of the reflector at 225 mm/ }));
    await page.keyboard.press('Enter');
    await tabTo(page, from.getByRole('button', { name: 'Show on the trace' }));
    await page.keyboard.press('Enter');
    await expect(page.getByText(/^Samples \d+ to \d+/).first()).toBeVisible();
    await page.keyboard.press('Escape');
    await expect(from).toBeHidden();
    await expect(path).toBeFocused();
  });

  const said = async () => {
    await page.keyboard.press('Alt+2');
    const calibration = await page.getByRole('tabpanel', { name: /^Calibration/ }).ariaSnapshot();
    await page.keyboard.press('Alt+4');
    return [calibration, await page.getByRole('tabpanel', { name: /^Drift/ }).ariaSnapshot()];
  };
  await test.step('save, close, reopen: everything as it was', async () => {
    await page.keyboard.press('Control+s');
    await expect(page.getByRole('banner').getByText('Saved', { exact: true })).toBeVisible();
    const before = await said();
    await page.reload();
    await tabTo(page, page.getByRole('button', { name: /^frame-12\.json/ }));
    await page.keyboard.press('Enter');
    await settled(page, '94 captures in 14 files');
    expect(await said()).toEqual(before);
    await page.keyboard.press('Alt+3');
    await expect(
      page.getByRole('tabpanel', { name: /^Readings/ }).getByRole('button', { name: /^side wall/ }),
    ).toBeVisible();
  });
});

async function isFocused(locator: Locator): Promise<boolean> {
  return locator.evaluateAll((found) => found.includes(document.activeElement as HTMLElement));
}
