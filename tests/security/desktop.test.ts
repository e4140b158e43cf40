import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { carryOut, type WorkbenchWindow } from '../../electron/carry-out.ts';
import { drafts } from '../../electron/drafts.ts';
import { files } from '../../electron/files.ts';
import { reviewToOpen } from '../../electron/launch.ts';
import { tokens } from '../../electron/tokens.ts';
import { denyPermissions } from '../../electron/window.ts';
import { bridgeDouble } from '../electron/bridge-double.ts';
import { answersToCome, BrowserWindow, dialogsShown, handlers } from '../electron/electron-double.ts';
import { hostileTexts, unseen } from './hostile-texts.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
let folder = '';
const at = (name: string) => join(folder, name);
const page = '<!doctype html><p>x</p>';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'workbench-desktop-'));
  mkdirSync(at('person'));
  answersToCome.splice(0);
  dialogsShown.splice(0);
});
afterEach(() => rmSync(folder, { recursive: true }));

/** What a page that has been taken over can call: the bridge itself, past the workbench's own host. */
function bridge() {
  const store = tokens();
  const known = { window: new BrowserWindow({ webPreferences: {} }), draftId: crypto.randomUUID(), toOpen: null };
  const carried = carryOut({
    tokens: store,
    files: files(store),
    drafts: drafts(at('profile/drafts')),
    profile: (name) => at(`profile/${name}`),
    openWindows: () => [],
    now: () => new Date('2026-03-02T06:05:00Z'),
  });
  return bridgeDouble(carried, known as unknown as WorkbenchWindow).bridge;
}

const suggestions = [
  ...hostileTexts.map(({ name, text }) => [name, text.slice(0, 900) || 'x'] as const),
  ['an absolute path', '/etc/profile.d/attack.csv'],
  ['upwards', '../../../.bashrc'],
  ['upwards, on Windows', '..\\..\\Start Menu\\Programs\\Startup\\x.bat'],
  ['a share', '\\\\elsewhere.example\\share\\x.csv'],
  ['an address', 'file:///etc/passwd'],
] as const;

describe.each(suggestions)('a page that suggests %s to save under', (_name, suggested) => {
  it('can name no folder, no program, and nothing that cannot be seen; nothing is written but where the person says', async () => {
    const calls = bridge();
    answersToCome.push(
      { canceled: true, filePath: '' },
      { canceled: false, filePath: at('person/kept.zip') },
      { canceled: true, filePath: '' },
      { canceled: true, filePath: '' },
    );
    expect(await calls.saveText(suggested, 'x')).toBe(false);
    expect(await calls.saveBytes(suggested, new Uint8Array([1]))).toBe(true);
    expect(await calls.printPage({ suggestedName: suggested, page, paper: 'A4' })).toBe(false);
    expect(await calls.choosePlace(suggested)).toBeNull();
    for (const { options } of dialogsShown) {
      const name = String(options.defaultPath);
      expect(name).not.toMatch(/[/\\:]|^\.|^$/);
      expect(name).not.toMatch(unseen);
      expect(name).toMatch(/\.(csv|svg|png|zip|html|json|pdf|txt|ascan-review)$/);
      expect(name.length).toBeLessThan(150);
    }
    expect(dialogsShown).toHaveLength(4);
    expect(readdirSync(folder, { recursive: true })).toEqual(['person', join('person', 'kept.zip')]);
  });
});

describe('what a page may reach', () => {
  it.each([
    [
      'an address in place of a dropped file',
      (calls: ReturnType<typeof bridge>) => calls.offerDropped('file:///etc/hostname'),
    ],
    ['a path that is no file', (calls: ReturnType<typeof bridge>) => calls.offerDropped('/etc')],
  ])('%s offers nothing', async (_name, call) => {
    expect(await call(bridge())).toBeNull();
  });

  it('a token that was never given out opens nothing, whatever it is called', async () => {
    for (const token of ['/etc/passwd', '../x', '__proto__', '00000000-0000-4000-8000-000000000000']) {
      const calls = bridge();
      await expect(async () => calls.readPart(token, 0, 10)).rejects.toThrow();
      await expect(async () => calls.openRecent(token)).rejects.toThrow();
      await expect(async () => calls.fileBeside(token, 'a.csv')).rejects.toThrow();
      await expect(async () => calls.saveReview({ place: token, text: '{}', version: null })).rejects.toThrow();
    }
  });

  it.each(['/etc/passwd', '../review.json', 'a.csv\0.txt', 'C:/x.csv', '..\\x.csv', 'notes.pdf', '.env'])(
    'beside a review, %j is no capture',
    async (name) => {
      writeFileSync(at('person/review.ascan-review'), '{}');
      answersToCome.push({ canceled: false, filePaths: [at('person/review.ascan-review')] });
      const calls = bridge();
      const found = await calls.pickReview();
      expect(await calls.fileBeside(found!.place.id, name)).toBeNull();
    },
  );

  it('a download that a page begins is stopped: the workbench saves by the host’s dialogs', () => {
    denyPermissions();
    let prevented = false;
    const begin = handlers.get('session will-download') as unknown as (event: { preventDefault(): void }) => void;
    begin({
      preventDefault: () => {
        prevented = true;
      },
    });
    expect(prevented).toBe(true);
  });

  it.each([
    'display-capture',
    'fileSystem',
    'hid',
    'idle-detection',
    'keyboardLock',
    'mediaKeySystem',
    'midi',
    'midiSysex',
    'pointerLock',
    'speaker-selection',
    'storage-access',
    'top-level-storage-access',
    'usb',
    'window-management',
    'clipboard-read',
    'deprecated-sync-clipboard-read',
    'unknown',
  ])('%s is refused, to our own page too', (permission) => {
    denyPermissions();
    const details = { isMainFrame: true, requestingUrl: 'workbench://app/' };
    let granted: boolean | null = null;
    const ask = handlers.get('permission request') as unknown as (...given: unknown[]) => void;
    ask({}, permission, (decided: boolean) => (granted = decided), details);
    const check = handlers.get('permission check') as unknown as (...given: unknown[]) => boolean;
    expect([granted, check({}, permission, 'workbench://app', details)]).toEqual([false, false]);
  });
});

describe('how it is started', () => {
  it.each([
    'https://elsewhere.example/review.json',
    'file:///etc/review.json',
    'workbench://app/review.json',
    'ascan:open?file=review.json',
  ])('%s is a file’s name, and leads to no address', (word) => {
    expect(reviewToOpen(['workbench', word], '/here')).toMatch(/^\/here\//);
  });

  it('no other page or program can call it by a link: it takes no scheme of the system, and hears of none', () => {
    const sources = readdirSync(join(root, 'electron'))
      .filter((name) => name.endsWith('.ts'))
      .map((name) => readFileSync(join(root, 'electron', name), 'utf8'))
      .join('\n');
    expect(sources).not.toMatch(/setAsDefaultProtocolClient|'open-url'|setUserActivity|'continue-activity'/);
    expect(JSON.parse(readFileSync(join(root, 'electron/installer.json'), 'utf8'))).not.toHaveProperty('protocols');
  });
});
