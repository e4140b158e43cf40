import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fileOfPath } from '../../electron/assets.ts';
import { contentPolicy } from '../../electron/content-policy.ts';
import { type Served, serve } from '../../electron/serve.ts';

const folder = mkdtempSync(join(tmpdir(), 'workbench-'));
const folders = { page: join(folder, 'page'), sample: join(folder, 'sample') };
let served: Served;

beforeAll(async () => {
  for (const made of [folders.page, join(folders.page, 'assets'), folders.sample]) mkdirSync(made);
  writeFileSync(join(folders.page, 'index.html'), '<!doctype html>the page');
  writeFileSync(join(folders.page, 'assets/index.js'), 'page()');
  writeFileSync(join(folders.page, 'assets/page-B_4uV4Us.js'), 'page()');
  writeFileSync(join(folders.sample, 'block-B_4uV4Us.csv'), 'time_us,amplitude_pct\n');
  writeFileSync(join(folders.sample, 'block.csv'), 'time_us,amplitude_pct\n');
  writeFileSync(join(folder, 'secret.json'), '{}');
  served = await serve(folders);
});

afterAll(async () => {
  await served.close();
  rmSync(folder, { recursive: true });
});

interface Answered {
  readonly status: number | undefined;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly text: string;
}

/** `fetch` would tidy the path and set the host itself, so the bare client asks. */
function ask(path: string, headers: Record<string, string> = {}, method = 'GET'): Promise<Answered> {
  const { hostname, port } = new URL(served.address);
  return new Promise((resolve, reject) => {
    const asking = request({ hostname, port, path, method, headers }, (response) => {
      let text = '';
      response.setEncoding('utf8').on('data', (piece: string) => (text += piece));
      response.on('end', () => resolve({ status: response.statusCode, headers: response.headers, text }));
    });
    asking.on('error', reject).end();
  });
}

describe('serve', () => {
  it('listens on the loopback address only, on a free port', () => {
    expect(served.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
  });

  it.each([
    ['the page', '/', 'text/html; charset=utf-8', 'the page'],
    ['the page with a query', '/?theme=dark', 'text/html; charset=utf-8', 'the page'],
    ['its script', '/assets/index.js', 'text/javascript; charset=utf-8', 'page()'],
    ['a sample capture', '/sample/block.csv', 'application/octet-stream', 'time_us'],
  ])('serves %s with the content policy', async (_name, path, type, text) => {
    const answer = await ask(path);
    expect(answer.status).toBe(200);
    expect(answer.text).toContain(text);
    expect(answer.headers).toMatchObject({
      'content-type': type,
      'content-security-policy': contentPolicy,
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-embedder-policy': 'require-corp',
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
    });
  });

  it.each([
    ['what is named by its content', '/assets/page-B_4uV4Us.js', 'public, max-age=31536000, immutable'],
    ['what is named otherwise', '/assets/index.js', 'no-store'],
    ['the page itself', '/', 'no-store'],
    ['a sample capture', '/sample/block-B_4uV4Us.csv', 'no-store'],
  ])('lets the browser keep what never changes: %s', async (_name, path, kept) => {
    const answer = await ask(path);
    expect(answer.status).toBe(200);
    expect(answer.headers['cache-control']).toBe(kept);
  });

  it.each([
    ['a file that is not there', '/nothing.js'],
    ['upwards', '/../secret.json'],
    ['upwards from a folder', '/assets/../../secret.json'],
    ['upwards from the samples', '/sample/../../secret.json'],
    ['upwards, encoded', '/%2e%2e/secret.json'],
    ['an encoded slash', '/..%2fsecret.json'],
    ['an encoded backslash', '/..%5csecret.json'],
    ['a backslash', '/..\\secret.json'],
    ['a NUL', '/index.html%00.js'],
    ['a malformed escape', '/%zz'],
    ['a hidden file', '/.env.json'],
    ['a kind of file that is never served', '/sample/make.mjs'],
    ['a folder', '/assets/'],
    ['another site as a path', 'http://elsewhere.example/index.html'],
  ])('has nothing at %s', async (_name, path) => {
    const answer = await ask(path);
    expect(answer.status).toBe(404);
    expect(answer.headers['content-security-policy']).toBe(contentPolicy);
  });

  const port = () => new URL(served.address).port;
  it.each([
    ['the host of another site, pointed at this address', () => ({ Host: 'elsewhere.example' }), 403],
    ['the right host on another port', () => ({ Host: '127.0.0.1:1' }), 403],
    ['the origin of another site', () => ({ Origin: 'https://elsewhere.example' }), 403],
    ['an origin that begins like ours', () => ({ Origin: `http://127.0.0.1:${port()}.elsewhere.example` }), 403],
    ['the origin of a local file', () => ({ Origin: 'null' }), 403],
    ['our own origin', () => ({ Origin: `http://127.0.0.1:${port()}` }), 200],
    ['our other name', () => ({ Host: `localhost:${port()}` }), 200],
  ])('a request with %s', async (_name, headers, status) => {
    expect((await ask('/', headers())).status).toBe(status);
  });

  it.each(['POST', 'PUT', 'DELETE', 'OPTIONS'])('refuses %s', async (method) => {
    expect((await ask('/', {}, method)).status).toBe(405);
  });

  it('answers HEAD with the headers alone', async () => {
    const answer = await ask('/', {}, 'HEAD');
    expect([answer.status, answer.text]).toEqual([200, '']);
  });
});

describe('fileOfPath', () => {
  it('stays inside a folder whose name another folder’s begins with', () => {
    expect(fileOfPath({ page: '/a/page', sample: '/a/sample' }, '/../page-of-others/index.html')).toBeNull();
    expect(fileOfPath({ page: '/a/page', sample: '/a/sample' }, '/')).toBe('/a/page/index.html');
  });
});
