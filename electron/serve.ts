import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { type AssetFolders, readAsset } from './assets.ts';
import { pageHeaders } from './content-policy.ts';

export interface Served {
  /** `http://127.0.0.1:PORT/` */
  readonly address: string;
  close(): Promise<void>;
}

/**
 * Serves the workbench on the loopback address, where no desktop window can be had. Port 0 takes a free one.
 * Only this machine reaches it, and only under its own name: a request that another site's page was tricked into sending
 * (its own host name pointed at the loopback address, or its own origin) is refused.
 */
export function serve(folders: AssetFolders, port = 0): Promise<Served> {
  const server = createServer((request, response) => {
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
  if (!isOwnHost(request.headers.host, port) || !isOwnOrigin(request.headers.origin, port)) {
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

function portOf(address: string | AddressInfo | null): number {
  return typeof address === 'object' && address !== null ? address.port : 0;
}
