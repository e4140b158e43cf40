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

/** Sections whose scenes stand side by side, and those whose scenes each take the window. */
const beside = [
  'parts',
  'shell',
  'captures',
  'trace',
  'series',
  'import',
  'calibration',
  'readings',
  'drift',
  'section',
  'depth',
  'part',
  'location',
  'indications',
  'time-base',
  'screen-height',
  'gain',
  'sensitivity',
  'probes',
  'comparison',
  'material',
  'probe-pictures',
  'verdicts',
  'report',
  'wherefrom',
] as const;
const alone = ['dialogs', 'pages'] as const;

/** Rules of what a page may have once, and a gallery many times. */
const oncePerPage = [
  'landmark-unique',
  'landmark-no-duplicate-banner',
  'landmark-no-duplicate-contentinfo',
  'page-has-heading-one',
];

/** In the dark only the colours are others. */
async function accessFaults(page: Page, scheme: string, rulesOff: readonly string[]): Promise<readonly string[]> {
  const axe = new AxeBuilder({ page });
  if (scheme === 'dark') axe.withRules(['color-contrast']);
  else axe.disableRules([...rulesOff]);
  const { violations } = await axe.analyze();
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

test('every section is looked at', async ({ page }) => {
  await openGallery(page);
  const links = page.getByRole('navigation', { name: 'Sections' }).getByRole('heading').getByRole('link');
  const sections = await links.evaluateAll((all) => all.map((link) => link.getAttribute('href')?.slice(1)));
  expect(sections).toEqual([...beside, ...alone]);
});

for (const scheme of ['light', 'dark'] as const) {
  test.describe(`in the gallery, ${scheme}:`, () => {
    test.use({ colorScheme: scheme });
    test.slow();

    for (const section of beside) {
      test(`${section}: every state fits its frame, and axe has nothing to say`, async ({ page }) => {
        await openGallery(page);
        expect((await scenesOf(page, section)).length).toBeGreaterThan(3);
        await showWhole(page, section);
        expect(await layoutFaults(page)).toEqual([]);
        expect(await accessFaults(page, scheme, oncePerPage)).toEqual([]);
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
          faults.push(...(await layoutFaults(page)).map((fault) => `${section}/${fault}`));
          faults.push(...(await accessFaults(page, scheme, [])).map((fault) => `${scene}: ${fault}`));
        }
        expect(faults).toEqual([]);
      });
    }
  });
}

test.describe('in the gallery, where the page is enlarged to twice its size:', () => {
  test.use({ viewport: { width: 512, height: 350 } });

  test('no page is wider than the window', async ({ page }) => {
    await openGallery(page);
    const faults: string[] = [];
    for (const scene of await scenesOf(page, 'pages')) {
      await goTo(page, scene);
      const wider = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      if (wider > 0) faults.push(`${scene}: the page is ${wider} px wider than the window`);
      faults.push(...(await layoutFaults(page)).map((fault) => `pages/${fault}`));
    }
    expect(faults).toEqual([]);
  });
});
