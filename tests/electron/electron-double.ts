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
/** What the person will answer to the next dialogs, in order. */
export const answersToCome: unknown[] = [];
/** What the dialogs were asked to show. */
export const dialogsShown: { readonly kind: string; readonly options: Record<string, unknown> }[] = [];
/** What can be set before the application starts. */
export const world = { hasLock: true, userData: '/workbench/profile', packaged: false };
const listeners = new Map<string, Listener>();
let becomeReady: () => void = () => {};
let isReady = false;
const ready = new Promise<void>((resolve) => {
  becomeReady = resolve;
});

/** Plays Chromium: the application is ready. */
export function makeReady(): void {
  asked.push('(ready)');
  isReady = true;
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
  requestSingleInstanceLock: () => {
    asked.push('app.requestSingleInstanceLock');
    return world.hasLock;
  },
  whenReady: () => ready,
  isReady: () => isReady,
  getAppPath: () => '/workbench',
  getPath: () => world.userData,
  getVersion: () => '1.2.3',
  addRecentDocument: (path: string) => asked.push(`app.addRecentDocument ${path}`),
  quit: () => asked.push('app.quit'),
  get isPackaged() {
    return world.packaged;
  },
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
    on: (event: string, handler: Listener) => handlers.set(`session ${event}`, handler),
    webRequest: { onBeforeRequest: (handler: Listener) => handlers.set('before request', handler) },
  },
};

export const screen = { getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1920, height: 1080 } }] };

export const dialog = {
  showOpenDialog: (_window: unknown, options: Record<string, unknown>) => answerTo('open', options),
  showSaveDialog: (_window: unknown, options: Record<string, unknown>) => answerTo('save', options),
  showMessageBox: (_window: unknown, options: Record<string, unknown>) => answerTo('message', options),
};

async function answerTo(kind: string, options: Record<string, unknown>): Promise<unknown> {
  dialogsShown.push({ kind, options });
  if (answersToCome.length === 0) throw new Error(`Nobody answers the ${kind} dialog.`);
  return answersToCome.shift();
}

export const Menu = {
  buildFromTemplate: (template: unknown) => ({ template }),
  setApplicationMenu: () => asked.push('Menu.setApplicationMenu'),
};

export class WebContents {
  readonly sent: unknown[][] = [];
  readonly listening = new Map<string, Listener>();
  readonly mainFrame = { url: 'workbench://app/' };
  crashed = false;

  on(event: string, listener: Listener): void {
    this.listening.set(event, listener);
  }

  send(...given: unknown[]): void {
    this.sent.push(given);
  }

  /** What was to be set as PDF, and how. */
  readonly printed: unknown[] = [];

  async printToPDF(options: unknown): Promise<Uint8Array> {
    this.printed.push(options);
    return new TextEncoder().encode('%PDF-1.4');
  }

  isDestroyed(): boolean {
    return false;
  }

  isCrashed(): boolean {
    return this.crashed;
  }
}

export class BrowserWindow {
  readonly loaded: string[] = [];
  readonly webContents = new WebContents();
  readonly listening = new Map<string, Listener>();
  menu: unknown = null;
  edited = false;
  focused = 0;
  isClosed = false;

  constructor(readonly options: { readonly webPreferences: Record<string, unknown> }) {
    asked.push('new BrowserWindow');
    windows.push(this);
  }

  once(): void {}

  on(event: string, listener: Listener): void {
    this.listening.set(event, listener);
  }

  async loadURL(address: string): Promise<void> {
    this.loaded.push(address);
  }

  maximize(): void {}
  restore(): void {}
  show(): void {}
  isMinimized = (): boolean => false;
  isMaximized = (): boolean => false;
  getNormalBounds = () => ({ x: 10, y: 20, width: 1200, height: 800 });

  focus(): void {
    this.focused += 1;
  }

  /** Closes it without asking anybody. */
  destroy(): void {
    this.isClosed = true;
  }

  setMenu(menu: unknown): void {
    this.menu = menu;
  }

  setDocumentEdited(edited: boolean): void {
    this.edited = edited;
  }

  /** As a person or the program closes it: whoever listens may prevent it. */
  close(): void {
    let prevented = false;
    const closing = this.listening.get('close') as ((event: unknown) => void) | undefined;
    closing?.({ preventDefault: () => (prevented = true) });
    if (prevented) return;
    this.isClosed = true;
    (this.listening.get('closed') as (() => void) | undefined)?.();
  }
}

export const contextBridge = {
  exposeInMainWorld: (name: string, api: Record<string, (...given: unknown[]) => unknown>) => exposed.set(name, api),
};

const pageListeners = new Map<string, Set<Listener>>();

export const ipcRenderer = {
  invoke: async (...given: unknown[]) => {
    invoked.push(given);
    return `answer to ${String(given[0])}`;
  },
  on: (channel: string, listener: Listener) => {
    pageListeners.set(channel, (pageListeners.get(channel) ?? new Set()).add(listener));
  },
  removeListener: (channel: string, listener: Listener) => pageListeners.get(channel)?.delete(listener),
};

/** Plays the host: tells the page an event. */
export function tellPage(channel: string, told: unknown): void {
  for (const listener of pageListeners.get(channel) ?? []) {
    (listener as (...given: unknown[]) => void)({ sender: 'not for the page' }, told);
  }
}

export const webUtils = { getPathForFile: (file: { readonly path?: string }) => file.path ?? '' };
