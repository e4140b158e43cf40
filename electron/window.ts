import { app, BrowserWindow, protocol, type Session, session, type WebContents } from 'electron';
import { type AssetFolders, readAsset } from './assets.ts';
import { isOwnPage, pageAddress, scheme } from './page-address.ts';
import { pagePreferences } from './page-preferences.ts';
import { pageBeingPrinted } from './print-page.ts';
import { type Area, smallestWindow } from './window-state.ts';

/** Before the application is ready: a scheme with the rights of a secure site, so that the page's module worker and typeface load. */
export function registerScheme(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme, privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
  ]);
}

/** Serves the built page and the demonstration captures at `workbench://app/`, with the content policy as a header. */
export function servePage(folders: AssetFolders): void {
  protocol.handle(scheme, async (request) => {
    const path = isOwnPage(request.url) && request.method === 'GET' ? new URL(request.url).pathname : '/..';
    const printed = pageBeingPrinted(path);
    if (printed !== null) return printed;
    const { status, headers, body } = await readAsset(folders, path);
    return new Response(body, { status, headers });
  });
}

/** No page, whichever way it came to be, may leave the workbench, open a window, or hold another page inside it. */
export function denyNavigation(): void {
  app.on('web-contents-created', (_event, contents: WebContents) => {
    contents.setWindowOpenHandler(() => ({ action: 'deny' }));
    contents.on('will-navigate', (event) => stayHome(event));
    contents.on('will-frame-navigate', (event) => stayHome(event));
    contents.on('will-redirect', (event) => stayHome(event));
    contents.on('will-attach-webview', (event) => event.preventDefault());
  });
}

/** Copying a table writes to the clipboard, and never reads from it: the one permission, for the workbench's own page alone. */
const copying = 'clipboard-sanitized-write';

/** The workbench asks for that permission and for nothing of the network; whatever else asks is refused. */
export function denyPermissions(of: Session = session.defaultSession): void {
  of.setPermissionRequestHandler((_contents, permission, decide, { requestingUrl, isMainFrame }) =>
    decide(permission === copying && isMainFrame && isOwnPage(requestingUrl)),
  );
  of.setPermissionCheckHandler(
    (_contents, permission, origin, { isMainFrame }) => permission === copying && isMainFrame && isOwnPage(origin),
  );
  of.setDevicePermissionHandler(() => false);
  // The workbench saves by dialogs of the host; a page that begins a download has been taken over.
  of.on('will-download', (event) => event.preventDefault());
  of.webRequest.onBeforeRequest((details, decide) => {
    decide({ cancel: !isOwnPage(details.url) && !details.url.startsWith('devtools:') && !isOwnBlob(details.url) });
  });
}

export function openWindow(preload: string, { maximized, ...place }: Partial<Area> & { maximized: boolean }) {
  const window = new BrowserWindow({
    title: 'A-scan workbench',
    ...place,
    minWidth: smallestWindow.width,
    minHeight: smallestWindow.height,
    show: false,
    webPreferences: { preload, ...pagePreferences },
  });
  if (maximized) window.maximize();
  window.once('ready-to-show', () => window.show());
  void window.loadURL(pageAddress);
  return window;
}

function stayHome(event: { readonly url: string; preventDefault(): void }): void {
  if (!isOwnPage(event.url)) event.preventDefault();
}

function isOwnBlob(address: string): boolean {
  return address.startsWith(`blob:${pageAddress}`);
}
