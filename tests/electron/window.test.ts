import { beforeAll, describe, expect, it } from 'vitest';
import { contentPolicy } from '../../electron/content-policy.ts';
import { isOwnPage } from '../../electron/page-address.ts';
import { asked, handlers, happen, makeReady, schemes, windows } from './electron-double.ts';

beforeAll(async () => {
  await import('../../electron/main.ts');
  makeReady();
  await new Promise((resolve) => setImmediate(resolve));
});

describe('the desktop window', () => {
  it('registers its scheme, switches the sandbox on and forbids navigation before the application is ready, all else after', () => {
    const before = asked.slice(0, asked.indexOf('(ready)'));
    const after = asked.slice(asked.indexOf('(ready)') + 1);
    expect(before).toEqual([
      'protocol.registerSchemesAsPrivileged',
      'app.enableSandbox',
      'app.on web-contents-created',
      'app.on window-all-closed',
    ]);
    expect(after[0]).toBe('protocol.handle workbench');
    expect(after.at(-1)).toBe('new BrowserWindow');
  });

  it('gives its scheme the rights of a secure site and no more', () => {
    expect(schemes).toEqual([
      { scheme: 'workbench', privileges: { standard: true, secure: true, supportFetchAPI: true } },
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

  it.each(['media', 'geolocation', 'notifications', 'clipboard-read', 'serial'])('%s is refused', (permission) => {
    let decided: boolean | null = null;
    call('permission request', {}, permission, (granted: boolean) => {
      decided = granted;
    });
    expect(decided).toBe(false);
    expect(call('permission check', {}, permission)).toBe(false);
    expect(call('device permission', { deviceType: 'usb' })).toBe(false);
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
