import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { contentPolicy } from '../../electron/content-policy.ts';
import { isOwnPage } from '../../electron/page-address.ts';
import { answersToCome, asked, handlers, happen, makeReady, schemes, windows, world } from './electron-double.ts';

beforeAll(async () => {
  world.userData = mkdtempSync(join(tmpdir(), 'profile-'));
  await import('../../electron/main.ts');
  makeReady();
  await vi.waitFor(() => expect(windows).toHaveLength(1));
});
afterAll(() => rmSync(world.userData, { recursive: true }));

describe('the desktop window', () => {
  it('registers its scheme, switches the sandbox on and forbids navigation before the application is ready, all else after', () => {
    const before = asked.slice(0, asked.indexOf('(ready)'));
    const after = asked.slice(asked.indexOf('(ready)') + 1);
    expect(before).toEqual([
      'protocol.registerSchemesAsPrivileged',
      'app.enableSandbox',
      'app.on web-contents-created',
      'app.on window-all-closed',
      'app.requestSingleInstanceLock',
      'app.on second-instance',
      'app.on open-file',
    ]);
    expect(after[0]).toBe('protocol.handle workbench');
    expect(after.at(-1)).toBe('new BrowserWindow');
  });

  it('gives its scheme the rights of a secure site and no more', () => {
    expect(schemes).toEqual([
      { scheme: 'workbench', privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
    ]);
  });

  it('opens the page in a sandbox, apart from the preload script and without Node', () => {
    expect(windows).toHaveLength(1);
    expect(windows[0]?.loaded).toEqual(['workbench://app/']);
    expect(windows[0]?.options.webPreferences).toMatchObject({
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      webviewTag: false,
      spellcheck: false,
      preload: '/workbench/build/preload.cjs',
    });
  });

  it('ends with its last window', () => {
    happen('window-all-closed');
    expect(asked).toContain('app.quit');
  });

  it('comes to the front when the program is started once more, and no second one opens', () => {
    happen('second-instance', {}, ['workbench'], '/here');
    expect(windows).toHaveLength(1);
    expect(windows[0]?.focused).toBe(1);
  });

  it('stays beside a new one when the second start names a review, or a review is double-clicked', async () => {
    happen('second-instance', {}, ['workbench', 'plate.ascan-review'], '/here');
    await expect.poll(() => windows.length).toBe(2);
    happen('open-file', { preventDefault: () => {} }, '/reviews/weld.ascan-review');
    await expect.poll(() => windows.length).toBe(3);
    for (const { loaded } of windows) expect(loaded).toEqual(['workbench://app/']);
  });
});

describe('closing a window', () => {
  const call = async (name: string, page: { readonly mainFrame: unknown }, ...given: unknown[]) =>
    (handlers.get(`workbench:${name}`) as (...all: unknown[]) => unknown)(
      { senderFrame: page.mainFrame, sender: page },
      ...given,
    );

  it('with unsaved work asks the page first, and closes when the page says so', async () => {
    const window = windows[1]!;
    await call('sayUnsaved', window.webContents, true);
    expect(window.edited).toBe(true);
    window.close();
    expect(window.isClosed).toBe(false);
    expect(window.webContents.sent).toEqual([['workbench:closeAsked', {}]]);
    await call('closeWindow', window.webContents);
    expect(window.isClosed).toBe(true);
    await expect(call('about', window.webContents)).rejects.toThrow('not the workbench');
  });

  it('with a page that has stopped closes at once', async () => {
    const window = windows[2]!;
    await call('sayUnsaved', window.webContents, true);
    window.webContents.crashed = true;
    window.close();
    expect(window.isClosed).toBe(true);
  });

  it('leaves the draft of a page that stopped to be recovered by the page that follows', async () => {
    const { webContents, loaded } = windows[0]!;
    const draft = { name: null, place: null, version: null, text: '{"half": "done"}', sources: [] };
    await call('keepDraft', webContents, draft);
    expect(await call('drafts', webContents)).toEqual([]);
    answersToCome.push({ response: 0 });
    (webContents.listening.get('render-process-gone') as () => void)();
    await expect.poll(() => loaded).toEqual(['workbench://app/', 'workbench://app/']);
    expect(await call('drafts', webContents)).toMatchObject([{ name: null, text: '{"half": "done"}' }]);
  });
});

describe('navigation', () => {
  const contents = () => {
    const listening = new Map<string, (event: unknown) => void>();
    let openHandler: (details: { url: string }) => unknown = () => null;
    happen(
      'web-contents-created',
      {},
      {
        setWindowOpenHandler: (handler: typeof openHandler) => {
          openHandler = handler;
        },
        on: (event: string, listener: (event: unknown) => void) => listening.set(event, listener),
      },
    );
    return {
      open: (url: string) => openHandler({ url }),
      isPrevented(event: string, url: string): boolean {
        let prevented = false;
        listening.get(event)?.({ url, preventDefault: () => (prevented = true) });
        return prevented;
      },
    };
  };

  const elsewhere = [
    ['another host', 'https://elsewhere.example/'],
    ['a host that begins like ours', 'workbench://app.elsewhere/'],
    ['a host behind our name as user', 'workbench://app@elsewhere/'],
    ['our host with a user', 'workbench://user@app/'],
    ['our host with a port', 'workbench://app:8080/'],
    ['a local file', 'file:///etc/passwd'],
    ['a script', 'javascript:alert(1)'],
    ['data', 'data:text/html,hello'],
    ['nothing', ''],
  ] as const;

  it.each(elsewhere)('%s is not our page: %s', (_name, address) => {
    expect(isOwnPage(address)).toBe(false);
    for (const event of ['will-navigate', 'will-frame-navigate', 'will-redirect']) {
      expect(contents().isPrevented(event, address)).toBe(true);
    }
  });

  it('stays free within the page', () => {
    expect(contents().isPrevented('will-navigate', 'workbench://app/index.html')).toBe(false);
  });

  it('opens no window, not even of our own page, and attaches no web view', () => {
    expect(contents().open('workbench://app/')).toEqual({ action: 'deny' });
    expect(contents().isPrevented('will-attach-webview', 'workbench://app/')).toBe(true);
  });
});

describe('permissions and the network', () => {
  const call = (name: string, ...given: unknown[]) => (handlers.get(name) as (...all: unknown[]) => unknown)(...given);

  const mainFrame = { isMainFrame: true, requestingUrl: 'workbench://app/' };

  function isGranted(permission: string, details: object, origin: string): readonly [boolean | null, unknown] {
    let decided: boolean | null = null;
    const decide = (granted: boolean) => {
      decided = granted;
    };
    call('permission request', {}, permission, decide, details);
    return [decided, call('permission check', {}, permission, origin, details)];
  }

  it.each(['media', 'geolocation', 'notifications', 'clipboard-read', 'serial', 'fullscreen', 'openExternal'])(
    '%s is refused',
    (permission) => {
      expect(isGranted(permission, mainFrame, 'workbench://app')).toEqual([false, false]);
      expect(call('device permission', { deviceType: 'usb' })).toBe(false);
    },
  );

  it('the workbench’s own page may copy to the clipboard, and no other page and no frame may', () => {
    const copy = 'clipboard-sanitized-write';
    const elsewhere = 'https://elsewhere.example/';
    expect(isGranted(copy, mainFrame, 'workbench://app')).toEqual([true, true]);
    expect(isGranted(copy, { ...mainFrame, isMainFrame: false }, 'workbench://app')).toEqual([false, false]);
    expect(isGranted(copy, { ...mainFrame, requestingUrl: elsewhere }, elsewhere)).toEqual([false, false]);
  });

  it.each([
    ['workbench://app/assets/index.js', false],
    ['blob:workbench://app/1234', false],
    ['devtools://devtools/bundled/inspector.html', false],
    ['https://elsewhere.example/', true],
    ['http://127.0.0.1/', true],
    ['blob:https://elsewhere.example/1234', true],
    ['wss://elsewhere.example/', true],
  ])('a request for %s is cancelled: %s', (url, cancelled) => {
    let cancel: boolean | undefined;
    call('before request', { url }, (decision: { cancel: boolean }) => {
      cancel = decision.cancel;
    });
    expect(cancel).toBe(cancelled);
  });
});

describe('the content policy', () => {
  it.each([
    ['nothing that is not named', "default-src 'none'"],
    ['no script but our own files', "script-src 'self'"],
    ['no connection but to ourselves', "connect-src 'self'"],
    ['no frame around the page', "frame-ancestors 'none'"],
  ])('%s', (_name, directive) => {
    expect(contentPolicy.split('; ')).toContain(directive);
  });

  it('permits neither inline code nor another host', () => {
    expect(contentPolicy).not.toMatch(/unsafe|https?:|wss?:|\*/);
  });

  it('is sent with what the scheme serves, and a foreign host of the scheme gets nothing', async () => {
    const handler = handlers.get('protocol workbench') as unknown as (request: Request) => Promise<Response>;
    for (const url of ['workbench://app/', 'workbench://app.elsewhere/']) {
      const answer = await handler({ url, method: 'GET' } as Request);
      expect(answer.status).toBe(404); // '/workbench' is not a folder here; the files themselves are served in assets.test.ts
      expect(answer.headers.get('Content-Security-Policy')).toBe(contentPolicy);
    }
  });
});
