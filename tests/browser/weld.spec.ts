import type { Page } from '@playwright/test';
import {
  choose,
  expect,
  expectAccessible,
  openFirstPage,
  openProcedure,
  settled,
  step,
  test,
  unfold,
} from './workbench.ts';

async function openWeld(page: Page): Promise<void> {
  await openFirstPage(page);
  await page.getByRole('button', { name: 'Open the sample shift' }).click();
  await settled(page, /captures in \d+ files/);
}

async function show(page: Page, picture: 'Series' | 'True depth' | 'Section' | 'Plan'): Promise<void> {
  await page.getByRole('radiogroup', { name: 'Picture below the trace' }).getByText(picture, { exact: true }).click();
}

test.describe('a technician walks through the sample’s weld', () => {
  test.slow();

  test('from an indication in the table to the trace, the section and the plan, and back', async ({ page }) => {
    await openWeld(page);
    const panel = await openProcedure(page, 'Indications');
    const table = panel.getByRole('grid', { name: 'Indications' });
    await show(page, 'Section');
    const section = page.getByRole('listbox', { name: /^Section of a plate 16 mm thick with its weld/ });
    await expect(section).toBeVisible();

    await test.step('a row chooses its capture, marks its samples, and stands out in the section', async () => {
      await table.getByRole('row', { name: /^side wall/ }).click();
      await expect(page.getByText(/^Samples \d+ to \d+/)).toBeVisible();
      await expect(section.getByRole('option', { selected: true })).toHaveAccessibleName(
        /^side wall, taken for a reflector, depth 7\.\d+ ± .* mm, across -6\.\d+ ± .* mm, leg 2, sound path 49\.99/,
      );
      await expect(page.getByRole('application', { name: /^Trace .*capture_28_pct/ })).toBeVisible();
    });

    await test.step('keys choose in the section, and the table follows', async () => {
      await section.focus();
      await page.keyboard.press('ArrowRight');
      await expect(section.getByRole('option', { selected: true })).not.toHaveAccessibleName(/^side wall/);
      await section.press('End');
      await expect(section.getByRole('option', { selected: true })).toHaveAccessibleName(
        /^cap edge, taken for geometry/,
      );
      await expect(table.getByRole('row', { selected: true })).toHaveAccessibleName(/^cap edge/);
    });

    await test.step('the section as a table', async () => {
      await page.getByRole('radiogroup', { name: 'Form' }).getByText('Table', { exact: true }).click();
      const told = page.getByRole('region', { name: 'Section as a table' });
      await expect(told.getByRole('row', { name: /^root taken for a reflector 15\.00/ })).toBeVisible();
      await told.getByRole('button', { name: 'side wall' }).click();
      await expect(table.getByRole('row', { selected: true })).toHaveAccessibleName(/^side wall/);
      await expectAccessible(page);
    });

    await test.step('along the weld, the cap’s echo goes on beyond the scan', async () => {
      await show(page, 'Plan');
      const plan = page.getByRole('listbox', { name: /^Plan along the weld: \d+ positions, 4 indications/ });
      await expect(plan.getByRole('option', { selected: true })).toHaveAccessibleName(
        /^side wall, reflector, highest at 135\.00 mm, length 26\.\d+ ± /,
      );
      await plan.focus();
      await page.keyboard.press('Home');
      await expect(plan.getByRole('option', { selected: true })).not.toHaveAccessibleName(/^side wall/);
      await expectAccessible(page);
    });
  });

  test('the scan by true place and depth: read, chosen by keys and by a click, leg by leg, and across the weld', async ({
    page,
  }) => {
    await openWeld(page);
    await show(page, 'True depth');
    const panel = page.getByRole('region', { name: 'True depth' });
    const picture = panel.getByRole('application', {
      name: /^Picture by true depth of 82 captures, over the position/,
    });
    await expect(picture.getByText('Laying out')).toHaveCount(0);

    await test.step('keys find the highest echo, tell where it lies, and bring its capture on the trace', async () => {
      await picture.focus();
      await page.keyboard.press('Home');
      await expect(
        panel.getByText(
          /^Position \d+\.00 mm · depth 7\.\d+ ± 0\.\d+ mm · leg 2 · path 49\.\d+ mm · \d+\.\d % FSH at 50\.0 dB/,
        ),
      ).toBeVisible();
      await page.keyboard.press('Enter');
      await expect(page.getByText(/^Samples \d+ to \d+/)).toBeVisible();
      await expect(page.getByRole('application', { name: /^Trace .*second-leg/ })).toBeVisible();
    });

    await test.step('one leg alone', async () => {
      await panel.getByRole('radiogroup', { name: 'Legs' }).getByText('1', { exact: true }).click();
      await expect(picture.getByText('Laying out')).toHaveCount(0);
      await picture.focus();
      await expect(async () => {
        await page.keyboard.press('Home');
        await expect(panel.getByText(/^Position \d+\.00 mm · depth 1[45]\.\d+ ± .* · leg 1 · /)).toBeVisible({
          timeout: 500,
        });
      }).toPass();
      await panel.getByRole('radiogroup', { name: 'Legs' }).getByText('All legs').click();
      await expectAccessible(page);
    });

    await test.step('a click chooses the capture under it; outside the part there is nothing to choose', async () => {
      const box = (await picture.boundingBox())!;
      await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
      await expect(page.getByRole('application', { name: /^Trace .*capture_(19|2\d)_pct/ })).toBeVisible();
      await page.mouse.move(box.x + box.width / 2, box.y + 10);
      await expect(panel.getByText(/ · outside the part/)).toBeVisible();
    });

    await test.step('across the weld most was not measured, and that is said', async () => {
      await panel.getByRole('radiogroup', { name: 'Across' }).getByText('Across', { exact: true }).click();
      const across = panel.getByRole('application', { name: /across the weld$/ });
      await expect(across.getByText('Laying out')).toHaveCount(0);
      await across.focus();
      await expect(async () => {
        await page.keyboard.press('Home');
        await expect(panel.getByText(/^Across -6\.\d+ ± .* mm · depth 7\.\d+ ± .* · leg 2 · /)).toBeVisible({
          timeout: 500,
        });
      }).toPass();
      for (let i = 0; i < 8; i++) await page.keyboard.press('Shift+ArrowRight');
      await expect(panel.getByText(/ · not measured here/)).toBeVisible();
      await expectAccessible(page);
      await show(page, 'Series');
      await expect(page.getByRole('region', { name: 'Series' })).toBeVisible();
    });
  });

  test('an indication is asked, rated with its arithmetic, and left unrated without a reference', async ({ page }) => {
    await openWeld(page);
    const panel = await openProcedure(page, 'Indications');
    await panel
      .getByRole('grid', { name: 'Indications' })
      .getByRole('row', { name: /^side wall/ })
      .click();
    const chosen = step(panel, 'The one chosen');
    await expect(chosen.getByText(/^a − b − c = /)).toBeVisible();
    await expect(
      chosen.getByText(/^An aid to the arithmetic only\. Acceptance is by the table of the code/),
    ).toBeVisible();

    await chosen.getByRole('button', { name: /^Indication rating .*Where from\?/ }).click();
    const dialog = page.getByRole('dialog');
    await expect(dialog.getByText(/a − b − c/).first()).toBeVisible();
    await dialog.getByRole('button', { name: 'Close' }).click();

    const sizing = await unfold(panel, 'Size and amplitude');
    await sizing.getByRole('button', { name: 'Take the reference out' }).click();
    await settled(page, /captures in \d+ files/);
    await expect(chosen.getByText('No rating.', { exact: true })).toBeVisible();
    await expect(chosen.getByText(/the amplitude is unreferenced and gets no rating/).first()).toBeVisible();
    await page.keyboard.press('Control+z');
    await settled(page, /captures in \d+ files/);
    await expect(chosen.getByText(/^a − b − c = /)).toBeVisible();
  });

  test('indications are named, split and merged, and every step can be undone', async ({ page }) => {
    await openWeld(page);
    const panel = await openProcedure(page, 'Indications');
    const table = panel.getByRole('grid', { name: 'Indications' });
    await table.getByRole('row', { name: /^side wall/ }).click();
    const chosen = step(panel, 'The one chosen');

    await chosen.getByLabel('Name', { exact: true }).fill('left side wall');
    await page.keyboard.press('Enter');
    await expect(table.getByRole('row', { name: /^left side wall reflector/ })).toBeVisible();
    await expect(page.getByRole('button', { name: /^Undo: name indication/ })).toBeVisible();

    await chosen.getByText('Merge or split').click();
    await chosen.getByLabel(/^At a position/).fill('130');
    await page.keyboard.press('Enter');
    await chosen.getByRole('button', { name: 'Split here' }).click();
    await expect(table.getByRole('row', { name: /^left side wall, second/ })).toBeVisible();

    await choose(chosen, /Merge with/, 'left side wall, second');
    await chosen.getByRole('button', { name: 'Merge', exact: true }).click();
    await expect(table.getByRole('row', { name: /^left side wall, second/ })).toHaveCount(0);
    for (let i = 0; i < 3; i++) await page.getByRole('button', { name: /^Undo/ }).click();
    await expect(table.getByRole('row', { name: /^side wall reflector/ })).toBeVisible();
  });

  test('geometry expected at the root is confirmed, and stays until then', async ({ page }) => {
    await openWeld(page);
    const panel = await openProcedure(page, 'Location');
    const expected = step(panel, 'Geometry expected here');
    await expect(expected.getByText('to be confirmed')).toBeVisible();
    const places = panel.getByRole('grid', { name: 'Readings in the part' });
    await expect(places.getByRole('row').nth(1)).toHaveAccessibleName(/15\.\d\d ± /);
    await expected.getByRole('button', { name: 'It is a reflector' }).first().click();
    await expect(expected.getByText(/taken for a reflector/)).toBeVisible();
    await expectAccessible(page);
  });

  test('a part that cannot be: the sentence stands at the field, and nothing is drawn from it', async ({ page }) => {
    await openWeld(page);
    const panel = await openProcedure(page, 'Part and probe');
    await show(page, 'Section');
    await panel.getByLabel(/^Velocity in the wedge/).fill('3900');
    await page.keyboard.press('Enter');
    await expect(panel.getByRole('alert')).toContainText('the angle lies beyond the critical one');
    await expect(page.getByText('Nothing can be drawn from this part')).toBeVisible();
    await expectAccessible(page);
    await page.getByRole('button', { name: /^Undo/ }).click();
    await expect(page.getByRole('listbox', { name: /^Section of a plate/ })).toBeVisible();

    await unfold(panel, 'Shape');
    await step(panel, 'Shape')
      .getByLabel(/^Thickness/)
      .fill('0');
    await page.keyboard.press('Enter');
    await expect(panel.getByText('give a number above 0')).toBeVisible();
  });
});
