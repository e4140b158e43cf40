import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { findChromium, flags } from '../../browser/chromium.mjs';
import { keepCount } from './counts.mjs';

export const root = fileURLToPath(new URL('../../..', import.meta.url));

/** The built page in a browser of its own, from a copy: a build meanwhile does not take away what a long day still has to load. */
export async function openBrowser({ unpaced = false, page = `${root}build/renderer` } = {}) {
  const { serve } = await import(new URL('../../../build/serve.js', import.meta.url).href);
  const folder = mkdtempSync(join(tmpdir(), 'workbench-page-'));
  cpSync(page, folder, { recursive: true });
  const served = await serve({ page: folder, sample: `${root}sample-data` });
  // Frames that follow one another as fast as they are done: their distance is the work they take.
  const args = [...flags, ...(unpaced ? ['--disable-frame-rate-limit', '--disable-gpu-vsync'] : [])];
  const browser = await chromium.launch({ executablePath: findChromium() ?? undefined, args });
  return {
    address: served.address,
    browser,
    async close() {
      await browser.close();
      await served.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** A window of its own, with what it complains of written down. */
export async function openWindow({ browser, address }, size = { width: 1440, height: 900 }) {
  const context = await browser.newContext({ viewport: size, locale: 'en-GB', reducedMotion: 'reduce' });
  await context.addInitScript(keepCount);
  const page = await context.newPage();
  // A machine that does much else beside it may let a person wait.
  page.setDefaultTimeout(120_000);
  const complaints = [];
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('crash', () => complaints.push('The page is gone.'));
  await page.goto(address);
  return { page, complaints };
}

/** Answers the browser's file dialog with files. (Playwright's own way keeps the field of every dialog for as long as the page is there.) */
export async function give(page, button, files) {
  const session = await page.context().newCDPSession(page);
  await session.send('Page.enable');
  await session.send('Page.setInterceptFileChooserDialog', { enabled: true });
  const asked = new Promise((resolve) => session.once('Page.fileChooserOpened', resolve));
  await page.getByRole('button', { name: button }).first().click();
  const { backendNodeId } = await asked;
  await session.send('DOM.setFileInputFiles', { backendNodeId, files });
  await session.detach();
}

/** Everything is taken in and worked out. */
export async function settled(page, words, timeout = 300_000) {
  await page.getByRole('contentinfo').getByRole('status').getByText(words).waitFor({ timeout });
  await page.waitForFunction(
    () => {
      const quiet = window.quiet ?? { since: performance.now() };
      if (document.querySelector('footer [role="progressbar"]') !== null) quiet.since = performance.now();
      window.quiet = quiet;
      if (performance.now() - quiet.since < 250) return false;
      window.quiet = undefined;
      return true;
    },
    undefined,
    { polling: 50, timeout },
  );
}
