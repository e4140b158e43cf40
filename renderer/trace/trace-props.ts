import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { Extrema } from '../../core/capture/extrema-pyramid.ts';
import type { Rectification, SampleRange } from '../../core/capture/waveform.ts';
import type { Gate } from '../../core/gate/gate.ts';
import type { Reading } from '../../core/gate/reading.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { Edit } from '../../core/review/edit.ts';
import type { ConditioningRecipe } from '../../core/signal/conditioning.ts';
import type { Echo } from '../../core/signal/echoes.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { Drawing } from '../engine/messages.ts';
import type { Manner } from '../state/workbench-state.ts';
import type { Cursors } from './cursors.ts';
import type { Viewport } from './viewport.ts';

/** How the trace is drawn: both half waves about the middle, or all of it upwards from the base line. */
export type TraceMode = 'rf' | 'rectified';

/** One capture on the plot. The first of them is the one that gates, echoes and readings belong to; the others lie behind it. */
export interface ShownTrace {
  readonly captureId: CaptureId;
  /** What a person calls it: `plate.csv`, or `plate.csv#left` where the file has several. */
  readonly title: string;
  readonly startUs: number;
  readonly stepUs: number;
  readonly sampleCount: number;
  readonly rectification: Rectification;
  /** Of the conditioned trace, in % of full screen height. */
  readonly extremaPercent: Extrema;
  /** What was last computed, in the mode shown; it may lag behind the viewport by a moment. `null`: not there yet. */
  readonly drawing: Drawing | null;
  /** The envelope of the same trace; `null` where it is not shown. */
  readonly envelope: Drawing | null;
}

/** Where the calibration looked for a known reflector, or another procedure for the echo that it needs. */
export interface ShownReflector {
  readonly distanceMm: number;
  /** What is looked for where it is known by no distance. */
  readonly name?: string | undefined;
  readonly fromUs: number;
  readonly toUs: number;
}

export interface TraceViewProps {
  /** At least one. */
  readonly traces: readonly ShownTrace[];
  /** There is no drawing of the first trace yet, and one is on its way: a long record takes a while. */
  readonly awaited?: boolean | undefined;
  /** The whole record of the first trace, a few thousand columns wide, for the strip below the plot. */
  readonly overview: Drawing | null;
  readonly view: Viewport;
  onView(view: Viewport): void;
  /** How many columns of device pixels the plot has, once that is known and whenever it changes. */
  onColumns(columns: number): void;

  /** The calibration in force; without one there is no sound-path axis and no path is read out. */
  readonly calibration: DistanceCalibration | null;
  readonly style: FigureStyle;
  readonly mode: TraceMode;

  readonly gates: readonly Gate[];
  /** Of the first trace; matched to the gates by name. A gate without a reading is shown without figures. */
  readonly readings: readonly Reading[];
  readonly selectedGate: string | null;
  onSelectGate(name: string | null): void;
  onGateEdit(edit: Edit, manner: Manner): void;
  /** A gate was drawn or placed by the keyboard; it has a name that no other gate has. */
  onGateDrawn(gate: Gate): void;
  /** A gate is being drawn: the next drag on the plot makes one. */
  readonly drawingGate: boolean;
  onDrawingGate(drawing: boolean): void;
  /** Enter on a gate: its exact numbers are wanted. */
  onGateNumbers(name: string): void;
  onAsk(asked: FigureAsked): void;

  /** In order of time; numbered from 1. */
  readonly echoes: readonly Echo[];
  onEchoChosen(echo: number): void;
  /** The calibration's windows that look into this capture. */
  readonly reflectors: readonly ShownReflector[];

  readonly cursors: Cursors;
  onCursors(cursors: Cursors): void;
  /** Height of the envelope at each cursor, read from the samples and not from the drawing; `null` beside the record or not known yet. */
  readonly cursorPercents: { readonly first: number | null; readonly second: number | null };

  /** Samples of the first trace to be shown at once. */
  readonly highlight: SampleRange | null;
}

export interface TraceHeadProps {
  readonly trace: ShownTrace;
  readonly mode: TraceMode;
  onMode(mode: TraceMode): void;
  readonly envelope: boolean;
  onEnvelope(envelope: boolean): void;
  readonly drawingGate: boolean;
  onDrawingGate(drawing: boolean): void;
  readonly cursors: Cursors;
  onCursors(cursors: Cursors): void;
  readonly view: Viewport;
}

export interface GatePanelProps {
  readonly gate: Gate;
  /** All of them, since a name stands once. */
  readonly gates: readonly Gate[];
  readonly reading: Reading | null;
  readonly calibration: DistanceCalibration | null;
  readonly style: FigureStyle;
  onGateEdit(edit: Edit, manner: Manner): void;
  onAsk(asked: FigureAsked): void;
  onClose(): void;
}

export interface ConditioningPanelProps {
  readonly recipe: ConditioningRecipe;
  /** Of the shown capture; a band-pass must end below half of it. */
  readonly sampleRateMHz: number | null;
  readonly style: FigureStyle;
  /** What the conditioning of the shown capture could not do with this recipe, in sentences; empty where all went well. */
  readonly problems: readonly string[];
  onRecipe(recipe: ConditioningRecipe, manner: Manner): void;
  onClose(): void;
}
