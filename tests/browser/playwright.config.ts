import { defineConfig } from '@playwright/test';
import { findChromium } from './chromium.mjs';

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
  forbidOnly: process.env.CI !== undefined,
  reporter: 'line',
  use: {
    actionTimeout: 10_000,
    locale: 'en-GB',
    timezoneId: 'UTC',
    contextOptions: { reducedMotion: 'reduce' },
    launchOptions: {
      ...(executablePath === null ? {} : { executablePath }),
      // No sandbox, since the tests also run as root; the others make pictures repeat and keep the browser from calling home.
      args: [
        '--no-sandbox',
        '--font-render-hinting=none',
        '--force-color-profile=srgb',
        '--disable-lcd-text',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--no-first-run',
      ],
    },
  },
  projects: [
    { name: 'wide', use: { viewport: { width: 1440, height: 900 } } },
    { name: 'narrow', use: { viewport: { width: 1024, height: 700 } } },
  ],
});
