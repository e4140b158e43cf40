import { readFile, realpath, stat } from 'node:fs/promises';
import { extname, join, normalize, sep } from 'node:path';
import { pageHeaders } from './content-policy.ts';

/** The folders that the page may read: the built page at `/`, the demonstration captures at `/sample/`. */
export interface AssetFolders {
  readonly page: string;
  readonly sample: string;
}

export interface Asset {
  readonly status: 200 | 404;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: Uint8Array<ArrayBuffer>;
}

const mediaTypes: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.txt': 'text/plain; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.json': 'application/json',
  '.csv': 'application/octet-stream',
};

/**
 * The file that a path of the page's address means, or `null` where it means none or would leave its folder:
 * `/` is `index.html`; `..`, an encoded slash, a backslash, a NUL, a hidden file or an unknown kind of file lead nowhere.
 */
export function fileOfPath(folders: AssetFolders, pathname: string): string | null {
  const path = decoded(pathname);
  if (path === null || !path.startsWith('/') || /[\\\0]/.test(path) || /%2f|%5c/i.test(pathname)) return null;
  const parts = path.split('/').slice(1);
  if (parts.some((part) => part.startsWith('.'))) return null;
  const [folder, inside] = parts[0] === 'sample' ? [folders.sample, parts.slice(1)] : [folders.page, parts];
  const name = inside.join('/') || 'index.html';
  if (mediaTypes[extname(name)] === undefined) return null;
  const file = normalize(join(folder, name));
  return file.startsWith(normalize(folder + sep)) ? file : null;
}

/** Reads the asset, with the headers that every answer bears. What cannot be read is not there. */
export async function readAsset(folders: AssetFolders, pathname: string): Promise<Asset> {
  const file = fileOfPath(folders, pathname);
  const body = file === null ? null : await contentOf(folders, file).catch(() => null);
  if (file === null || body === null) return missing;
  return {
    status: 200,
    headers: { ...pageHeaders, ...keptFor(pathname), 'Content-Type': mediaTypes[extname(file)] ?? '' },
    body: new Uint8Array(body),
  };
}

/** What the build named by its content never changes, so that the browser may keep it, and its compiled code with it. */
function keptFor(pathname: string): Readonly<Record<string, string>> {
  return /^\/assets\/[^/]+-[\w-]{8}\.\w+$/.test(pathname)
    ? { 'Cache-Control': 'public, max-age=31536000, immutable' }
    : {};
}

/** What stands in a file of these folders; `null` for what a link brings in from elsewhere, for a kind that is never served, and for what is no file. */
async function contentOf(folders: AssetFolders, file: string): Promise<Uint8Array | null> {
  const real = await realpath(file);
  const roots = await Promise.all([folders.page, folders.sample].map((folder) => realpath(folder).catch(() => folder)));
  if (!roots.some((root) => real.startsWith(root + sep)) || mediaTypes[extname(real)] === undefined) return null;
  return (await stat(real)).isFile() ? readFile(real) : null;
}

const missing: Asset = {
  status: 404,
  headers: { ...pageHeaders, 'Content-Type': 'text/plain; charset=utf-8' },
  body: new TextEncoder().encode('There is nothing at this address.\n'),
};

function decoded(pathname: string): string | null {
  try {
    return decodeURIComponent(pathname);
  } catch {
    return null;
  }
}
