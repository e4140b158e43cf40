import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { createServer } from 'node:net';

/** What stands between a browser and everything but one server: it lets nothing through, and writes down what was asked. */
export interface Wall {
  /** The first line of each request that came, whatever part of the browser sent it. */
  readonly asked: string[];
  /** How Chromium is told to send everything here that is not for that server, other ports of this machine too. */
  flagsFor(address: string): readonly string[];
  close(): Promise<void>;
}

/** What Chromium asks by itself, whatever page it shows: after a newer version, an account, how fields may be filled in. No page has asked for it. */
const ofTheBrowser = /^[A-Z]+ (?:https?:\/\/)?(?:[a-z0-9-]+\.)*(?:google|googleapis|gstatic|gvt1)\.com[:/]/;

/** A proxy of the browser's: names are not even looked up by it, and no kind of request goes another way (pages, workers, sockets, beacons, what is fetched ahead). */
export async function wall(): Promise<Wall> {
  const asked: string[] = [];
  const server = createServer((line) => {
    line.on('error', () => {});
    line.once('data', (bytes) => {
      const first = bytes.toString('latin1').split('\r\n', 1)[0] ?? '';
      if (!ofTheBrowser.test(first)) asked.push(first);
      line.destroy();
    });
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  return {
    asked,
    flagsFor: (address) => [
      `--proxy-server=http://127.0.0.1:${port}`,
      `--proxy-bypass-list=<-loopback>;${new URL(address).host}`,
    ],
    close: () => new Promise((done) => server.close(() => done())),
  };
}
