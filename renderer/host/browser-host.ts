import type { Host } from './host.ts';

/** The host where the page is served to a plain browser. */
export const browserHost: Host = {
  async openSample(name) {
    const answer = await fetch(`./sample/${name}`);
    if (!answer.ok)
      throw new Error(`The sample capture ${name} is not there: run npm run sample, then load this page again.`);
    return { name, bytes: new Uint8Array(await answer.arrayBuffer()) };
  },

  async about() {
    return { version: import.meta.env.VITE_VERSION };
  },
};
