import type { Bridge } from '../../electron/bridge.ts';
import type { Host } from './host.ts';

declare global {
  interface Window {
    /** Set by the preload script in the desktop window, and only there. */
    readonly workbench?: Bridge;
  }
}

/** The host in the desktop window, over the one table of calls. */
export function desktopHost(bridge: Bridge): Host {
  return {
    openSample: (name) =>
      bridge.openSample(name).catch((cause: unknown) => {
        throw new Error(`The sample capture ${name} is not there: run npm run sample, then open the window again.`, {
          cause,
        });
      }),
    about: () => bridge.about(),
  };
}
