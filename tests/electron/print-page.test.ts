import { describe, expect, it, vi } from 'vitest';
import { pageBeingPrinted, pdfOfPage } from '../../electron/print-page.ts';
import { BrowserWindow, windows } from './electron-double.ts';

const text = '<!doctype html><p>report</p>';

/** What is asked of the window that nobody sees; whether Electron does it is not seen here. */
describe('a page set as PDF', () => {
  it('in a window that nobody sees, without script, Node or preload, in the sandbox; closed afterwards', async () => {
    const pdf = await pdfOfPage(text, 'A4');
    expect(new TextDecoder().decode(pdf)).toMatch(/^%PDF/);
    const window = windows.at(-1);
    expect(window?.options).toMatchObject({ show: false });
    expect(window?.options.webPreferences).toEqual({
      javascript: false,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      webviewTag: false,
      spellcheck: false,
    });
    expect(window?.isClosed).toBe(true);
  });

  it('on the paper chosen, its margins those of the page itself', async () => {
    await pdfOfPage(text, 'Letter');
    expect(windows.at(-1)?.webContents.printed).toMatchObject([
      { pageSize: 'Letter', printBackground: true, margins: { top: 0, bottom: 0, left: 0, right: 0 } },
    ]);
  });

  it('is served at an address of its own while it is printed, with a policy that lets it do nothing, and not afterwards', async () => {
    let served: Response | null = null;
    const load = vi.spyOn(BrowserWindow.prototype, 'loadURL').mockImplementation(async (address) => {
      expect(address).toMatch(/^workbench:\/\/app\/print\/[0-9a-f-]{36}$/);
      served = pageBeingPrinted(new URL(address).pathname);
    });
    await pdfOfPage(text, 'A4');
    const [[address]] = load.mock.calls;
    load.mockRestore();
    expect(await (served as Response | null)?.text()).toBe(text);
    const policy = (served as Response | null)?.headers.get('Content-Security-Policy');
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain('sandbox');
    expect(policy).not.toContain('script-src');
    expect(pageBeingPrinted(new URL(address).pathname)).toBeNull();
  });

  it('leaves no window behind where it cannot be printed', async () => {
    const load = vi.spyOn(BrowserWindow.prototype, 'loadURL').mockRejectedValue(new Error('no'));
    await expect(pdfOfPage(text, 'A4')).rejects.toThrow('no');
    load.mockRestore();
    expect(windows.at(-1)?.isClosed).toBe(true);
  });
});
