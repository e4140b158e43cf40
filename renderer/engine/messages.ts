import type { Capture, CaptureId } from '../../core/capture/capture.ts';
import type { Extrema } from '../../core/capture/extrema-pyramid.ts';
import type { Waveform } from '../../core/capture/waveform.ts';
import type { Outcome, Problem } from '../../core/outcome.ts';

/** What the page asks of the worker in which the core runs, and what it is answered: the worker's whole language. */
export interface Calls {
  /** Imports a file and keeps its captures in the worker. */
  open: { readonly ask: { readonly file: string; readonly bytes: Uint8Array }; readonly answer: Outcome<OpenedFile> };
  /** What to draw of a trace between two times. */
  draw: { readonly ask: DrawingAsked; readonly answer: Drawing };
}

export type CallName = keyof Calls;

export type Request = {
  [Name in CallName]: { readonly id: number; readonly call: Name; readonly ask: Calls[Name]['ask'] };
}[CallName];

export type Answer =
  | { readonly id: number; readonly ok: true; readonly answer: Calls[CallName]['answer'] }
  | { readonly id: number; readonly ok: false; readonly mistake: string };

export interface OpenedFile {
  readonly file: string;
  readonly traces: readonly TraceFacts[];
  /** What a person must say before the file can be measured with; then there are no traces. */
  readonly asks: readonly Problem[];
}

/** A capture without its samples, which stay in the worker. */
export interface TraceFacts extends Omit<Capture, 'waveform' | 'metadata'> {
  readonly startUs: number;
  readonly stepUs: number;
  readonly sampleCount: number;
  readonly rectification: Waveform['rectification'];
  /** In % of full screen height. */
  readonly extremaPercent: Extrema;
}

export interface DrawingAsked {
  readonly capture: CaptureId;
  readonly fromUs: number;
  readonly toUs: number;
  /** Columns of device pixels between the two times. */
  readonly columns: number;
}

/**
 * The trace between two times, amplitudes in % of full screen height: where a column holds a sample or more, the span that the trace covers
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
