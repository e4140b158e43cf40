import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { type AssetFolders, readAsset } from './assets.ts';
import { pageHeaders } from './content-policy.ts';

export interface Served {
  /** `http://127.0.0.1:PORT/` */
  readonly address: string;
  close(): Promise<void>;
}

/** A browser on the same machine has asked within a blink; who has not after so long only holds the line. */
const patienceMs = 10_000;

/**
 * Serves the workbench on the loopback address, where no desktop window can be had. Port 0 takes a free one.
 * Only this machine reaches it, and only under its own name: a request that another site's page was tricked into sending
 * (its own host name pointed at the loopback address, its own origin, or a picture, script or frame in that page) is refused.
 */
export function serve(folders: AssetFolders, port = 0): Promise<Served> {
  const server = createServer({ headersTimeout: patienceMs, requestTimeout: patienceMs }, (request, response) => {
    answer(folders, portOf(server.address()), request, response).catch(() => response.destroy());
  });
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', () => {
      resolve({
        address: `http://127.0.0.1:${portOf(server.address())}/`,
        close: () =>
          new Promise((done) => {
            server.close(() => done());
            server.closeAllConnections();
          }),
      });
    });
  });
}

async function answer(folders: AssetFolders, port: number, request: IncomingMessage, response: ServerResponse) {
  const { host, origin } = request.headers;
  if (!isOwnHost(host, port) || !isOwnOrigin(origin, port) || isForAnotherPage(request)) {
    return refuse(response, 403, 'Only the page served here may ask here.');
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    return refuse(response, 405, 'Files can only be read here.', { Allow: 'GET, HEAD' });
  }
  const asset = await readAsset(folders, pathOf(request.url));
  response.writeHead(asset.status, { ...asset.headers, 'Content-Length': asset.body.byteLength });
  response.end(request.method === 'HEAD' ? undefined : asset.body);
}

function refuse(response: ServerResponse, status: number, sentence: string, headers: Record<string, string> = {}) {
  response.writeHead(status, { ...pageHeaders, ...headers, 'Content-Type': 'text/plain; charset=utf-8' });
  response.end(`${sentence}\n`);
}

/** The path as it was sent: `URL` would resolve `..` before it could be refused. */
function pathOf(url = '/'): string {
  return url.split(/[?#]/, 1)[0] ?? '/';
}

function isOwnHost(host: string | undefined, port: number): boolean {
  return host === `127.0.0.1:${port}` || host === `localhost:${port}`;
}

/** A browser sends no origin with a plain navigation. */
function isOwnOrigin(origin: string | undefined, port: number): boolean {
  return origin === undefined || origin === `http://127.0.0.1:${port}` || origin === `http://localhost:${port}`;
}

/**
 * A browser says where a request comes from and what for (Fetch Metadata Request Headers, W3C). From another site or another port of this machine only a
 * person who follows a link may come, to see the page itself; what says nothing of it is no page of a browser.
 */
function isForAnotherPage({ headers }: IncomingMessage): boolean {
  const site = headers['sec-fetch-site'];
  if (site === undefined || site === 'same-origin' || site === 'none') return false;
  return headers['sec-fetch-mode'] !== 'navigate' || headers['sec-fetch-dest'] !== 'document';
}

function portOf(address: string | AddressInfo | null): number {
  return typeof address === 'object' && address !== null ? address.port : 0;
}
