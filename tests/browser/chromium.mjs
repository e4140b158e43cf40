import { existsSync } from 'node:fs';

const places = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/** The path of a Chromium on this machine (`CHROMIUM` names another), or `null`. */
export function findChromium() {
  return [process.env.CHROMIUM, ...places].find((path) => path && existsSync(path)) ?? null;
}

/** No sandbox, since the tests also run as root; the others make pictures repeat and keep the browser from calling home. */
export const flags = [
  '--no-sandbox',
  '--font-render-hinting=none',
  '--force-color-profile=srgb',
  '--disable-lcd-text',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
];
