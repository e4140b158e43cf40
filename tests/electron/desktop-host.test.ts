import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { carryOut, type WorkbenchWindow } from '../../electron/carry-out.ts';
import { drafts } from '../../electron/drafts.ts';
import { files } from '../../electron/files.ts';
import { tokens } from '../../electron/tokens.ts';
import { desktopHost } from '../../renderer/host/desktop-host.ts';
import type { Host, HostFile } from '../../renderer/host/host.ts';
import { initialLayout } from '../../renderer/settings/layout.ts';
import { type BridgeDouble, bridgeDouble } from './bridge-double.ts';
import { answersToCome, BrowserWindow, dialogsShown } from './electron-double.ts';

let folder = '';
let running: WorkbenchWindow[] = [];
const at = (name: string) => join(folder, name);
const none: ReadonlyMap<string, HostFile> = new Map();
const review = (words: string) => JSON.stringify({ title: words });

/** The desktop host as the page has it, over the table of calls, on real files; the person's answers to dialogs are given beforehand. */
function start(): { host: Host; window: BrowserWindow; double: BridgeDouble; known: WorkbenchWindow } {
  const store = tokens();
  const window = new BrowserWindow({ webPreferences: {} });
  const known = {
    window,
    draftId: crypto.randomUUID(),
    toOpen: null,
    unsaved: false,
    mayClose: false,
  } as unknown as WorkbenchWindow;
  running.push(known);
  const carried = carryOut({
    tokens: store,
    files: files(store),
    drafts: drafts(at('profile/drafts')),
    profile: (name) => at(`profile/${name}`),
    openWindows: () => running,
    now: () => new Date('2026-03-02T06:05:00Z'),
  });
  const double = bridgeDouble(carried, known);
  return { host: desktopHost(double.bridge), window, double, known };
}

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'desktop-'));
  running = [];
  answersToCome.splice(0);
  dialogsShown.splice(0);
  mkdirSync(at('shift'));
  writeFileSync(at('a.csv'), 'time_us,amplitude_pct\n0,1\n');
  writeFileSync(at('shift/check-1.csv'), 'check');
  writeFileSync(at('plate.ascan-review'), review('plate'));
});
afterEach(() => rmSync(folder, { recursive: true }));

describe('captures', () => {
  it('are read by a token', async () => {
    answersToCome.push({ canceled: false, filePaths: [at('a.csv')] });
    const [file] = await start().host.openFiles();
    expect(file).toMatchObject({ name: 'a.csv', bytes: 26 });
    expect(await (await file!.read()).text()).toBe('time_us,amplitude_pct\n0,1\n');
    expect(JSON.stringify(file)).not.toContain(folder);
  });

  it('larger than one part come whole', async () => {
    const large = Buffer.alloc((8 << 20) + 5, '7');
    writeFileSync(at('large.csv'), large);
    answersToCome.push({ canceled: false, filePaths: [at('large.csv')] });
    const [file] = await start().host.openFiles();
    expect(Buffer.from(await (await file!.read()).arrayBuffer()).equals(large)).toBe(true);
  });

  it('of a folder are called by their names below it', async () => {
    answersToCome.push({ canceled: false, filePaths: [folder] });
    const names = (await start().host.openFolder()).map(({ name }) => name);
    expect(names).toEqual(['a.csv', 'plate.ascan-review', 'shift/check-1.csv']);
  });

  it('are none where the person closed the dialog', async () => {
    answersToCome.push({ canceled: true, filePaths: [] }, { canceled: true, filePaths: [] });
    const { host } = start();
    expect(await host.openFiles()).toEqual([]);
    expect(await host.openFolder()).toEqual([]);
  });
});

describe('a review', () => {
  it('opens with its files beside it, and stands among the recent ones from then on', async () => {
    answersToCome.push({ canceled: false, filePaths: [at('plate.ascan-review')] });
    const found = await start().host.openReview();
    expect(found).toMatchObject({ name: 'plate.ascan-review', text: review('plate') });
    expect(await found!.fileBeside('shift/check-1.csv')).toMatchObject({ name: 'shift/check-1.csv' });
    expect(await found!.fileBeside('gone.csv')).toBeNull();
    const later = start();
    const [recent] = await later.host.recent();
    expect(recent).toMatchObject({ name: 'plate.ascan-review', at: '2026-03-02T06:05:00.000Z' });
    expect((await later.host.openRecent(recent!.id)).text).toBe(review('plate'));
  });

  it('that is no longer there is said so by name, in plain words, and leaves the list', async () => {
    answersToCome.push({ canceled: false, filePaths: [at('plate.ascan-review')] });
    const { host } = start();
    await host.openReview();
    const [recent] = await host.recent();
    rmSync(at('plate.ascan-review'));
    await expect(host.openRecent(recent!.id)).rejects.toThrow(/^plate\.ascan-review is no longer there\.$/);
    expect(await host.recent()).toEqual([]);
  });

  it('is saved where the person says, with its ending, and again without asking', async () => {
    answersToCome.push({ canceled: false, filePath: at('new') });
    const { host } = start();
    const saved = await host.saveReview({
      place: null,
      suggestedName: 'new.json',
      text: review('1'),
      version: null,
      sources: none,
    });
    expect(saved).toMatchObject({ kind: 'saved', name: 'new.ascan-review' });
    if (saved.kind !== 'saved') return;
    await host.saveReview({
      place: saved.place,
      suggestedName: 'new.json',
      text: review('2'),
      version: saved.version,
      sources: none,
    });
    expect(readFileSync(at('new.ascan-review'), 'utf8')).toBe(review('2'));
    expect(dialogsShown.map(({ options }) => options.defaultPath)).toEqual(['new.ascan-review']);
  });

  it('is not saved over what another window has saved since', async () => {
    answersToCome.push({ canceled: false, filePaths: [at('plate.ascan-review')] });
    const { host } = start();
    const found = await host.openReview();
    writeFileSync(at('plate.ascan-review'), review('theirs'));
    const { place, version } = found!;
    const saved = await host.saveReview({ place, suggestedName: 'x', text: review('mine'), version, sources: none });
    expect(saved.kind).toBe('changed-since');
    expect(readFileSync(at('plate.ascan-review'), 'utf8')).toBe(review('theirs'));
  });

  it('calls its files by their names from where it is saved', async () => {
    answersToCome.push(
      { canceled: false, filePaths: [at('shift/check-1.csv')] },
      { canceled: false, filePath: at('plate.ascan-review') },
    );
    const { host } = start();
    const [file] = await host.openFiles();
    const place = await host.choosePlace!('plate');
    expect(await host.namesFrom!(place!, new Map([['check-1.csv', file!]]))).toEqual(
      new Map([['check-1.csv', 'shift/check-1.csv']]),
    );
  });

  it('for which the window was opened is given once', async () => {
    const { host, known } = start();
    known.toOpen = at('plate.ascan-review');
    expect(await host.ownWindow!.reviewGiven()).toMatchObject({ name: 'plate.ascan-review' });
    expect(await host.ownWindow!.reviewGiven()).toBeNull();
  });
});

describe('a draft', () => {
  async function keep(host: Host) {
    answersToCome.push({ canceled: false, filePaths: [at('a.csv')] });
    const [file] = await host.openFiles();
    const sources = new Map([['ab'.repeat(32), file!]]);
    await host.keepDraft({ name: 'plate', place: null, version: null, text: review('half'), sources });
  }

  it('is offered once its window is gone, with its files', async () => {
    const first = start();
    await keep(first.host);
    expect(await start().host.drafts()).toEqual([]);
    running = [];
    const { host } = start();
    const [draft] = await host.drafts();
    expect(draft).toMatchObject({ name: 'plate', at: '2026-03-02T06:05:00.000Z', text: review('half') });
    const source = await draft!.source('a.csv', 'ab'.repeat(32));
    expect(await (await source!.read()).text()).toContain('time_us');
    expect(await draft!.source('other.csv', 'cd'.repeat(32))).toBeNull();
    await host.forgetDraft(draft!.id);
    expect(await host.drafts()).toEqual([]);
  });

  it('that was dropped is not offered', async () => {
    const first = start();
    await keep(first.host);
    await first.host.dropDraft();
    running = [];
    expect(await start().host.drafts()).toEqual([]);
  });
});

describe('the rest of the host', () => {
  it('keeps settings from one start to the next', async () => {
    const settings = { theme: 'dark', units: 'inch', decimalMark: ',' } as const;
    await start().host.keepSettings(settings);
    expect(await start().host.settings()).toEqual(settings);
  });

  it('keeps the page’s layout from one start to the next', async () => {
    const { layout } = start().host;
    expect(await layout()).toEqual(initialLayout);
    const left = {
      ...initialLayout,
      captureOrder: 'time',
      readingOrder: { column: 'amplitude', falling: true },
      picture: 'section',
    } as const;
    await start().host.keepLayout(left);
    expect(await start().host.layout()).toEqual(left);
  });

  it('saves a table where the person says, and never over a capture that is open', async () => {
    const { host } = start();
    answersToCome.push(
      { canceled: false, filePath: at('table.csv') },
      { canceled: true, filePath: '' },
      { canceled: false, filePaths: [at('a.csv')] },
      { canceled: false, filePath: at('a.csv') },
    );
    expect(await host.saveText('readings.csv', 'text/csv', 'gate,path')).toBe(true);
    expect(await host.saveText('readings.csv', 'text/csv', 'gate,path')).toBe(false);
    await host.openFiles();
    await expect(host.saveText('readings.csv', 'text/csv', 'gate,path')).rejects.toThrow('a.csv is a capture');
    expect(readdirSync(folder).sort()).toEqual(['a.csv', 'plate.ascan-review', 'shift', 'table.csv']);
  });

  it('saves a package where the person says, byte for byte, and never over a capture that is open', async () => {
    const { host } = start();
    answersToCome.push(
      { canceled: false, filePath: at('evidence.zip') },
      { canceled: true, filePath: '' },
      { canceled: false, filePaths: [at('a.csv')] },
      { canceled: false, filePath: at('a.csv') },
    );
    const content = new Blob([new Uint8Array([0x50, 0x4b, 0, 0xff])]);
    expect(await host.saveBytes('evidence.zip', content)).toBe(true);
    expect([...readFileSync(at('evidence.zip'))]).toEqual([0x50, 0x4b, 0, 0xff]);
    expect(await host.saveBytes('evidence.zip', content)).toBe(false);
    await host.openFiles();
    await expect(host.saveBytes('evidence.zip', content)).rejects.toThrow('a.csv is a capture');
  });

  it('saves a page as PDF where the person says, on the paper they chose, and never over a capture that is open', async () => {
    const { host } = start();
    const report = { suggestedName: 'report.pdf', page: '<!doctype html><p>report</p>', paper: 'Letter' } as const;
    answersToCome.push(
      { canceled: false, filePath: at('report.pdf') },
      { canceled: true, filePath: '' },
      { canceled: false, filePaths: [at('a.csv')] },
      { canceled: false, filePath: at('a.csv') },
    );
    expect(await host.printPage(report)).toBe(true);
    expect(readFileSync(at('report.pdf'), 'utf8')).toMatch(/^%PDF/);
    expect(await host.printPage(report)).toBe(false);
    await host.openFiles();
    await expect(host.printPage(report)).rejects.toThrow('a.csv is a capture');
  });

  it('shows the menu and passes what is chosen in it to the page', async () => {
    const { host, window, double } = start();
    const item = { id: 'save', label: 'Save', shortcut: '$mod+s', enabled: true, apart: false };
    host.ownWindow!.showMenu([{ label: 'File', items: [item] }]);
    await expect.poll(() => window.menu).not.toBeNull();
    const [menu] = (window.menu as { template: { submenu: { click: () => void }[] }[] }).template;
    menu!.submenu[0]!.click();
    expect(window.webContents.sent).toEqual([['workbench:command', { id: 'save' }]]);
    const heard: string[] = [];
    const stop = host.ownWindow!.onCommand((id) => heard.push(id));
    double.tell('command', { id: 'save' });
    stop();
    double.tell('command', { id: 'undo' });
    expect(heard).toEqual(['save']);
  });

  it('says in plain words what Electron wraps in its own', async () => {
    const { double } = start();
    const words = "Error invoking remote method 'workbench:openRecent': Error: plate.ascan-review is no longer there.";
    const host = desktopHost({ ...double.bridge, openRecent: () => Promise.reject(new Error(words)) });
    await expect(host.openRecent('x')).rejects.toThrow(/^plate\.ascan-review is no longer there\.$/);
  });
});
