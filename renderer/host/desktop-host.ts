import type { Bridge, DraftTold, FoundReviewTold, Offered } from '../../electron/bridge.ts';
import { layoutFrom } from '../settings/layout.ts';
import { browserHost } from './browser-host.ts';
import type { Draft, FoundReview, Host, HostFile, OwnWindow } from './host.ts';

declare global {
  interface Window {
    /** Set by the preload script in the desktop window, and only there. */
    readonly workbench?: Bridge;
  }
}

/** How much of a file is asked for at once. */
const partBytes = 8 << 20;

/** The host in the desktop window, over the one table of calls. What a browser can do as well (dropped files, the sample) it leaves to the browser's. */
export function desktopHost(given: Bridge): Host {
  const bridge = inPlainWords(given);
  /** The token behind each file that was given, so that drafts and names can speak of it. */
  const tokens = new WeakMap<HostFile, string>();

  function fileOf({ token, name, bytes }: Offered): HostFile {
    const file: HostFile = { name, bytes, read: () => readInParts(bridge, token, bytes) };
    tokens.set(file, token);
    return file;
  }

  function reviewOf({ place, name, text, version }: FoundReviewTold): FoundReview {
    return {
      place,
      name,
      text,
      version,
      fileBeside: async (file) => orNull(await bridge.fileBeside(place.id, file), fileOf),
    };
  }

  function draftOf({ id, ...told }: DraftTold): Draft {
    return {
      id,
      ...told,
      source: async (file, sha256) => orNull(await bridge.draftSource(id, file, sha256), fileOf),
    };
  }

  return {
    openFiles: async () => (await bridge.pickCaptures()).map(fileOf),
    openFolder: async () => (await bridge.pickFolder()).map(fileOf),
    async dropped(data) {
      const files = await browserHost.dropped(data);
      return Promise.all(
        files.map(async (file) => {
          const offered = await bridge.offerDropped(await file.read());
          if (offered !== null) tokens.set(file, offered.token);
          return file;
        }),
      );
    },
    openSample: browserHost.openSample,

    openReview: async () => orNull(await bridge.pickReview(), reviewOf),
    recent: () => bridge.recentReviews(),
    openRecent: async (id) => reviewOf(await bridge.openRecent(id)),
    async saveReview({ place, suggestedName, text, version }) {
      const chosen = place ?? (await bridge.choosePlace(suggestedName));
      if (chosen === null) return { kind: 'cancelled' };
      return bridge.saveReview({ place: chosen.id, text, version });
    },
    choosePlace: (suggestedName) => bridge.choosePlace(suggestedName),
    async namesFrom(place, files) {
      const known = [...files].flatMap(([name, file]) => {
        const token = tokens.get(file);
        return token === undefined ? [] : [{ name, token }];
      });
      const names = await bridge.namesFrom(
        place.id,
        known.map(({ token }) => token),
      );
      return new Map(known.map(({ name }, i) => [name, names[i] ?? name]));
    },
    saveText: (suggestedName, _mediaType, text) => bridge.saveText(suggestedName, text),
    saveBytes: async (suggestedName, content) =>
      bridge.saveBytes(suggestedName, new Uint8Array(await content.arrayBuffer())),
    printPage: (to) => bridge.printPage({ ...to }),

    keepDraft: ({ sources, ...draft }) =>
      bridge.keepDraft({
        ...draft,
        sources: [...sources].flatMap(([sha256, file]) => {
          const token = tokens.get(file);
          return token === undefined ? [] : [{ file: file.name, sha256, token }];
        }),
      }),
    dropDraft: () => bridge.dropDraft(),
    drafts: async () => (await bridge.drafts()).map(draftOf),
    forgetDraft: (id) => bridge.forgetDraft(id),

    about: () => bridge.about(),
    settings: () => bridge.settings(),
    keepSettings: (settings) => bridge.keepSettings(settings),
    layout: async () => layoutFrom(await bridge.layout()),
    keepLayout: (layout) => bridge.keepLayout(layout),
    sayUnsaved: (unsaved) => void bridge.sayUnsaved(unsaved),
    ownWindow: ownWindow(bridge, reviewOf),
  };
}

function ownWindow(bridge: Bridge, reviewOf: (told: FoundReviewTold) => FoundReview): OwnWindow {
  return {
    showMenu: (menus) =>
      void bridge.showMenu(menus.map(({ label, items }) => ({ label, items: items.map((item) => ({ ...item })) }))),
    onCommand: (listener) => bridge.on('command', ({ id }) => listener(id)),
    reviewGiven: async () => orNull(await bridge.reviewGiven(), reviewOf),
    onCloseAsked: (listener) => bridge.on('closeAsked', () => listener()),
    close: () => void bridge.closeWindow(),
  };
}

/** Electron puts its own words before a call's error; a person is shown the sentence alone. */
function inPlainWords(bridge: Bridge): Bridge {
  const plain = Object.entries(bridge).map(([name, call]) => [
    name,
    name === 'on'
      ? call
      : (...called: unknown[]) =>
          (call as (...all: unknown[]) => Promise<unknown>)(...called).catch((cause: unknown) => {
            const words = cause instanceof Error ? cause.message : String(cause);
            throw new Error(words.replace(/^Error invoking remote method '[^']*': (Error: )?/, ''), { cause });
          }),
  ]);
  return Object.fromEntries(plain);
}

async function readInParts(bridge: Bridge, token: string, bytes: number): Promise<Blob> {
  const parts: Uint8Array<ArrayBuffer>[] = [];
  for (let from = 0; from < bytes; from += partBytes) {
    const part = await bridge.readPart(token, from, Math.min(partBytes, bytes - from));
    // It is never taken for whole. (The host tells it by the file's state, too.)
    if (part.byteLength < Math.min(partBytes, bytes - from))
      throw new Error('The file has become shorter since it was opened; open it again.');
    parts.push(part);
  }
  return new Blob(parts);
}

function orNull<From, To>(value: From | null, make: (value: From) => To): To | null {
  return value === null ? null : make(value);
}
