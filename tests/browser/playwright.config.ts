import { defineConfig } from '@playwright/test';
import { findChromium, flags } from './chromium.mjs';

const executablePath = findChromium();

export default defineConfig({
  testDir: '.',
  testMatch: '*.spec.ts',
  outputDir: '../../build/test-results/browser',
  fullyParallel: true,
  workers: 2,
  // Two browsers on two cores: what a person waits a moment for may take longer here.
  expect: { timeout: 10_000 },
  timeout: 60_000,
  // What passes only at the second try is told as flaky, by name, and is to be mended; it does not hold up the rest.
  retries: process.env.CI === undefined ? 0 : 1,
  forbidOnly: process.env.CI !== undefined,
  reporter: 'line',
  use: {
    actionTimeout: 10_000,
    locale: 'en-GB',
    timezoneId: 'UTC',
    contextOptions: { reducedMotion: 'reduce' },
    launchOptions: {
      ...(executablePath === null ? {} : { executablePath }),
      args: [...flags],
    },
  },
  projects: [
    { name: 'wide', use: { viewport: { width: 1440, height: 900 } } },
    {
      name: 'narrow',
      // What has nothing to do with the room there is, or takes its own, is held once.
      testIgnore:
        /(endings|first-sight|small-day|main-job|figures|undo|keeping|thousands|screens|trace|shell|report|same-bytes|no-requests|hostile)\.spec\.ts$/,
      use: { viewport: { width: 1024, height: 700 } },
    },
  ],
});
