import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { networkInterfaces, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pageHeaders } from '../../electron/content-policy.ts';
import { type Served, serve } from '../../electron/serve.ts';

const folder = mkdtempSync(join(tmpdir(), 'workbench-loopback-'));
const folders = { page: join(folder, 'page'), sample: join(folder, 'sample') };
const secret = 'nothing that is served';
const whole = `<!doctype html>${'the page '.repeat(1000)}`;
let served: Served;
let port: number;

beforeAll(async () => {
  for (const made of [folders.page, join(folders.page, 'assets'), folders.sample, join(folder, 'page-of-others')])
    mkdirSync(made);
  writeFileSync(join(folders.page, 'index.html'), whole);
  writeFileSync(join(folders.page, 'assets/index.js'), 'page()');
  writeFileSync(join(folders.sample, 'block.csv'), 'time_us,amplitude_pct\n');
  writeFileSync(join(folders.sample, 'make.mjs'), secret);
  for (const place of ['secret.json', 'page-of-others/secret.json', 'secret'])
    writeFileSync(join(folder, place), secret);
  symlinkSync(join(folder, 'secret.json'), join(folders.page, 'link.json'));
  symlinkSync(folder, join(folders.page, 'linked'));
  symlinkSync(join(folders.sample, 'make.mjs'), join(folders.sample, 'made.json'));
  execFileSync('mkfifo', [join(folders.page, 'pipe.json')]);
  served = await serve(folders);
  port = Number(new URL(served.address).port);
});

afterAll(async () => {
  await served.close();
  rmSync(folder, { recursive: true });
});

interface Answered {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
}

/** Sends the very bytes, and reads until the line is closed: a client of HTTP would tidy them. */
function send(bytes: string | Buffer, host = '127.0.0.1'): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = '';
    const line = connect(port, host, () => line.write(bytes));
    line.setEncoding('latin1').on('data', (piece: string) => {
      text += piece;
    });
    line.on('error', (error) => (text === '' ? reject(error) : resolve(text)));
    line.on('close', () => resolve(text));
    line.setTimeout(20_000, () => line.destroy(new Error('no answer')));
  });
}

function answered(text: string): Answered {
  const [head = '', ...rest] = text.split('\r\n\r\n');
  const [first = '', ...lines] = head.split('\r\n');
  const headers = Object.fromEntries(
    lines.map((line) => [line.slice(0, line.indexOf(':')).toLowerCase(), line.slice(line.indexOf(':') + 2)]),
  );
  return { status: Number(first.split(' ')[1]), headers, body: rest.join('\r\n\r\n') };
}

async function ask(path: string, more: readonly string[] = [], method = 'GET'): Promise<Answered> {
  const own = more.some((line) => /^host:/i.test(line)) ? [] : [`Host: 127.0.0.1:${port}`];
  return answered(
    await send([`${method} ${path} HTTP/1.1`, ...own, ...more, 'Connection: close', '', ''].join('\r\n')),
  );
}

describe('where it listens', () => {
  const others = Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .map(({ address, scopeid }) => (scopeid ? `${address}%${scopeid}` : address))
    .filter((address) => address !== '127.0.0.1');

  it.each(['::1', '127.0.0.2', ...others])('nobody answers at %s', async (host) => {
    await expect(send(`GET / HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n\r\n`, host)).rejects.toThrow();
  });
});

describe('who may ask', () => {
  const own = () => `127.0.0.1:${port}`;
  it.each<[string, () => string[], number]>([
    ['our own name', () => [`Host: ${own()}`], 200],
    ['another site’s name, pointed at this address (DNS rebinding)', () => [`Host: rebound.example:${port}`], 403],
    ['our name without the port', () => ['Host: 127.0.0.1'], 403],
    ['no name', () => ['Host:'], 403],
    ['our name with another’s behind it', () => [`Host: ${own()}.rebound.example`], 403],
    ['our name as a user of another', () => [`Host: ${own()}@rebound.example`], 403],
    ['our name with a dot behind it', () => [`Host: localhost.:${port}`], 403],
    ['another loopback address', () => [`Host: 127.0.0.2:${port}`], 403],
    ['the address as one number', () => [`Host: 2130706433:${port}`], 403],
    ['the address of version 6', () => [`Host: [::1]:${port}`], 403],
    ['two names, the first a stranger’s', () => ['Host: rebound.example', `Host: ${own()}`], 403],
    ['the origin of another port of this machine', () => ['Origin: http://127.0.0.1:1'], 403],
    ['our origin by another scheme', () => [`Origin: https://${own()}`], 403],
    ['an origin that is none', () => ['Origin: null'], 403],
    ['an empty origin', () => ['Origin:'], 403],
    ['two origins', () => [`Origin: http://${own()}`, 'Origin: https://elsewhere.example'], 403],
    ['a picture in another site’s page', () => fetched('cross-site', 'no-cors', 'image'), 403],
    ['a script in another site’s page', () => fetched('cross-site', 'no-cors', 'script'), 403],
    ['a frame in another site’s page', () => fetched('cross-site', 'navigate', 'iframe'), 403],
    ['a script in a page of another port', () => fetched('same-site', 'no-cors', 'script'), 403],
    ['a link in another site’s page, followed', () => fetched('cross-site', 'navigate', 'document'), 200],
    ['an address typed', () => fetched('none', 'navigate', 'document'), 200],
    ['our page’s own script', () => fetched('same-origin', 'no-cors', 'script'), 200],
  ])('%s', async (_name, headers, status) => {
    const answer = await ask('/', headers());
    expect(answer.status).toBe(status);
    if (status !== 200) expect(answer.body).not.toContain('<!doctype');
  });

  function fetched(site: string, mode: string, dest: string): string[] {
    return [`Sec-Fetch-Site: ${site}`, `Sec-Fetch-Mode: ${mode}`, `Sec-Fetch-Dest: ${dest}`];
  }

  it('a request without any name is none', async () => {
    expect(answered(await send('GET / HTTP/1.1\r\nConnection: close\r\n\r\n')).status).toBe(400);
  });

  it('each of several requests on one line is looked at by itself', async () => {
    const ours = `GET /assets/index.js HTTP/1.1\r\nHost: ${own()}\r\n\r\n`;
    const foreign = 'GET / HTTP/1.1\r\nHost: rebound.example\r\nConnection: close\r\n\r\n';
    const text = await send(ours + foreign);
    expect([...text.matchAll(/HTTP\/1\.1 (\d+)/g)].map(([, status]) => status)).toEqual(['200', '403']);
    expect(text).not.toContain('<!doctype');
  });

  it.each([
    ['two lengths', 'Content-Length: 4\r\nContent-Length: 40\r\n'],
    ['a length and pieces', 'Content-Length: 4\r\nTransfer-Encoding: chunked\r\n'],
    ['a line that is folded', 'X: a\r\n b\r\nHost : x\r\n'],
  ])('a request whose end is not plain is refused: %s', async (_name, headers) => {
    const text = await send(`GET / HTTP/1.1\r\nHost: ${own()}\r\n${headers}\r\n0\r\n\r\n`);
    expect(answered(text).status).toBe(400);
  });
});

describe('what may be asked', () => {
  it.each(['POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS', 'TRACE', 'PROPFIND'])('%s is refused', async (method) => {
    const answer = await ask('/', [], method);
    expect([answer.status, answer.headers.allow]).toEqual([405, 'GET, HEAD']);
  });

  it('CONNECT leads nowhere', async () => {
    const text = await send(`CONNECT elsewhere.example:443 HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n\r\n`);
    expect(text).not.toMatch(/ 200 /);
  });

  it('no other protocol is changed to', async () => {
    const upgrade = ['Upgrade: websocket', 'Sec-WebSocket-Version: 13', 'Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA=='];
    expect((await ask('/', upgrade)).status).not.toBe(101);
  });

  it.each([
    ['upwards', '/../secret.json'],
    ['upwards, encoded', '/%2e%2e/secret.json'],
    ['upwards, the slash too', '/%2e%2e%2fsecret.json'],
    ['encoded twice', '/%252e%252e%252fsecret.json'],
    ['in an overlong form (RFC 3629, 10)', '/%c0%ae%c0%ae/secret.json'],
    ['as wide characters', '/%ef%bc%8e%ef%bc%8e/secret.json'],
    ['from a folder', '/assets/../../secret.json'],
    ['from the sample', '/sample/../../secret.json'],
    ['from the sample, encoded', '/sample/%2e%2e/%2e%2e/secret.json'],
    ['a folder whose name begins alike', '/../page-of-others/secret.json'],
    ['backslashes', '/..\\secret.json'],
    ['backslashes, encoded', '/..%5c..%5csecret.json'],
    ['a NUL before another ending', '/../secret%00.json'],
    ['a NUL alone', '/%00'],
    ['an absolute path', '//etc/hostname'],
    ['an absolute path, encoded', '/%2fetc%2fhostname'],
    ['a drive', '/c:/secret.json'],
    ['a stream of a file', '/index.html::$DATA'],
    ['a dot behind the ending', '/index.html.'],
    ['a blank behind the ending', '/index.html%20'],
    ['another site as a path', 'http://elsewhere.example/secret.json'],
    ['a path without its slash', 'secret.json'],
    ['a hidden file', '/.secret.json'],
    ['a link to a file outside', '/link.json'],
    ['through a link to a folder outside', '/linked/secret.json'],
    ['a link to a kind that is never served', '/sample/made.json'],
    ['that kind itself', '/sample/make.mjs'],
    ['a pipe, which would never end', '/pipe.json'],
    ['a folder', '/assets'],
    ['the sample as a folder', '/sample/'],
    ['a name of every object', '/__proto__'],
    ['an ending of every object', '/x.constructor'],
  ])('%s leads nowhere: %s', async (_name, path) => {
    const answer = await ask(path);
    expect([400, 404]).toContain(answer.status);
    expect(answer.body).not.toContain(secret);
    expect(answer.body).not.toContain('root');
  });

  it.each([
    ['one byte', 'bytes=0-0'],
    ['the end', 'bytes=-5'],
    ['beyond the end', 'bytes=99999999-'],
    ['backwards', 'bytes=9-1'],
    ['a thousand at once', `bytes=${'0-,'.repeat(1000)}0-`],
    ['what is no range', 'lines=1-2'],
  ])('a part is answered by the whole, once: %s', async (_name, range) => {
    const answer = await ask('/', [`Range: ${range}`]);
    expect([answer.status, answer.body]).toEqual([200, whole]);
    expect(answer.headers).not.toHaveProperty('content-range');
  });

  it.each([
    ['a header too long', () => [`X: ${'a'.repeat(100_000)}`], '/'],
    ['headers too many', () => Array.from({ length: 20_000 }, (_, i) => `X-${i}: a`), '/'],
    ['a path too long', () => [], `/${'a'.repeat(100_000)}`],
  ])('%s is refused, and the next request is answered', async (_name, headers, path) => {
    expect((await ask(path, headers())).status).toBe(431);
    expect((await ask('/')).status).toBe(200);
  });
});

describe('what every answer bears', () => {
  it.each<[string, number, string, string[], string]>([
    ['the page', 200, '/', [], 'GET'],
    ['its head alone', 200, '/', [], 'HEAD'],
    ['a capture', 200, '/sample/block.csv', [], 'GET'],
    ['nothing', 404, '/nothing.js', [], 'GET'],
    ['the head of nothing', 404, '/nothing.js', [], 'HEAD'],
    ['a refusal', 403, '/', ['Origin: https://elsewhere.example'], 'GET'],
    ['a refused method', 405, '/', [], 'POST'],
  ])('%s (%i)', async (_name, status, path, more, method) => {
    const answer = await ask(path, more, method);
    expect(answer.status).toBe(status);
    for (const [name, value] of Object.entries(pageHeaders)) expect(answer.headers[name.toLowerCase()]).toBe(value);
    expect(answer.headers).not.toHaveProperty('access-control-allow-origin');
    expect(answer.headers).not.toHaveProperty('set-cookie');
    expect(answer.headers).not.toHaveProperty('x-powered-by');
    if (method === 'HEAD') expect(answer.body).toBe('');
  });

  it.each(['/', '/assets/index.js', '/nothing.js'])('HEAD says of %s what GET does, and nothing more', async (path) => {
    const [head, get] = [await ask(path, [], 'HEAD'), await ask(path)];
    const { date: _a, ...ofHead } = head.headers;
    const { date: _b, ...ofGet } = get.headers;
    expect(ofHead).toEqual(ofGet);
    expect(Number(head.headers['content-length'])).toBe(get.body.length);
    expect(head.body).toBe('');
  });
});
