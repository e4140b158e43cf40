import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import vm from 'node:vm';
import { beforeAll, describe, expect, it } from 'vitest';
import { answerCalls } from '../../electron/answer-calls.ts';
import { type Carried, callNames, channelOf, partBytes } from '../../electron/bridge.ts';
import { initialLayout } from '../../renderer/settings/layout.ts';
import { contextBridge, exposed, handlers, invoked, ipcRenderer, tellPage, webUtils } from './electron-double.ts';

const page = { url: 'workbench://app/' };
const known = { name: 'a window that the host opened' };
const fromPage = { senderFrame: page, sender: { mainFrame: page } };
const token = '2b0d6f5c-4d1c-4c6e-9a35-0d4a4b0f5a11';

/** Every call answers with what it was called with. */
const echoing = Object.fromEntries(
  callNames.map((name) => [name, async (...given: unknown[]) => given]),
) as unknown as Carried<typeof known>;

async function call(event: unknown, name: string, ...given: unknown[]): Promise<unknown> {
  return (handlers.get(`workbench:${name}`) as (...all: unknown[]) => unknown)(event, ...given);
}

describe('answerCalls', () => {
  let isKnown = true;
  beforeAll(() => answerCalls(echoing, () => (isKnown ? known : null)));

  it('answers every call of the table', () => {
    expect([...handlers.keys()].sort()).toEqual(callNames.map(channelOf).sort());
  });

  it('answers the workbench’s own page, with the window it stands in', async () => {
    expect(await call(fromPage, 'openRecent', token)).toEqual([known, token]);
    expect(await call(fromPage, 'about')).toEqual([known]);
  });

  it('refuses a page whose window the host did not open', async () => {
    isKnown = false;
    await expect(call(fromPage, 'about')).rejects.toThrow('by a page that is not the workbench');
    isKnown = true;
  });

  it.each([
    ['a foreign page', { ...fromPage, senderFrame: { url: 'https://elsewhere.example/' } }],
    ['a foreign page as the main frame', frameAlone('https://elsewhere.example/')],
    ['a host that begins like ours', frameAlone('workbench://app.elsewhere/')],
    ['our name as the user of another host', frameAlone('workbench://app@elsewhere/')],
    ['a frame inside the page', { senderFrame: { url: 'workbench://app/' }, sender: { mainFrame: page } }],
    ['a frame that is gone', { senderFrame: null, sender: { mainFrame: page } }],
  ])('refuses %s', async (_name, event) => {
    for (const name of callNames)
      await expect(call(event, name)).rejects.toThrow('by a page that is not the workbench');
  });

  const review = { place: token, text: '{}', version: null };
  const settings = { theme: 'dark', units: 'inch', decimalMark: ',' };
  it.each([
    ['openRecent', 'nothing', []],
    ['openRecent', 'a path', ['/etc/passwd']],
    ['openRecent', 'a token and more', [token, 'more']],
    ['openRecent', 'an object that claims to be a token', [{ toString: () => token }]],
    ['readPart', 'a path', ['/etc/passwd', 0, 1]],
    ['readPart', 'a place before the file', [token, -1, 1]],
    ['readPart', 'half a byte', [token, 0, 0.5]],
    ['readPart', 'not a number', [token, Number.NaN, 1]],
    ['readPart', 'more than one part', [token, 0, partBytes + 1]],
    ['saveReview', 'a path in place of the token', [{ ...review, place: '/etc/passwd' }]],
    ['saveReview', 'bytes in place of the text', [{ ...review, text: new Uint8Array(3) }]],
    ['saveReview', 'a version that is no hash', [{ ...review, version: 'latest' }]],
    ['saveReview', 'a property that is not in the table', [{ ...review, mode: 0o777 }]],
    ['fileBeside', 'no name', [token, '']],
    ['namesFrom', 'paths', [token, ['/etc/passwd']]],
    ['saveText', 'a name without end', ['a'.repeat(2000), '']],
    ['saveBytes', 'a text in place of the bytes', ['a.zip', 'PK']],
    ['saveBytes', 'a name without end', ['a'.repeat(2000), new Uint8Array(3)]],
    ['printPage', 'a paper that there is not', [{ suggestedName: 'a.pdf', page: '', paper: 'A9' }]],
    ['printPage', 'a path to write to', [{ suggestedName: 'a.pdf', page: '', paper: 'A4', path: '/etc/passwd' }]],
    ['keepSettings', 'a theme that there is not', [{ ...settings, theme: 'sepia' }]],
    ['keepSettings', 'a setting that there is not', [{ ...settings, execute: 'yes' }]],
    ['keepLayout', 'a width that is none', [{ ...initialLayout, panels: { ...initialLayout.panels, belowShare: -1 } }]],
    ['keepLayout', 'a part that there is not', [{ ...initialLayout, execute: 'yes' }]],
    ['showMenu', 'a menu with a role of its own', [[{ label: 'File', items: [{ role: 'quit' }] }]]],
    ['sayUnsaved', 'a word', ['yes']],
    ['about', 'an argument', [1]],
  ])('%s refuses %s', async (name, _what, given) => {
    await expect(call(fromPage, name, ...given)).rejects.toThrow(`"${name}" was called with something else`);
  });
});

describe('the preload script, as built', () => {
  /** What `require` gives inside a sandboxed preload script: Electron's page side and a few built-ins (Electron's documentation, Process Sandboxing). */
  function sandboxRequire(name: string): unknown {
    if (name === 'electron') return { contextBridge, ipcRenderer, webUtils };
    if (['events', 'timers', 'url'].includes(name.replace('node:', ''))) return {};
    throw new Error(`module not found: ${name}`);
  }

  beforeAll(() => {
    const file = fileURLToPath(new URL('../../build/preload.cjs', import.meta.url));
    vm.runInNewContext(readFileSync(file, 'utf8'), { require: sandboxRequire, module: {}, exports: {}, console });
  });

  const workbench = () => exposed.get('workbench')!;

  it('exposes exactly the table of calls and the way to listen, under one name', () => {
    expect([...exposed.keys()]).toEqual(['workbench']);
    expect(Object.keys(workbench()).sort()).toEqual([...callNames, 'on'].sort());
  });

  it('passes a call on its own channel', async () => {
    await workbench().openRecent!(token);
    expect(invoked.splice(0)).toEqual([['workbench:openRecent', token]]);
  });

  it('gives the host the path of a dropped file, and the page none', async () => {
    const answered = await workbench().offerDropped!({ name: 'a.csv', path: '/captures/a.csv' });
    expect(invoked.splice(0)).toEqual([['workbench:offerDropped', '/captures/a.csv']]);
    expect(answered).not.toContain('/captures');
  });

  it('tells the page an event without the event object, until it has heard enough', () => {
    const heard: unknown[][] = [];
    const stop = workbench().on!('command', (...told: unknown[]) => heard.push(told)) as () => void;
    tellPage('workbench:command', { id: 'save' });
    stop();
    tellPage('workbench:command', { id: 'undo' });
    expect(heard).toEqual([[{ id: 'save' }]]);
  });

  it('lets the page listen to nothing but the table of events', () => {
    expect(() => workbench().on!('about', () => {})).toThrow('There is no event "about"');
  });
});

function frameAlone(url: string) {
  const frame = { url };
  return { senderFrame: frame, sender: { mainFrame: frame } };
}
