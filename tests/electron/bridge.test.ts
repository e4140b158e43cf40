import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import vm from 'node:vm';
import { beforeAll, describe, expect, it } from 'vitest';
import { answerCalls } from '../../electron/answer-calls.ts';
import { callNames, channelOf } from '../../electron/bridge.ts';
import { desktopHost } from '../../renderer/host/desktop-host.ts';
import { bridgeDouble } from './bridge-double.ts';
import { contextBridge, exposed, handlers, invoked, ipcRenderer } from './electron-double.ts';

const page = { url: 'workbench://app/' };
const fromPage = { senderFrame: page, sender: { mainFrame: page } };
const sample = { name: 'reference-block.csv', bytes: new Uint8Array([1, 2, 3]) };
const answers = { openSample: async () => sample, about: async () => ({ version: '1.2.3' }) };

async function call(event: unknown, name: string, ...given: unknown[]): Promise<unknown> {
  return (handlers.get(`workbench:${name}`) as (...all: unknown[]) => unknown)(event, ...given);
}

describe('answerCalls', () => {
  beforeAll(() => answerCalls(answers));

  it('answers every call of the table', () => {
    expect([...handlers.keys()].sort()).toEqual(callNames.map(channelOf).sort());
  });

  it('answers the workbench’s own page', async () => {
    expect(await call(fromPage, 'openSample', 'reference-block.csv')).toBe(sample);
    expect(await call(fromPage, 'about')).toEqual({ version: '1.2.3' });
  });

  it.each([
    ['a foreign page', { ...fromPage, senderFrame: { url: 'https://elsewhere.example/' } }],
    ['a foreign page as the main frame', frameAlone('https://elsewhere.example/')],
    ['a host that begins like ours', frameAlone('workbench://app.elsewhere/')],
    ['our name as the user of another host', frameAlone('workbench://app@elsewhere/')],
    ['a frame inside the page', { senderFrame: { url: 'workbench://app/' }, sender: { mainFrame: page } }],
    ['a frame that is gone', { senderFrame: null, sender: { mainFrame: page } }],
  ])('refuses %s', async (_name, event) => {
    await expect(call(event, 'about')).rejects.toThrow('by a page that is not the workbench');
  });

  it.each([
    ['nothing', []],
    ['a number', [5]],
    ['one argument too many', ['reference-block.csv', 'more']],
    ['a path upwards', ['../package.json']],
    ['a path upwards from inside', ['shift/../../package.json']],
    ['an absolute path', ['/etc/passwd.csv']],
    ['a backslash', ['shift\\check-1.csv']],
    ['a NUL', ['reference-block.csv\0.csv']],
    ['a hidden file', ['.env.json']],
    ['another kind of file', ['make.mjs']],
    ['a name without end', [`${'a'.repeat(200)}.csv`]],
    ['an object that claims to be text', [{ toString: () => 'reference-block.csv' }]],
  ])('refuses openSample with %s', async (_name, given) => {
    await expect(call(fromPage, 'openSample', ...given)).rejects.toThrow(
      '"openSample" was called with something else than it takes',
    );
  });

  it('refuses arguments to a call that takes none', async () => {
    await expect(call(fromPage, 'about', 1)).rejects.toThrow('"about" was called');
  });
});

describe('the preload script, as built', () => {
  /** What `require` gives inside a sandboxed preload script: Electron's page side and a few built-ins (Electron's documentation, Process Sandboxing). */
  function sandboxRequire(name: string): unknown {
    if (name === 'electron') return { contextBridge, ipcRenderer };
    if (['events', 'timers', 'url'].includes(name.replace('node:', ''))) return {};
    throw new Error(`module not found: ${name}`);
  }

  beforeAll(() => {
    const file = fileURLToPath(new URL('../../build/preload.cjs', import.meta.url));
    vm.runInNewContext(readFileSync(file, 'utf8'), { require: sandboxRequire, module: {}, exports: {}, console });
  });

  it('exposes exactly the table of calls, under one name', () => {
    expect([...exposed.keys()]).toEqual(['workbench']);
    expect(Object.keys(exposed.get('workbench') ?? {}).sort()).toEqual([...callNames].sort());
  });

  it('passes a call on its own channel', async () => {
    await exposed.get('workbench')?.openSample?.('reference-block.csv');
    expect(invoked).toEqual([['workbench:openSample', 'reference-block.csv']]);
  });
});

describe('desktopHost', () => {
  it('asks over the table of calls', async () => {
    const host = desktopHost(bridgeDouble(answers));
    expect(await host.openSample('reference-block.csv')).toEqual(sample);
    expect(await host.about()).toEqual({ version: '1.2.3' });
  });

  it('says what to do when a sample capture is not there', async () => {
    const bridge = bridgeDouble({ ...answers, openSample: () => Promise.reject(new Error('ENOENT')) });
    await expect(desktopHost(bridge).openSample('reference-block.csv')).rejects.toThrow('run npm run sample');
  });
});

function frameAlone(url: string) {
  const frame = { url };
  return { senderFrame: frame, sender: { mainFrame: frame } };
}
