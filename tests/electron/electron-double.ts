/**
 * Stands in for the `electron` package, whose binary tests cannot have: it writes down what it is asked, in order, and lets a test
 * play the part of Chromium. It shows that the right thing is asked for, not that Electron does it.
 */
type Listener = (...given: never[]) => unknown;

/** Everything that was asked, in order: `app.enableSandbox`, `protocol.handle workbench` … */
export const asked: string[] = [];
export const windows: BrowserWindow[] = [];
export const handlers = new Map<string, Listener>();
export const exposed = new Map<string, Record<string, (...given: unknown[]) => unknown>>();
export const invoked: unknown[][] = [];
export const schemes: unknown[] = [];
const listeners = new Map<string, Listener>();
let becomeReady: () => void = () => {};
const ready = new Promise<void>((resolve) => {
  becomeReady = resolve;
});

/** Plays Chromium: the application is ready. */
export function makeReady(): void {
  asked.push('(ready)');
  becomeReady();
}

/** Plays Chromium: something happens of which the application wished to hear. */
export function happen(event: string, ...given: unknown[]): unknown {
  const listener = listeners.get(event);
  if (listener === undefined) throw new Error(`Nobody listens to ${event}`);
  return listener(...(given as never[]));
}

export const app = {
  enableSandbox: () => asked.push('app.enableSandbox'),
  whenReady: () => ready,
  getAppPath: () => '/workbench',
  getVersion: () => '1.2.3',
  quit: () => asked.push('app.quit'),
  on: (event: string, listener: Listener) => {
    asked.push(`app.on ${event}`);
    listeners.set(event, listener);
  },
};

export const protocol = {
  registerSchemesAsPrivileged: (registered: unknown[]) => {
    asked.push('protocol.registerSchemesAsPrivileged');
    schemes.push(...registered);
  },
  handle: (scheme: string, handler: Listener) => {
    asked.push(`protocol.handle ${scheme}`);
    handlers.set(`protocol ${scheme}`, handler);
  },
};

export const ipcMain = {
  handle: (channel: string, handler: Listener) => {
    if (handlers.has(channel)) throw new Error(`Attempted to register a second handler for '${channel}'`);
    asked.push(`ipcMain.handle ${channel}`);
    handlers.set(channel, handler);
  },
};

export const session = {
  defaultSession: {
    setPermissionRequestHandler: (handler: Listener) => handlers.set('permission request', handler),
    setPermissionCheckHandler: (handler: Listener) => handlers.set('permission check', handler),
    setDevicePermissionHandler: (handler: Listener) => handlers.set('device permission', handler),
    webRequest: { onBeforeRequest: (handler: Listener) => handlers.set('before request', handler) },
  },
};

export class BrowserWindow {
  readonly loaded: string[] = [];

  constructor(readonly options: { readonly webPreferences: Record<string, unknown> }) {
    asked.push('new BrowserWindow');
    windows.push(this);
  }

  once(): void {}

  async loadURL(address: string): Promise<void> {
    this.loaded.push(address);
  }
}

export const contextBridge = {
  exposeInMainWorld: (name: string, api: Record<string, (...given: unknown[]) => unknown>) => exposed.set(name, api),
};

export const ipcRenderer = {
  invoke: async (...given: unknown[]) => {
    invoked.push(given);
    return `answer to ${String(given[0])}`;
  },
};
