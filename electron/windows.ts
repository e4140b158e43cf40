import { randomUUID } from 'node:crypto';
import { type BrowserWindow, dialog, screen, type WebContents } from 'electron';
import { tell } from './answer-calls.ts';
import type { WorkbenchWindow } from './carry-out.ts';
import type { Kept } from './kept.ts';
import { pageAddress } from './page-address.ts';
import { openWindow } from './window.ts';
import { placeOf, type WindowState } from './window-state.ts';

/** The open windows: each with its own draft, its place kept, closed only when nothing is lost by it. */
export interface Windows {
  open(toOpen: string | null): Promise<void>;
  all(): readonly WorkbenchWindow[];
  of(page: WebContents): WorkbenchWindow | null;
  focus(): void;
}

export function windows(preload: string, state: Kept<WindowState | null>): Windows {
  const opened = new Map<WebContents, WorkbenchWindow>();

  return {
    async open(toOpen) {
      const screens = screen.getAllDisplays().map(({ workArea }) => workArea);
      const window = openWindow(preload, placeOf(await state.read(), screens));
      const page = window.webContents;
      const known: WorkbenchWindow = { window, draftId: randomUUID(), toOpen, unsaved: false, mayClose: false };
      opened.set(page, known);
      window.on('close', (event) => {
        void state.write(stateOf(window));
        if (!known.unsaved || known.mayClose || page.isCrashed()) return;
        event.preventDefault();
        tell(page, 'closeAsked', {});
      });
      window.on('closed', () => opened.delete(page));
      page.on('render-process-gone', () => void startAgain(known));
    },
    all: () => [...opened.values()],
    of: (page) => opened.get(page) ?? null,
    focus() {
      const window = [...opened.values()].at(-1)?.window;
      if (window?.isMinimized()) window.restore();
      window?.focus();
    },
  };
}

/** The page's process has ended by itself. Its draft is left to be recovered, so the page that follows has another. */
async function startAgain(known: WorkbenchWindow): Promise<void> {
  known.draftId = randomUUID();
  known.unsaved = false;
  const { response } = await dialog.showMessageBox(known.window, {
    type: 'error',
    message: 'The workbench’s page has stopped.',
    detail: 'Your work up to the last second is kept, and is offered when the page is opened again.',
    buttons: ['Open the page again', 'Close the window'],
    defaultId: 0,
    cancelId: 1,
  });
  if (response === 0) void known.window.loadURL(pageAddress);
  else known.window.close();
}

function stateOf(window: BrowserWindow): WindowState {
  return { ...window.getNormalBounds(), maximized: window.isMaximized() };
}
