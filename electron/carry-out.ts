import { extname } from 'node:path';
import { app, type BrowserWindow, dialog, Menu, type OpenDialogOptions } from 'electron';
import * as v from 'valibot';
import { tell } from './answer-calls.ts';
import {
  type Carried,
  type DraftTold,
  initialSettings,
  type KeptLayout,
  type KeptSettings,
  layoutSchema,
  settingsSchema,
} from './bridge.ts';
import type { Drafts } from './drafts.ts';
import { captureEndings, type Files } from './files.ts';
import { kept } from './kept.ts';
import { isReviewName, reviewEnding } from './launch.ts';
import { menuTemplate } from './menu.ts';
import { pdfOfPage } from './print-page.ts';
import { recentName, recentSchema, withoutRecent, withRecent } from './recent.ts';
import { suggestedFileName } from './suggested-name.ts';
import type { Tokens } from './tokens.ts';

/** What the host knows of a window beside Electron. */
export interface WorkbenchWindow {
  readonly window: BrowserWindow;
  /** The draft that this window keeps; another one after its page was loaded anew. */
  draftId: string;
  /** The review it was opened for. */
  toOpen: string | null;
  unsaved: boolean;
  mayClose: boolean;
}

const captureFilter = { name: 'Waveform files', extensions: [...captureEndings] };
const reviewFilter = { name: 'Reviews', extensions: [reviewEnding.slice(1), 'json'] };
const anyFilter = { name: 'All files', extensions: ['*'] };

/** Carries out the bridge's calls: dialogs, the person's files, what is kept in their profile, the window's menu. */
export function carryOut({
  tokens,
  files,
  drafts,
  profile,
  openWindows,
  now,
}: {
  readonly tokens: Tokens;
  readonly files: Files;
  readonly drafts: Drafts;
  /** Path of a file of the program's own. */
  readonly profile: (name: string) => string;
  readonly openWindows: () => readonly WorkbenchWindow[];
  readonly now: () => Date;
}): Carried<WorkbenchWindow> {
  const recent = kept(profile('recent.json'), recentSchema, []);
  const settings = kept<KeptSettings>(profile('settings.json'), settingsSchema, initialSettings);
  const layout = kept<KeptLayout | null>(profile('layout.json'), v.nullable(layoutSchema), null);

  async function pick(caller: WorkbenchWindow, options: OpenDialogOptions): Promise<readonly string[]> {
    const { canceled, filePaths } = await dialog.showOpenDialog(caller.window, options);
    return canceled ? [] : filePaths;
  }

  async function openReview(path: string) {
    const found = await files.readReview(path);
    await remember(path);
    return found;
  }

  /** That it cannot be remembered does not make a review that was opened or saved any less so. */
  async function remember(path: string): Promise<void> {
    app.addRecentDocument(path);
    await recent.write(withRecent(await recent.read(), path, now().toISOString())).catch(() => {});
  }

  async function told(id: string): Promise<DraftTold | null> {
    const draft = await drafts.read(id);
    if (draft === null) return null;
    const { at, name, path, version, text } = draft;
    return { id, at, name, place: path === null ? null : files.place(path), version, text };
  }

  async function placeToSave(caller: WorkbenchWindow, suggested: string): Promise<string | null> {
    const suggestedName = suggestedFileName(suggested);
    const ending = extname(suggestedName).slice(1);
    const { canceled, filePath } = await dialog.showSaveDialog(caller.window, {
      title: 'Save',
      defaultPath: suggestedName,
      filters: [...(ending === '' ? [] : [{ name: ending.toUpperCase(), extensions: [ending] }]), anyFilter],
      properties: ['createDirectory', 'showOverwriteConfirmation'],
    });
    return canceled || filePath === '' ? null : filePath;
  }

  return {
    about: async () => ({ version: app.getVersion() }),

    pickCaptures: async (caller) => [
      ...(await files.offer(
        await pick(caller, {
          title: 'Open captures',
          properties: ['openFile', 'multiSelections'],
          filters: [captureFilter, anyFilter],
        }),
      )),
    ],
    async pickFolder(caller) {
      const [folder] = await pick(caller, { title: 'Open a folder of captures', properties: ['openDirectory'] });
      return folder === undefined ? [] : [...(await files.offerFolder(folder))];
    },
    offerDropped: async (_caller, path) => (path === '' ? null : files.offerOne(path)),
    readPart: (_caller, token, from, length) => files.readPart(token, from, length),

    async reviewGiven(caller) {
      const path = caller.toOpen;
      caller.toOpen = null;
      return path === null ? null : openReview(path);
    },
    async pickReview(caller) {
      const [path] = await pick(caller, {
        title: 'Open a review',
        properties: ['openFile'],
        filters: [reviewFilter, anyFilter],
      });
      return path === undefined ? null : openReview(path);
    },
    recentReviews: async () =>
      (await recent.read()).map(({ path, at }) => ({ id: tokens.tokenOf(path), name: recentName(path), at })),
    async openRecent(_caller, id) {
      const path = tokens.pathOf(id);
      try {
        return await openReview(path);
      } catch (error) {
        await recent.write(withoutRecent(await recent.read(), path)).catch(() => {});
        throw error;
      }
    },
    fileBeside: (_caller, review, name) => files.beside(review, name),

    async choosePlace(caller, suggestedName) {
      const { canceled, filePath } = await dialog.showSaveDialog(caller.window, {
        title: 'Save the review',
        // The ending that opens the program by a double click; `.json` opens in it as well.
        defaultPath: suggestedFileName(suggestedName).replace(/\.json$/i, reviewEnding),
        filters: [reviewFilter],
        properties: ['createDirectory', 'showOverwriteConfirmation'],
      });
      if (canceled || filePath === '') return null;
      return files.place(isReviewName(filePath) ? filePath : `${filePath}${reviewEnding}`);
    },
    async saveReview(_caller, { place, text, version }) {
      const saved = await files.saveReview(place, text, version);
      if (saved.kind === 'saved') await remember(tokens.pathOf(place));
      return saved;
    },
    namesFrom: async (_caller, place, of) => files.namesFrom(place, of),
    async saveText(caller, suggestedName, text) {
      const path = await placeToSave(caller, suggestedName);
      if (path !== null) await files.saveText(path, text);
      return path !== null;
    },
    async saveBytes(caller, suggestedName, bytes) {
      const path = await placeToSave(caller, suggestedName);
      if (path !== null) await files.saveBytes(path, bytes);
      return path !== null;
    },
    async printPage(caller, { suggestedName, page, paper }) {
      const { canceled, filePath } = await dialog.showSaveDialog(caller.window, {
        title: 'Save as PDF',
        defaultPath: suggestedFileName(suggestedName),
        filters: [{ name: 'PDF', extensions: ['pdf'] }],
        properties: ['createDirectory', 'showOverwriteConfirmation'],
      });
      if (canceled || filePath === '') return false;
      await files.saveBytes(filePath, await pdfOfPage(page, paper));
      return true;
    },

    keepDraft: (caller, { place, sources, name, version, text }) =>
      drafts.keep(caller.draftId, {
        at: now().toISOString(),
        name,
        path: place === null ? null : tokens.pathOf(place.id),
        version,
        text,
        sources: sources.map(({ file, sha256, token }) => ({ file, sha256, path: tokens.pathOf(token) })),
      }),
    dropDraft: (caller) => drafts.drop(caller.draftId),
    async drafts() {
      const inUse = new Set(openWindows().map(({ draftId }) => draftId));
      const left = (await drafts.ids()).filter((id) => !inUse.has(id));
      const all = (await Promise.all(left.map(told))).filter((draft) => draft !== null);
      return all.toSorted((a, b) => (a.at < b.at ? 1 : -1));
    },
    async draftSource(_caller, id, file, sha256) {
      const draft = await drafts.read(id);
      const source =
        draft?.sources.find((one) => one.sha256 === sha256) ?? draft?.sources.find((one) => one.file === file);
      return source === undefined ? null : files.offerOne(source.path, file);
    },
    forgetDraft: (_caller, id) => drafts.drop(id),

    settings: () => settings.read(),
    keepSettings: (_caller, chosen) => settings.write(chosen),
    layout: () => layout.read(),
    keepLayout: (_caller, left) => layout.write(left),

    async showMenu(caller, menus) {
      const menu = Menu.buildFromTemplate(
        menuTemplate(menus, (id) => tell(caller.window.webContents, 'command', { id }), process.platform),
      );
      // One menu bar for the program on macOS, one in each window elsewhere.
      if (process.platform === 'darwin') Menu.setApplicationMenu(menu);
      else caller.window.setMenu(menu);
    },
    async sayUnsaved(caller, unsaved) {
      caller.unsaved = unsaved;
      caller.window.setDocumentEdited(unsaved);
    },
    async closeWindow(caller) {
      caller.mayClose = true;
      caller.window.close();
    },
  };
}
