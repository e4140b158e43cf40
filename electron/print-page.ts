import { randomUUID } from 'node:crypto';
import { BrowserWindow } from 'electron';
import type { Paper } from './bridge.ts';
import { printPolicy } from './content-policy.ts';
import { pageAddress } from './page-address.ts';
import { pagePreferences } from './page-preferences.ts';

/** Pages that are being printed, by the path at which they are served while that goes on. */
const printing = new Map<string, string>();

const printHeaders = {
  'Content-Type': 'text/html; charset=utf-8',
  'Content-Security-Policy': printPolicy,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cache-Control': 'no-store',
} as const;

/** The page that is printed at this path; `null` for any other. */
export function pageBeingPrinted(path: string): Response | null {
  const text = printing.get(path);
  return text === undefined ? null : new Response(text, { headers: printHeaders });
}

/** Sets a page as PDF in a window that nobody sees: without script, without preload, in the sandbox. Margins are the page's own. */
export async function pdfOfPage(text: string, paper: Paper): Promise<Uint8Array> {
  const path = `/print/${randomUUID()}`;
  const window = new BrowserWindow({
    show: false,
    webPreferences: { javascript: false, ...pagePreferences },
  });
  printing.set(path, text);
  try {
    await window.loadURL(new URL(path, pageAddress).href);
    return await window.webContents.printToPDF({
      pageSize: paper,
      printBackground: true,
      margins: { top: 0, bottom: 0, left: 0, right: 0 },
      generateTaggedPDF: true,
    });
  } finally {
    printing.delete(path);
    window.destroy();
  }
}
