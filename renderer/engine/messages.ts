import type { Capture, CaptureId, MetadataEntry } from '../../core/capture/capture.ts';
import type { Extrema } from '../../core/capture/extrema-pyramid.ts';
import type { AmplitudeUnit, SampleRange, Waveform } from '../../core/capture/waveform.ts';
import type { TimeFrequencyMethod, TimeFrequencyPicture } from '../../core/compare/time-frequency-picture.ts';
import type { DepthGrid, DepthPicture } from '../../core/drawing/depth-picture.ts';
import type { DepthAcross, DepthScanInput } from '../../core/drawing/depth-scan.ts';
import type { Evaluation } from '../../core/evaluate.ts';
import type { Verification } from '../../core/evidence/verify-package.ts';
import type { Reading } from '../../core/gate/reading.ts';
import type { TraceDescription } from '../../core/import/import-file.ts';
import type { DecimalMark, Delimiter, Encoding, ImportRecipe } from '../../core/import/import-recipe.ts';
import type { Outcome, Problem } from '../../core/outcome.ts';
import type { CalibrationFit, Review, SourceFile } from '../../core/review/review.ts';
import type { ConditioningRecipe } from '../../core/signal/conditioning.ts';
import type { Echo } from '../../core/signal/echoes.ts';
import type { CalibrationResult } from '../../core/steps/calibrate.ts';
import type { Plan } from '../../core/steps/examine.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';

/**
 * What the page asks of the worker in which the core runs, and what it is answered: the worker's whole language.
 * Files are held in the worker by their SHA-256, captures by their id in the review that was last told.
 */
export interface Calls {
  /** Takes files in: reads, hashes, imports and holds them. One answer for each, in order; a broken one does not stop the others. */
  import: { readonly ask: { readonly files: readonly FileToImport[] }; readonly answer: readonly ImportedSource[] };
  /** The same file read by another recipe, without taking it in: for the dialog in which columns are given their meaning. */
  preview: { readonly ask: PreviewAsked; readonly answer: Preview };
  /**
   * Tells which sources the review has by now: their order, and those that are new or changed. Answers for these (for all, where the manifests
   * changed). A source whose file is not held is `missing`.
   */
  sources: { readonly ask: SourcesTold; readonly answer: SourcesKnown };
  /** Everything that follows from the decisions and the sources told. */
  evaluate: { readonly ask: { readonly decisions: Decisions }; readonly answer: Evaluation };
  /** One capture by a plan, while a gate is dragged: without the rest of its series. */
  readOne: {
    readonly ask: { readonly capture: CaptureId; readonly plan: Plan };
    readonly answer: Outcome<readonly Reading[]>;
  };
  /** A calibration as it would be, without the rest of the evaluation. */
  fitPreview: {
    readonly ask: { readonly decision: CalibrationFit; readonly conditioning: ConditioningRecipe };
    readonly answer: CalibrationResult;
  };
  /** What to draw of a capture between two times. */
  draw: { readonly ask: DrawingAsked; readonly answer: Outcome<Drawn> };
  echoes: { readonly ask: EchoesAsked; readonly answer: Outcome<EchoesFound> };
  /** Heights of the envelope at times, interpolated; `null` beside the record. */
  heights: {
    readonly ask: {
      readonly capture: CaptureId;
      readonly conditioning: ConditioningRecipe;
      readonly timesUs: readonly number[];
    };
    readonly answer: Outcome<readonly (number | null)[]>;
  };
  /** One echo over time and frequency, without the band-pass of the conditioning. */
  timeFrequency: { readonly ask: TimeFrequencyAsked; readonly answer: Outcome<TimeFrequencyPicture> };
  /** Captures stacked as an image. */
  picture: { readonly ask: PictureAsked; readonly answer: Picture };
  /** Captures laid out by true place and depth. */
  depthImage: { readonly ask: DepthImageAsked; readonly answer: DepthImage };
  /** The preamble and manifest entries of a capture, whole. */
  metadata: { readonly ask: { readonly capture: CaptureId }; readonly answer: readonly MetadataEntry[] };
  openReview: { readonly ask: { readonly file: string; readonly text: string }; readonly answer: Outcome<Review> };
  /** The bytes of a saved review, from the decisions and the sources told. */
  reviewText: { readonly ask: { readonly decisions: Decisions }; readonly answer: string };
  /** The report of the decisions and the sources told, as one page of HTML. */
  report: {
    readonly ask: ReportAsked & { readonly decisions: Decisions };
    readonly answer: Outcome<string>;
  };
  /** Captures, review, results and report as one ZIP file. */
  package: {
    readonly ask: Pick<ReportAsked, 'name' | 'version'> & { readonly decisions: Decisions };
    readonly answer: Outcome<Packed>;
  };
  /** Recomputes every hash and every result of a package; nothing of it is taken in. */
  verify: {
    readonly ask: { readonly file: string; readonly content: Blob; readonly version: string };
    readonly answer: Outcome<Verified>;
  };
  /** Lets go of all that is held. */
  forget: { readonly ask: null; readonly answer: null };
}

export interface ReportAsked {
  /** What the review is called as a file. */
  readonly name: string;
  /** Of the file as it was saved; `null` where it is not saved as it stands. */
  readonly sha256: string | null;
  /** Of this program. */
  readonly version: string;
  readonly style: FigureStyle;
}

export interface Packed {
  readonly content: Blob;
  readonly sha256: string;
  /** How many files are in it. */
  readonly files: number;
}

export interface Verified extends Verification {
  readonly bytes: number;
  readonly sha256: string;
}

export type CallName = keyof Calls;

export type Request =
  | {
      [Name in CallName]: { readonly id: number; readonly call: Name; readonly ask: Calls[Name]['ask'] };
    }[CallName]
  /** Stops the request with that id at its next pause; it is then answered as cancelled. */
  | { readonly id: number; readonly call: 'cancel' };

export type Answer =
  | { readonly id: number; readonly kind: 'done'; readonly answer: unknown }
  /** A piece of a long answer, so that no message is long to take in: items of one of the answer's lists, in order. */
  | { readonly id: number; readonly kind: 'piece'; readonly list: string; readonly items: readonly unknown[] }
  | { readonly id: number; readonly kind: 'progress'; readonly progress: Progress }
  | { readonly id: number; readonly kind: 'cancelled' }
  | { readonly id: number; readonly kind: 'mistake'; readonly mistake: string };

/** How far long work has come: files, captures or columns. */
export interface Progress {
  /** With a share of the one that is under way, where that is known. */
  readonly done: number;
  readonly total: number;
}

/** A review without its files: small enough to be told at every change. */
export type Decisions = Omit<Review, 'sources' | 'manifests'>;

export interface FileToImport {
  /** The name under which the review knows it, or would. */
  readonly file: string;
  readonly content: Blob;
  readonly recipe: ImportRecipe;
}

/** What was understood of a file as a whole. */
export interface FileUnderstood {
  readonly bytes: number;
  readonly encoding: Encoding;
  readonly delimiter: Delimiter | null;
  readonly decimalMark: DecimalMark;
  readonly traceCount: number;
  /** The first fifty of them. */
  readonly traces: readonly TraceDescription[];
  /** The recipe completed by what was inferred. */
  readonly recipe: ImportRecipe;
}

/** What became of one file. */
export interface ImportedSource {
  readonly file: string;
  readonly sha256: string | null;
  /** A `manifest` describes captures; a `review` was saved earlier; neither is a source of samples. */
  readonly kind: 'captures' | 'manifest' | 'review';
  /** `ready`: there are captures; `asking`: a person must say something first; `broken`: it cannot be read as it stands. */
  readonly state: 'ready' | 'asking' | 'broken';
  readonly understood: FileUnderstood | null;
  readonly asks: readonly Problem[];
  readonly warnings: readonly Problem[];
  readonly problems: readonly Problem[];
}

export interface SourcesTold {
  /** All files of the review, in its order. */
  readonly order: readonly string[];
  /** Those that are new or have changed since the last telling, or whose file was located. */
  readonly changed: readonly SourceFile[];
  /** `null`: as before, and none of them was located. */
  readonly manifests: Review['manifests'] | null;
}

export interface SourcesKnown {
  readonly sources: readonly KnownSource[];
  /** Of the manifests: missing, changed or not understood. */
  readonly manifestProblems: readonly Problem[];
}

export interface KnownSource extends Omit<ImportedSource, 'state' | 'kind'> {
  readonly state: 'ready' | 'asking' | 'broken' | 'missing';
  /** With what the manifests and the person know of them. */
  readonly captures: readonly TraceFacts[];
}

/** A capture without its samples, which stay in the worker; manifests and the person's facts are laid over it. */
export interface TraceFacts extends Omit<Capture, 'waveform' | 'metadata'> {
  readonly startUs: number;
  readonly stepUs: number;
  readonly sampleCount: number;
  readonly rectification: Waveform['rectification'];
  readonly amplitudeUnit: AmplitudeUnit | null;
  /** As captured, in % of full screen height; in the file's own unit where full screen is not known. */
  readonly extremaPercent: Extrema;
}

export interface PreviewAsked {
  readonly file: string;
  readonly sha256: string;
  readonly recipe: ImportRecipe;
  /** How many lines of the file to show, and how many columns a thumbnail has. */
  readonly lines: number;
  readonly columns: number;
}

export interface Preview {
  readonly source: ImportedSource;
  /** The first lines of the file as text. */
  readonly lines: readonly string[];
  /** Of the first traces, in the file's unit: smallest and largest in each column. */
  readonly thumbnails: readonly {
    readonly trace: string;
    readonly minima: Float64Array;
    readonly maxima: Float64Array;
  }[];
}

/** `samples`: as conditioned; `rectified`: their magnitude; `envelope`. */
export type Layer = 'samples' | 'rectified' | 'envelope';

export interface DrawingAsked {
  readonly capture: CaptureId;
  readonly conditioning: ConditioningRecipe;
  readonly layers: readonly Layer[];
  readonly fromUs: number;
  readonly toUs: number;
  /** Columns of device pixels between the two times. */
  readonly columns: number;
}

export interface Drawn {
  /** One for each layer asked for, in that order. */
  readonly layers: readonly { readonly layer: Layer; readonly drawing: Drawing; readonly extremaPercent: Extrema }[];
}

/**
 * A layer between two times, amplitudes in % of full screen height: where a column holds a sample or more, the span that the trace covers
 * in each column (`columnUs` wide, the first begins at `startUs`); where samples lie further apart, the samples themselves (`stepUs` apart).
 */
export type Drawing =
  | {
      readonly kind: 'spans';
      readonly startUs: number;
      readonly columnUs: number;
      readonly minima: Float64Array;
      readonly maxima: Float64Array;
    }
  | { readonly kind: 'samples'; readonly startUs: number; readonly stepUs: number; readonly heights: Float64Array };

export interface EchoesAsked {
  readonly capture: CaptureId;
  readonly conditioning: ConditioningRecipe;
  readonly abovePercent: number;
  readonly fromUs: number | null;
  readonly toUs: number | null;
}

export interface EchoesFound {
  readonly echoes: readonly Echo[];
  readonly noisePercent: number | null;
  readonly deadZoneEndUs: number | null;
  readonly saturated: readonly SampleRange[];
}

export interface TimeFrequencyAsked {
  readonly capture: CaptureId;
  readonly conditioning: ConditioningRecipe;
  readonly gate: { readonly fromUs: number; readonly toUs: number };
  readonly method: TimeFrequencyMethod;
}

export interface PictureAsked {
  /** For each column of the image the captures that share it: one as a rule, several where there are more captures than columns, none in a gap. */
  readonly columns: readonly (readonly CaptureId[])[];
  readonly conditioning: ConditioningRecipe;
  readonly layer: 'rectified' | 'envelope';
  readonly fromUs: number;
  readonly toUs: number;
  readonly rows: number;
}

/** Column after column, each from `fromUs` downwards: the highest sample of each cell in % of full screen height; NaN where no capture has a sample. */
export interface Picture {
  readonly columns: number;
  readonly rows: number;
  readonly percent: Float32Array<ArrayBuffer>;
  /** Captures that could not be conditioned. */
  readonly problems: readonly Problem[];
}

export interface DepthImageAsked {
  readonly captures: readonly CaptureId[];
  /** What tells a sample's place. */
  readonly by: Omit<DepthScanInput, 'captures'>;
  readonly conditioning: ConditioningRecipe;
  readonly across: DepthAcross;
  /** `null`: all legs. */
  readonly onlyLeg: number | null;
  readonly grid: DepthGrid;
}

/** The cells of `DepthPicture`; `capture` counts the members of the scan that core makes of what was asked. */
export interface DepthImage extends Omit<DepthPicture, 'grid'> {
  /** Captures that could not be conditioned, or why nothing can be drawn. */
  readonly problems: readonly Problem[];
}
