import type { Layout } from '../settings/layout.ts';
import type { Settings } from '../settings/settings.ts';

/** A file that a person gave: its name as the review would know it, and its bytes when they are asked for. Never a path. */
export interface HostFile {
  /** Relative to the folder that was opened or dropped, or to the review's, with forward slashes; the plain name where nothing else is known. */
  readonly name: string;
  readonly bytes: number;
  /** Rejects with a sentence where the file can no longer be read. The blob of a file on disk is not held in memory. */
  read(): Promise<Blob>;
}

/** Where a review is kept. `id` is the host's own token; `name` is what a person calls it. */
export interface ReviewPlace {
  readonly id: string;
  readonly name: string;
}

/** A saved review as it was found. */
export interface FoundReview {
  readonly place: ReviewPlace | null;
  readonly name: string;
  readonly text: string;
  /** What stood there when it was read; saving is refused where something else stands there by then. */
  readonly version: string | null;
  /** A file by its name relative to the review; `null` where the host cannot reach it (a browser may have to ask for it) or it is not there. */
  fileBeside(file: string): Promise<HostFile | null>;
}

export interface Recent {
  readonly id: string;
  readonly name: string;
  /** When it was last opened or saved, ISO 8601. */
  readonly at: string;
}

export type Saved =
  | {
      readonly kind: 'saved';
      readonly place: ReviewPlace | null;
      readonly name: string;
      readonly version: string | null;
    }
  /** The person closed the dialog. */
  | { readonly kind: 'cancelled' }
  /** Since it was read, somebody else saved it: `at` (ISO 8601) where the host knows. Nothing was written. */
  | { readonly kind: 'changed-since'; readonly place: ReviewPlace; readonly at: string | null };

/** A review as it stands between saves, kept so that a crash costs no more than a second. */
export interface DraftToKeep {
  /** What a person calls it: the saved review's name, or the title where it was never saved. */
  readonly name: string | null;
  readonly place: ReviewPlace | null;
  readonly version: string | null;
  readonly text: string;
  /** The files in use, by SHA-256; a host keeps what it needs to find them again. */
  readonly sources: ReadonlyMap<string, HostFile>;
}

/** What an earlier window left behind when it ended without saving. */
export interface Draft {
  readonly id: string;
  /** ISO 8601. */
  readonly at: string;
  readonly name: string | null;
  readonly place: ReviewPlace | null;
  readonly version: string | null;
  readonly text: string;
  /** A file of the review by name and hash; `null` where it must be located. */
  source(file: string, sha256: string | null): Promise<HostFile | null>;
}

/** What the screens may ask of the outside. They never ask which host they run in. Methods reject with a sentence that can be shown. */
export interface Host {
  /** Asks for waveform files (several); empty where the person closed the dialog. */
  openFiles(): Promise<readonly HostFile[]>;
  /** Asks for a folder and gives all files in it and below that may be captures, manifests or reviews; names begin below it. */
  openFolder(): Promise<readonly HostFile[]>;
  /** What was dropped on the window: files, and folders with all below them. To be called in the event itself. */
  dropped(data: DataTransfer): Promise<readonly HostFile[]>;
  /** Demonstration files by their paths below their folder; rejects where one is not there. */
  openSample(names: readonly string[]): Promise<readonly HostFile[]>;

  /** Asks for a saved review; `null` where the person closed the dialog. */
  openReview(): Promise<FoundReview | null>;
  recent(): Promise<readonly Recent[]>;
  /** Rejects with a sentence where it is no longer there. */
  openRecent(id: string): Promise<FoundReview>;
  /**
   * Writes a review: to its place where one is given, else where the person says. Refused (`changed-since`) where the place no longer holds `version`;
   * `version` null writes over whatever stands there.
   */
  saveReview(to: {
    readonly place: ReviewPlace | null;
    readonly suggestedName: string;
    readonly text: string;
    readonly version: string | null;
    /** The review's files by SHA-256: a host that could not find them again by their names keeps them. */
    readonly sources: ReadonlyMap<string, HostFile>;
  }): Promise<Saved>;
  /**
   * What the review's files are called as seen from a place, by the name each has now; a name that is missing stays as it is.
   * Needed where a review is saved into another folder than its names begin in. `undefined` in hosts that know no folders.
   */
  readonly namesFrom?: (
    place: ReviewPlace,
    files: ReadonlyMap<string, HostFile>,
  ) => Promise<ReadonlyMap<string, string>>;
  /** Asks where, before the text is made: the place for `saveReview`. `undefined` in hosts that ask while saving. */
  readonly choosePlace?: (suggestedName: string) => Promise<ReviewPlace | null>;
  /** Saves any other text (a table, say) where the person says; false where the dialog was closed. */
  saveText(suggestedName: string, mediaType: string, text: string): Promise<boolean>;
  /** The same for what is no text: a package. */
  saveBytes(suggestedName: string, content: Blob): Promise<boolean>;
  /**
   * A page on paper: saved as PDF where the person says, or shown with the browser's print dialog, in which they can do the same. False where the dialog was
   * closed. To be called in an event of the person's own: a browser opens no page otherwise.
   */
  printPage(to: {
    readonly suggestedName: string;
    /** The whole text of the page (HTML). */
    readonly page: string;
    readonly paper: 'A4' | 'Letter';
  }): Promise<boolean>;

  /** Keeps this window's draft in place of the one before. Each window has its own. */
  keepDraft(draft: DraftToKeep): Promise<void>;
  /** This window's draft is no longer needed. */
  dropDraft(): Promise<void>;
  /** What windows that are no longer open have left behind, newest first. */
  drafts(): Promise<readonly Draft[]>;
  /** The draft of another window was taken over or refused by the person. */
  forgetDraft(id: string): Promise<void>;

  about(): Promise<{ readonly version: string }>;

  settings(): Promise<Settings>;
  keepSettings(settings: Settings): Promise<void>;
  /** How the person left the page. */
  layout(): Promise<Layout>;
  keepLayout(layout: Layout): Promise<void>;
  /** Whether closing the window now would leave work unsaved: the host then asks before it closes. */
  sayUnsaved(unsaved: boolean): void;
  /** What only a window of its own has; `undefined` in a browser's tab. */
  readonly ownWindow?: OwnWindow;
}

/** A menu of the window, from the list of commands. */
export interface MenuToShow {
  readonly label: string;
  readonly items: readonly {
    readonly id: string;
    readonly label: string;
    readonly shortcut: string | null;
    readonly enabled: boolean;
    /** Begins a new group within its menu. */
    readonly apart: boolean;
  }[];
}

export interface OwnWindow {
  showMenu(menus: readonly MenuToShow[]): void;
  /** A command of that menu was chosen; the answer stops the listening. */
  onCommand(listener: (id: string) => void): () => void;
  /** The review for which this window was opened, once; `null` for none. */
  reviewGiven(): Promise<FoundReview | null>;
  /** The person wants to close the window while work is unsaved. */
  onCloseAsked(listener: () => void): () => void;
  /** Closes it without asking again. */
  close(): void;
}
