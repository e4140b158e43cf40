import type { CaptureId } from '../../core/capture/capture.ts';
import type { SampleRange } from '../../core/capture/waveform.ts';
import type { Evaluation } from '../../core/evaluate.ts';
import type { Reading } from '../../core/gate/reading.ts';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { Outcome, Problem } from '../../core/outcome.ts';
import type { Edit } from '../../core/review/edit.ts';
import type { Facts, Review } from '../../core/review/review.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { Manner as ReportManner } from '../engine/engine.ts';
import type { FileUnderstood, Packed, Progress, TraceFacts, Verified } from '../engine/messages.ts';
import type { Draft, FoundReview, HostFile, Recent, ReviewPlace } from '../host/host.ts';
import type { Layout } from '../settings/layout.ts';
import type { Cursors } from '../trace/cursors.ts';
import type { Viewport } from '../trace/viewport.ts';

/** Everything that the screens show, and everything that they can do to it. */
export interface Workbench extends State {
  readonly actions: Actions;
}

export interface State extends DocumentState, FilesState, EvaluationState, ViewState, KeepingState {}

// ── the document ────────────────────────────────────────────────────────────

export interface DocumentState {
  readonly review: Review;
  /** In plain words, as it stands after "Undo: "; `null` where there is nothing to undo. */
  readonly undoName: string | null;
  readonly redoName: string | null;
  readonly unsaved: boolean;
  /** Of the saved review; `null` as long as it was never saved. */
  readonly name: string | null;
}

/** `now`: an entry of its own in the history; `merged`: one with the edits before it, while a drag or a held key goes on. */
export type Manner = 'now' | 'merged';

// ── the files ───────────────────────────────────────────────────────────────

export interface FilesState {
  /** By name: those of the review in its order, then those that were given but could not be taken in. */
  readonly files: ReadonlyMap<string, OpenedSource>;
  /** All captures that are ready, in the review's order. */
  readonly captures: ReadonlyMap<CaptureId, TraceFacts>;
  /** `null` where nothing is being taken in. */
  readonly importing: Importing | null;
}

export interface OpenedSource {
  readonly file: string;
  /** As the review knows it, or as it was read where the review does not have it. */
  readonly sha256: string | null;
  /**
   * `ready`: its captures are there; `asking`: a person must say something first; `broken`: it cannot be read as it stands;
   * `missing`: the review's file was not found; `changed`: a file of that name was found, with other bytes (`found`).
   */
  readonly state: 'ready' | 'asking' | 'broken' | 'missing' | 'changed';
  readonly inReview: boolean;
  readonly recipe: ImportRecipe;
  readonly understood: FileUnderstood | null;
  readonly captures: readonly TraceFacts[];
  readonly asks: readonly Problem[];
  readonly warnings: readonly Problem[];
  readonly problems: readonly Problem[];
  /** SHA-256 of other bytes that were given under this name; `takeFound` takes them in place of those that the review knows. The state may be `ready` all the same. */
  readonly found: string | null;
}

export interface Importing extends Progress {
  /** What is being done, in words: `Reading files`, `Looking for the review's files`. */
  readonly what: string;
}

// ── the results ─────────────────────────────────────────────────────────────

export interface EvaluationState {
  /** Of the review as it stood a moment ago, while `evaluating`; `null` before the first. */
  readonly evaluation: Evaluation | null;
  /** The review that `evaluation` is of. Another one than `review`: what is shown is older than what was decided. */
  readonly evaluationOf: Review | null;
  readonly evaluating: boolean;
  readonly evaluationProgress: Progress | null;
  /** The selected capture, read live while a gate is dragged; its readings stand in for those of the evaluation. */
  readonly live: { readonly captureId: CaptureId; readonly readings: readonly Reading[] } | null;
}

// ── what is shown ───────────────────────────────────────────────────────────

export type Procedure =
  | 'import'
  | 'calibration'
  | 'readings'
  | 'drift'
  | 'time-base'
  | 'screen-height'
  | 'gain'
  | 'sensitivity'
  | 'part'
  | 'location'
  | 'indications'
  | 'probes'
  | 'comparison'
  | 'material'
  | 'verdicts'
  | 'report';
/** The invented shift, the invented instrument with its yearly check, or three invented probes on one plate. */
export type Sample = 'shift' | 'instrument' | 'probes';

export type Theme = 'system' | 'light' | 'dark';

export interface Highlight {
  readonly captureId: CaptureId;
  readonly range: SampleRange;
}

/** A window on the time axis that a procedure asks for, and what takes it. */
export interface WindowWanted {
  readonly name: string;
  readonly take: (window: { readonly fromUs: number; readonly toUs: number }) => void;
}

export interface ViewState {
  readonly selected: CaptureId | null;
  readonly overlaid: readonly CaptureId[];
  /** `null`: the whole record. */
  readonly view: Viewport | null;
  readonly selectedGate: string | null;
  readonly drawingGate: boolean;
  /** What is drawn next is no gate but the window that a procedure asks for. */
  readonly windowWanted: WindowWanted | null;
  readonly cursors: Cursors;
  readonly traceMode: 'rf' | 'rectified';
  readonly envelope: boolean;
  readonly asked: FigureAsked | null;
  readonly highlight: Highlight | null;
  /** The indication that is chosen, by its name. */
  readonly indication: string | null;
  readonly procedure: Procedure;
  readonly style: FigureStyle;
  readonly theme: Theme;
  /** How the person left the page. */
  readonly layout: Layout;
}

// ── keeping the work ────────────────────────────────────────────────────────

export interface KeepingState {
  readonly place: ReviewPlace | null;
  readonly saving: boolean;
  readonly recent: readonly Recent[];
  /** What earlier windows left behind: offered on the first page. */
  readonly drafts: readonly Draft[];
  /** A saved review was given while work is unsaved: it is opened, or left, as soon as the person has answered. */
  readonly given: { readonly name: string } | null;
  /** Another window has saved over what this one opened: nothing was written, and the person chooses. */
  readonly conflict: { readonly place: ReviewPlace; readonly at: string | null } | null;
  /** What could not be done last, in sentences, until it is dismissed or something else succeeds. */
  readonly notices: readonly Problem[];
}

export interface Actions {
  // the document
  /** Problems of the edit itself (a gate of that name is there already) are returned and change nothing. */
  edit(edit: Edit, manner?: Manner): readonly Problem[];
  undo(): void;
  redo(): void;

  // files
  /**
   * Takes files in: captures, manifests, and the review's missing files by hash, then by name. A saved review among them is opened, and the rest taken as
   * its files; where work is unsaved, not before `answerGiven`.
   */
  addFiles(files: readonly HostFile[]): Promise<void>;
  /** Stops what is being taken in; what was read until then stays, and can be undone. */
  cancelImport(): void;
  setRecipe(file: string, recipe: ImportRecipe): Promise<void>;
  /** The same recipe for several files at once: one entry in the history. */
  setRecipes(files: readonly string[], recipe: ImportRecipe): Promise<void>;
  setFacts(file: string, facts: readonly Facts[]): void;
  /** Takes the file that was found under this name in place of the one that the review knows. */
  takeFound(file: string): Promise<void>;
  /** Out of the review, or off the list of those that could not be taken in. */
  removeFiles(files: readonly string[]): void;
  openFiles(): Promise<void>;
  openFolder(): Promise<void>;

  // the review
  newReview(): Promise<void>;
  /** Opens what was found; without an argument the host asks. Does not ask about unsaved changes: the shell does. */
  openReview(found?: FoundReview): Promise<void>;
  /** Opens the review that was given in place of the present one, or leaves it. What is unsaved by then is given up. */
  answerGiven(answer: 'open' | 'leave'): Promise<void>;
  openRecent(id: string): Promise<void>;
  openSample(which?: Sample): Promise<void>;
  /** True where it was written. */
  save(): Promise<boolean>;
  saveAs(): Promise<boolean>;
  /** After a conflict: write over what stands there, or save elsewhere, or leave it. */
  resolveConflict(choice: 'overwrite' | 'elsewhere' | 'leave'): Promise<boolean>;
  recover(draftId: string): Promise<void>;
  forgetDraft(draftId: string): Promise<void>;

  // results
  cancelEvaluation(): void;
  /** The report of the review as it stands, as one page of HTML; rejects where the worker fails. */
  makeReport(): Promise<Outcome<string>>;
  /** Captures, review, results and report as one ZIP file. */
  makePackage(manner: ReportManner): Promise<Outcome<Packed>>;
  /** Whether a package is what it says it is; nothing of it is taken in. */
  verifyPackage(file: File, manner: ReportManner): Promise<Outcome<Verified>>;

  // what is shown
  select(captureId: CaptureId | null): void;
  overlay(captureIds: readonly CaptureId[]): void;
  show(view: Viewport | null): void;
  selectGate(name: string | null): void;
  setDrawingGate(drawing: boolean): void;
  /** The next thing that is drawn on the trace is this window; `null`: nothing is wanted any more. */
  wantWindow(wanted: WindowWanted | null): void;
  setCursors(cursors: Cursors): void;
  setTraceMode(mode: 'rf' | 'rectified'): void;
  setEnvelope(envelope: boolean): void;
  ask(figure: FigureAsked | null): void;
  /** Selects the capture and shows these samples on the trace; `null` takes the mark off. */
  setHighlight(highlight: Highlight | null): void;
  /** Chooses an indication of the scan: its highest capture comes on the trace, with its samples marked. */
  chooseIndication(name: string | null): void;
  setProcedure(procedure: Procedure): void;
  setStyle(style: FigureStyle): void;
  setTheme(theme: Theme): void;
  /** Changes the page's layout, and keeps it for the next start. */
  setLayout(change: (layout: Layout) => Layout): void;
  dismissNotices(): void;
}
