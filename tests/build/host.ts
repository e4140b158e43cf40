import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Draft, DraftToKeep, FoundReview, Host, HostFile, Saved } from '../../renderer/host/host.ts';
import { initialLayout } from '../../renderer/settings/layout.ts';

const sampleFolder = fileURLToPath(new URL('../../sample-data/', import.meta.url));

/** A file in memory. */
export function hostFile(name: string, content: string | Uint8Array<ArrayBuffer>): HostFile {
  const blob = new Blob([content]);
  return { name, bytes: blob.size, read: async () => blob };
}

export function sampleFile(name: string): HostFile {
  return hostFile(name, new Uint8Array(readFileSync(sampleFolder + name)));
}

/** A host in memory: one place in which reviews stand, drafts, and what it was told. */
export interface HostInMemory extends Host {
  /** What stands in the place; another window may have written it. */
  standing: string | null;
  readonly keptDrafts: DraftToKeep[];
  draftsDropped: number;
  leftBehind: Draft[];
  readonly forgotten: string[];
  unsaved: boolean;
  /** Whether the person closes the next dialog. */
  closesDialog: boolean;
}

const place = { id: 'place', name: 'frame-12.json' };

export function hostInMemory(
  folder: ReadonlyMap<string, HostFile> = new Map(),
  names?: ReadonlyMap<string, string>,
): HostInMemory {
  const fileBeside = async (file: string) => folder.get(file) ?? null;
  const found = (): FoundReview => ({
    place,
    name: place.name,
    text: host.standing ?? '',
    version: host.standing,
    fileBeside,
  });
  const host: HostInMemory = {
    standing: null,
    keptDrafts: [],
    draftsDropped: 0,
    leftBehind: [],
    forgotten: [],
    unsaved: false,
    closesDialog: false,
    openFiles: async () => [...folder.values()],
    openFolder: async () => [...folder.values()],
    dropped: async () => [],
    openSample: async (wanted) => wanted.map(sampleFile),
    openReview: async () => (host.standing === null ? null : found()),
    recent: async () =>
      host.standing === null ? [] : [{ id: place.id, name: place.name, at: '2026-05-11T18:00:00Z' }],
    openRecent: async () => found(),
    async saveReview({ text, version }): Promise<Saved> {
      if (host.closesDialog) return { kind: 'cancelled' };
      if (version !== null && version !== host.standing) return { kind: 'changed-since', place, at: null };
      host.standing = text;
      return { kind: 'saved', place, name: place.name, version: text };
    },
    ...(names === undefined ? {} : { choosePlace: async () => place, namesFrom: async () => names }),
    saveText: async () => true,
    saveBytes: async () => true,
    printPage: async () => true,
    keepDraft: async (draft) => void host.keptDrafts.push(draft),
    async dropDraft() {
      host.draftsDropped++;
    },
    drafts: async () => host.leftBehind,
    forgetDraft: async (id) => void host.forgotten.push(id),
    about: async () => ({ version: '1.2.3' }),
    settings: async () => ({ theme: 'dark', units: 'inch', decimalMark: ',' }),
    keepSettings: async () => {},
    layout: async () => initialLayout,
    keepLayout: async () => {},
    sayUnsaved(unsaved) {
      host.unsaved = unsaved;
    },
  };
  return host;
}
