import { AxeBuilder } from '@axe-core/playwright';
import { test as base, expect, type Page } from '@playwright/test';
import { reportPage } from '../../core/report/page/page.ts';
import { reportInput, savedReview } from '../../electron/cli/review-report.ts';
import { sampleReport } from '../build/sample-report.ts';
import { root, test as workbenchTest } from './workbench.ts';

/** A page opened as a person opens it: from a file, with all that it asks for and complains of written down. */
const test = base.extend<{ readonly complaints: string[]; readonly requests: string[]; watch: undefined }>({
  // biome-ignore lint/correctness/noEmptyPattern: Playwright reads the fixtures wanted from this pattern
  complaints: async ({}, use) => use([]),
  // biome-ignore lint/correctness/noEmptyPattern: as above
  requests: async ({}, use) => use([]),
  watch: [
    async ({ page, complaints, requests }, use) => {
      page.on('console', (message) => complaints.push(message.text()));
      page.on('pageerror', (error) => complaints.push(error.message));
      page.on('request', (request) => requests.push(request.url()));
      await use(undefined);
    },
    { auto: true },
  ],
});

const address = 'http://report.example/report.html';

async function open(page: Page, text: string): Promise<void> {
  await page.route('**/*', (route) =>
    route.request().url() === address
      ? route.fulfill({ contentType: 'text/html; charset=utf-8', body: text })
      : route.abort(),
  );
  await page.goto(address);
}

const hostile =
  '"><script>window.attacked = true</script><img src="http://elsewhere.example/x" onerror="window.attacked = true">\u202E<style>body{display:none}</style>';
const pages = [
  ['the sample review', () => reportPage(sampleReport())],
  [
    'a review whose words would be code',
    () =>
      reportPage(
        sampleReport((review) => ({
          ...review,
          title: hostile,
          notes: hostile,
          record: [
            { field: 'weld', value: hostile },
            { field: 'own', value: hostile },
          ],
        })),
      ),
  ],
] as const;

for (const [name, made] of pages) {
  test.describe(name, () => {
    test('asks for nothing, runs nothing, and its policy has nothing to complain of', async ({
      page,
      complaints,
      requests,
    }) => {
      await open(page, made());
      await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
      expect(requests).toEqual([address]);
      expect(complaints).toEqual([]);
      expect(await page.evaluate(() => 'attacked' in window)).toBe(false);
    });

    test('its own style holds, and no other could', async ({ page, complaints }) => {
      await open(page, made());
      await expect(page.locator('body')).toHaveCSS('background-color', 'rgb(255, 255, 255)');
      await page.evaluate(() => {
        const style = document.createElement('style');
        style.textContent = 'body { background-color: red }';
        document.head.append(style);
      });
      await expect(page.locator('body')).toHaveCSS('background-color', 'rgb(255, 255, 255)');
      expect(complaints.join()).toMatch(/Content Security Policy/);
    });

    test('axe has nothing to say, and nothing is wider than the page', async ({ page }) => {
      await open(page, made());
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(
        violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' | ')}`),
      ).toEqual([]);
      const room = await page.evaluate(() => [
        document.documentElement.scrollWidth,
        document.documentElement.clientWidth,
      ]);
      expect(room[0]).toBeLessThanOrEqual(room[1]);
    });

    for (const format of ['A4', 'Letter'] as const) {
      test(`prints on ${format}, nothing cut off at the side`, async ({ page }) => {
        await open(page, made());
        const pdf = await page.pdf({ format });
        const sheets = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) ?? [];
        expect(sheets.length).toBeGreaterThan(5);
        expect(sheets.length).toBeLessThan(40);
        const [wide, high] = format === 'A4' ? [595, 842] : [612, 792];
        const box = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(pdf.toString('latin1'));
        expect(
          [Math.round(Number(box?.[1])), Math.round(Number(box?.[2]))].map(
            (side, i) => Math.abs(side - [wide, high][i]) <= 1,
          ),
        ).toEqual([true, true]);
        // As wide as the paper less its margins of 15 mm: what is wider would be cut off.
        await page.emulateMedia({ media: 'print' });
        await page.setViewportSize({
          width: Math.floor(((format === 'A4' ? 210 : 215.9) - 30) * (96 / 25.4)),
          height: 1000,
        });
        const room = await page.evaluate(() => [
          document.documentElement.scrollWidth,
          document.documentElement.clientWidth,
        ]);
        expect(room[0]).toBeLessThanOrEqual(room[1]);
      });
    }
  });
}

test('the instruments’ review: every plot can be told in words, and every verdict leads to its arithmetic', async ({
  page,
  complaints,
}) => {
  const made = reportInput(savedReview(`${root}sample-data/instruments/review.json`));
  if (!made.ok) throw new Error('the sample is not there: npm run sample');
  await open(page, reportPage(made.value));
  for (const plot of [
    'Time-base linearity',
    'Screen-height linearity',
    'Gain linearity',
    'Distance-amplitude curve',
    'Control chart',
  ])
    await expect(
      page.getByRole('img', { name: new RegExp(`^${plot}.*Bars|^${plot}.*Control limits`) }).first(),
    ).toBeVisible();
  const first = page
    .getByRole('table')
    .filter({ hasText: 'What was held against the rule' })
    .first()
    .getByRole('link')
    .first();
  await first.click();
  await expect(page).toHaveURL(/#verdict-\d+$/);
  await expect(page.locator(':target')).toBeInViewport();
  expect(complaints).toEqual([]);
});

workbenchTest(
  'shown by the page in a browser, to be printed: the report keeps its style under the workbench’s own policy',
  async ({ page, context }) => {
    // Made before the page is waited for: it takes a while, in which nothing else goes on here.
    const report = reportPage(sampleReport());
    await page.goto('./');
    const opened = context.waitForEvent('page');
    // What the browser's host does where a person asks to print; see renderer/host/browser-files.ts.
    const asked = page.evaluate(
      (text) =>
        new Promise<string>((resolve) => {
          const shown = window.open(URL.createObjectURL(new Blob([text], { type: 'text/html' })));
          if (shown === null) resolve('no page was opened');
          shown?.addEventListener('load', () => {
            shown.print = () => resolve('asked to print');
            shown.print();
          });
        }),
      report,
    );
    const shownPage = await opened;
    expect(await asked).toBe('asked to print');
    await expect(shownPage.getByRole('heading', { level: 1 })).toBeVisible();
    await expect(shownPage.locator('h2').first()).toHaveCSS('border-top-style', 'solid');
  },
);
