// `npm run shots`: the pictures of the README, light and dark, from the sample scenario in Chromium. The same pages give the same pictures.
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { buildOrExit } from '../../electron/build.mjs';
import { findChromium, flags } from './chromium.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = `${root}tests/browser/shots/`;
const size = { width: 1280, height: 800 };

/** What is done, from the page before, to come to each picture. */
const pictures = {
  'first-page': async () => {},
  calibration: async (page) => {
    await page.getByRole('button', { name: 'Open the sample' }).click();
    await resting(page, /^\d+ captures in \d+ files$/);
    await chooseCapture(page, 'reference-block');
    await openTab(page, 'Calibration');
    const panel = page.getByRole('tabpanel', { name: /^Calibration/ });
    await panel.getByRole('heading', { name: 'Velocity and zero offset' }).evaluate((heading) => {
      heading.scrollIntoView({ block: 'center' });
    });
  },
  'off-peak-reading': async (page) => {
    await chooseCapture(page, 'capture_10_');
    await openTab(page, 'Readings');
    await page
      .getByRole('group', { name: 'Gates' })
      .getByRole('button', { name: /dB below peak/ })
      .first()
      .click();
    await page.getByRole('dialog').getByRole('button', { name: 'Show on the trace' }).click();
    await page
      .getByRole('dialog')
      .getByText('Below the peak')
      .first()
      .evaluate((words) => {
        words.scrollIntoView({ block: 'start' });
      });
  },
  series: async (page) => {
    await page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
    await page.getByRole('application', { name: /^Trace / }).focus();
    for (let i = 0; i < 2; i++) await page.keyboard.press('+');
    await page.getByRole('region', { name: 'Series' }).getByText('dB', { exact: true }).first().click();
  },
  drift: async (page) => {
    await chooseCapture(page, 'check-7');
    await openTab(page, 'Drift');
    const panel = page.getByRole('tabpanel', { name: /^Drift/ });
    await panel.getByRole('heading', { name: 'Deviations in order of time' }).evaluate((heading) => {
      heading.scrollIntoView({ block: 'start' });
    });
  },
  location: async (page) => {
    await chooseCapture(page, 'capture_14_');
    await openTab(page, 'Location', 'Part');
    await choosePicture(page, 'Section');
    await page
      .getByRole('tabpanel', { name: /^Location/ })
      .getByRole('heading', { name: 'Geometry expected here' })
      .evaluate((heading) => heading.scrollIntoView({ block: 'end' }));
  },
  indication: async (page) => {
    await openTab(page, 'Indications', 'Part');
    const panel = page.getByRole('tabpanel', { name: /^Indications/ });
    await panel.getByRole('row', { name: /^side wall/ }).click();
    await panel.getByRole('heading', { name: 'The one chosen' }).evaluate((heading) => {
      heading.scrollIntoView({ block: 'start' });
    });
  },
  depth: async (page) => {
    await choosePicture(page, 'True depth');
    const picture = page.getByRole('application', { name: /^Picture by true depth/ });
    await picture.focus();
    await picture.getByText('Laying out').waitFor({ state: 'detached' });
    await page.keyboard.press('Home');
    await page.keyboard.press('Enter');
  },
  plan: async (page) => {
    await choosePicture(page, 'Plan');
    await page
      .getByRole('tabpanel', { name: /^Indications/ })
      .getByRole('button', { name: /^Indication rating/ })
      .click();
  },
  verdicts: async (page) => {
    await page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
    await page.getByRole('button', { name: 'File', exact: true }).click();
    await page.getByRole('menuitem', { name: /yearly check/ }).click();
    await resting(page, '82 captures in 43 files');
    await openTab(page, 'Verdicts', 'Record');
    await page
      .getByRole('tabpanel', { name: /^Verdicts/ })
      .getByRole('button', { name: /^Time-base linearity, echo 6/ })
      .click();
  },
  'screen-height': async (page) => {
    await page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
    await chooseCapture(page, 'two-echo-080');
    await openTab(page, 'Screen height', 'Instrument');
    await page
      .getByRole('tabpanel', { name: /^Screen height/ })
      .getByRole('heading', { name: 'Steps and verdicts' })
      .evaluate((heading) => heading.scrollIntoView({ block: 'start' }));
  },
  sensitivity: async (page) => {
    await chooseCapture(page, 'hole-050');
    await openTab(page, 'Sensitivity', 'Amplitude');
    await page
      .getByRole('tabpanel', { name: /^Sensitivity/ })
      .getByRole('heading', { name: 'Distance-amplitude curve' })
      .evaluate((heading) => heading.scrollIntoView({ block: 'start' }));
  },
  report: async (page) => {
    await openTab(page, 'Report', 'Record');
    await page.getByRole('button', { name: 'Preview …' }).click();
    await page.frameLocator('iframe').getByRole('heading', { level: 1 }).waitFor();
  },
};

async function openTab(page, name, group = 'Distance') {
  await page
    .getByRole('tablist', { name: 'Groups' })
    .getByRole('tab', { name: new RegExp(`^${group}`) })
    .click();
  await page.getByRole('tab', { name: new RegExp(`^${name}`) }).click();
}

async function chooseCapture(page, words) {
  const captures = page.getByRole('complementary', { name: 'Captures' });
  await captures.getByPlaceholder('Filter').fill(words);
  const option = captures.getByRole('option', { name: new RegExp(words) }).first();
  await option.click();
  await captures.getByRole('option', { name: new RegExp(words), selected: true }).waitFor();
  await captures.getByPlaceholder('Filter').fill('');
}

async function choosePicture(page, name) {
  await page.getByRole('radiogroup', { name: 'Picture below the trace' }).getByText(name, { exact: true }).click();
}

/** Nothing is under way any more, and nothing has the pointer over it. */
async function resting(page, words) {
  if (words !== undefined) await page.getByText(words).waitFor();
  await page.mouse.move(0, size.height - 1);
  for (let quiet = 0; quiet < 4; ) {
    await page.waitForTimeout(150);
    quiet = (await page.getByRole('contentinfo').getByRole('progressbar').count()) === 0 ? quiet + 1 : 0;
  }
}

await buildOrExit(['desktop']);
const { serve } = await import(new URL('../../build/serve.js', import.meta.url).href);
const served = await serve({ page: `${root}build/renderer`, sample: `${root}sample-data` });
const browser = await chromium.launch({ executablePath: findChromium() ?? undefined, args: flags });
mkdirSync(folder, { recursive: true });
try {
  for (const colorScheme of ['light', 'dark']) {
    const context = await browser.newContext({
      viewport: size,
      colorScheme,
      reducedMotion: 'reduce',
      locale: 'en-GB',
      timezoneId: 'UTC',
    });
    const page = await context.newPage();
    await page.goto(served.address);
    for (const [name, come] of Object.entries(pictures)) {
      await come(page);
      await resting(page);
      const path = `${folder}${name}-${colorScheme}.png`;
      await page.screenshot({ path, caret: 'hide', animations: 'disabled' });
      console.log(path.slice(root.length));
    }
    await context.close();
  }
} finally {
  await browser.close();
  await served.close();
}
