import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { type Served, serve } from '../../electron/serve.ts';
import { galleryFolders, goTo, layoutFaults, openGallery, scenesOf } from './gallery.ts';
import { expect, test as withComplaints } from './workbench.ts';

/** The gallery in the place of the workbench, served in the same manner. */
const test = withComplaints.extend<object, { served: Served }>({
  served: [
    // biome-ignore lint/correctness/noEmptyPattern: Playwright reads the fixtures wanted from this pattern
    async ({}, use) => {
      const served = await serve(galleryFolders);
      await use(served);
      await served.close();
    },
    { scope: 'worker' },
  ],
});

/** Sections whose scenes stand side by side on one page, and those whose scenes each take the window. */
const beside = ['parts', 'shell', 'captures', 'trace', 'series', 'procedures', 'wherefrom'];
const alone = ['dialogs', 'pages'];

/** What a page may have once, and a gallery many times. */
const oncePerPage = [
  'landmark-unique',
  'landmark-no-duplicate-banner',
  'landmark-no-duplicate-contentinfo',
  'page-has-heading-one',
];

async function accessFaults(page: Page, rulesOff: readonly string[]): Promise<readonly string[]> {
  const { violations } = await new AxeBuilder({ page }).disableRules([...rulesOff]).analyze();
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id}: ${target.join(' ')}: ${failureSummary}`),
  );
}

/** The window as high as the section, so that all of it is laid out and painted. */
async function showWhole(page: Page, section: string): Promise<void> {
  const { width } = page.viewportSize()!;
  await goTo(page, section);
  const high = await page.getByRole('main').evaluate((main) => main.scrollHeight);
  await page.setViewportSize({ width, height: Math.max(high, 700) });
  await goTo(page, section);
}

for (const scheme of ['light', 'dark'] as const) {
  test.describe(`the gallery, ${scheme}`, () => {
    test.use({ colorScheme: scheme });
    test.slow();

    for (const section of beside) {
      test(`${section}: everything fits, and axe has nothing to say`, async ({ page }) => {
        await openGallery(page);
        expect((await scenesOf(page, section)).length).toBeGreaterThan(3);
        await showWhole(page, section);
        expect(await layoutFaults(page)).toEqual([]);
        expect(await accessFaults(page, oncePerPage)).toEqual([]);
      });
    }

    for (const section of alone) {
      test(`${section}: each fits the window, and axe has nothing to say`, async ({ page }) => {
        await openGallery(page);
        const faults: string[] = [];
        for (const scene of await scenesOf(page, section)) {
          await goTo(page, scene);
          const wider = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
          if (wider > 0) faults.push(`${scene}: the page is ${wider} px wider than the window`);
          faults.push(...(await layoutFaults(page)));
          faults.push(...(await accessFaults(page, [])).map((fault) => `${scene}: ${fault}`));
        }
        expect(faults).toEqual([]);
      });
    }
  });
}
