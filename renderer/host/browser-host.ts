import { layoutFrom } from '../settings/layout.ts';
import { fromJson, settingsFrom } from '../settings/settings.ts';
import { BrowserDrafts } from './browser-drafts.ts';
import { download, droppedFiles, hostFileOf, openToPrint, pickFiles, pickFolder } from './browser-files.ts';
import { browserReviews } from './browser-reviews.ts';
import type { Host } from './host.ts';

const settingsKey = 'settings';
const layoutKey = 'layout';

let ownDrafts: BrowserDrafts | null = null;

/** Not before it is needed: the desktop window, which uses a part of this host, keeps its drafts elsewhere. */
function drafts(): BrowserDrafts {
  ownDrafts ??= new BrowserDrafts();
  return ownDrafts;
}

let unsavedNow = false;
let asksBeforeClosing = false;

/** The host where the page is served to a plain browser. */
export const browserHost: Host = {
  openFiles: () => pickFiles('.csv,.txt,.tsv,.dat,.asc,.json,.ascan-review', true),
  openFolder: () => pickFolder(),
  dropped: (data) => droppedFiles(data),
  openSample: (names) =>
    Promise.all(
      names.map(async (name) => {
        const answer = await fetch(`./sample/${name.split('/').map(encodeURIComponent).join('/')}`);
        if (!answer.ok)
          throw new Error(`The sample file ${name} is not there: run npm run sample, then load this page again.`);
        const file = new File([await answer.arrayBuffer()], name);
        return hostFileOf(file, name);
      }),
    ),

  ...browserReviews,
  async saveText(suggestedName, mediaType, text) {
    download(suggestedName, new Blob([text], { type: mediaType }));
    return true;
  },
  async saveBytes(suggestedName, content) {
    download(suggestedName, content);
    return true;
  },
  async printPage({ page }) {
    openToPrint(page);
    return true;
  },

  keepDraft: (draft) => drafts().keep(draft),
  dropDraft: () => drafts().drop(),
  drafts: () => drafts().leftBehind(),
  forgetDraft: (id) => drafts().forget(id),

  async about() {
    return { version: import.meta.env.VITE_VERSION };
  },

  settings: async () => settingsFrom(keptText(settingsKey)),
  async keepSettings(settings) {
    keepText(settingsKey, JSON.stringify(settings));
  },
  layout: async () => layoutFrom(fromJson(keptText(layoutKey))),
  async keepLayout(layout) {
    keepText(layoutKey, JSON.stringify(layout));
  },
  sayUnsaved(unsaved) {
    unsavedNow = unsaved;
    if (asksBeforeClosing) return;
    asksBeforeClosing = true;
    window.addEventListener('beforeunload', (event) => {
      if (unsavedNow) event.preventDefault();
    });
  },
};

function keepText(key: string, text: string): void {
  try {
    localStorage.setItem(key, text);
  } catch (cause) {
    throw new Error('The browser keeps no settings here: they hold until this page is closed.', { cause });
  }
}

function keptText(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    // A browser may refuse to keep anything.
    return null;
  }
}
