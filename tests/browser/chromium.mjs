import { existsSync } from 'node:fs';

const places = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/** The path of a Chromium on this machine (`CHROMIUM` names another), or `null`. */
export function findChromium() {
  return [process.env.CHROMIUM, ...places].find((path) => path && existsSync(path)) ?? null;
}
