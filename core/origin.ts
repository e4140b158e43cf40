import type { CaptureId } from './capture/capture.ts';
import type { SampleRange } from './capture/waveform.ts';
import type { Evaluation } from './evaluate.ts';
import type { Flag } from './flag.ts';
import { unreachable } from './invariant.ts';
import { originInCalibration, originOfPoint } from './origin/of-calibration.ts';
import { originInDrift } from './origin/of-drift.ts';
import { originInScan } from './origin/of-indication.ts';
import { originInLinearity } from './origin/of-linearity.ts';
import { originInLocation } from './origin/of-location.ts';
import { originInMaterial } from './origin/of-material.ts';
import { originInProbes } from './origin/of-probe.ts';
import { originOfReading } from './origin/of-reading.ts';
import { originInSensitivity } from './origin/of-sensitivity.ts';
import { originInSeries } from './origin/of-series.ts';
import type { ProbeFigure } from './probe/figures.ts';
import type { Review } from './review/review.ts';
import type { FigureStyle } from './units/figure-style.ts';

export type ReadingFigure =
  | 'time'
  | 'amplitude'
  | 'sound-path'
  | 'depth'
  | 'surface-distance'
  | 'leg'
  | 'below-peak'
  | 'crossing'
  | 'signal-to-noise';

export type IndicationFigure =
  | 'length'
  | 'length-across'
  | 'low-end'
  | 'high-end'
  | 'amplitude'
  | 'sound-path'
  | 'depth'
  | 'surface-distance'
  | 'leg'
  | 'level'
  | 'to-curve'
  | 'attenuation-factor'
  | 'rating';

export type DriftFigure =
  | 'distance-error'
  | 'amplitude-change'
  | 'velocity-change'
  | 'zero-offset-change'
  | 'verdict'
  | 'time'
  | 'amplitude'
  | 'sound-path'
  | 'velocity'
  | 'zero-offset';

/** A figure of sensitivity: of the whole, of a reflector or another distance, of a reading held against the curve. */
export type SensitivityFigureAsked =
  | {
      readonly kind: 'sensitivity';
      readonly figure: 'reference-gain' | 'attenuation' | 'apparent-attenuation' | 'near-field';
    }
  | {
      readonly kind: 'sensitivity';
      readonly figure:
        | 'point-amplitude'
        | 'point-level'
        | 'point-height'
        | 'curve'
        | 'added-gain'
        | 'back-wall-amplitude';
      readonly distanceMm: number;
    }
  | {
      readonly kind: 'sensitivity';
      readonly figure: 'reading-level' | 'curve-at-reading' | 'to-curve' | 'percent-of-curve';
      readonly captureId: CaptureId;
      readonly gate: string;
    };

export type LinearityPartName = 'timeBase' | 'screenHeight' | 'gain';

/** A figure of an instrument's linearity: of a step, of what follows from all steps, of a setting of the gain, or of the whole check; by its place among them. */
export type LinearityFigureAsked =
  | {
      readonly kind: 'linearity';
      readonly part: LinearityPartName;
      readonly of: 'steps' | 'conclusions';
      readonly index: number;
      readonly figure: 'read' | 'deviation' | 'verdict';
    }
  | {
      readonly kind: 'linearity';
      readonly part: 'gain';
      readonly of: 'points';
      readonly index: number;
      readonly figure: 'total-error';
    }
  | { readonly kind: 'linearity'; readonly part: LinearityPartName; readonly of: 'check'; readonly figure: 'verdict' };

/** A figure of a location: of one reading in the part, or of the beam and the probe's checks. */
export type LocationFigureAsked =
  | {
      readonly kind: 'location';
      readonly captureId: CaptureId;
      readonly gate: string;
      readonly figure: 'depth' | 'surface-distance' | 'from-front' | 'across' | 'leg';
    }
  | {
      readonly kind: 'location';
      readonly figure:
        | 'leg-length'
        | 'half-skip'
        | 'skip'
        | 'v-path'
        | 'index-point'
        | 'probe-angle'
        | 'expected-angle';
    };

/** A figure of a probe: of one capture, or of all of its captures by themselves, against the stated one, against the reference probe. */
export type ProbeFigureAsked =
  | { readonly kind: 'probe'; readonly of: 'capture'; readonly captureId: CaptureId; readonly figure: ProbeFigure }
  | {
      readonly kind: 'probe';
      readonly of: 'mean' | 'stated' | 'difference';
      readonly probe: string;
      readonly figure: ProbeFigure;
    };

export type MaterialFigureAsked =
  | { readonly kind: 'material'; readonly figure: 'velocity' }
  | { readonly kind: 'material'; readonly figure: 'attenuation'; readonly frequencyMHz: number };

/** A figure of an evaluation, by the place where it stands. */
export type FigureAsked =
  | ProbeFigureAsked
  | MaterialFigureAsked
  | SensitivityFigureAsked
  | LocationFigureAsked
  | LinearityFigureAsked
  | {
      readonly kind: 'reading';
      readonly captureId: CaptureId;
      readonly gate: string;
      readonly figure: ReadingFigure;
    }
  /** Of an indication of the scan, by its name. */
  | { readonly kind: 'indication'; readonly name: string; readonly figure: IndicationFigure }
  | { readonly kind: 'series'; readonly gate: string; readonly figure: 'peak' | 'peak-position' | 'path-range' }
  | {
      readonly kind: 'calibration';
      readonly figure: 'velocity' | 'zero-offset';
      /** Of a calibration that is proposed and not in force: to be answered with that one in the evaluation. */
      readonly proposed?: true;
    }
  | {
      readonly kind: 'calibration-point';
      readonly distanceMm: number;
      readonly figure: 'time' | 'residual' | 'amplitude';
      readonly proposed?: true;
    }
  | {
      readonly kind: 'drift';
      readonly captureId: CaptureId;
      /** `null` for a figure of the whole check. */
      readonly distanceMm: number | null;
      readonly figure: DriftFigure;
    };

/** A formula in words, and the same with its numbers put in: worked out as they stand, those give the value as it stands. */
export interface FormulaShown {
  readonly text: string;
  readonly withNumbers: string;
}

export interface OriginInput {
  readonly name: string;
  readonly value: string;
  /** What to ask to learn where this came from; `null` for what a person decided or a source states. */
  readonly asked: FigureAsked | null;
}

/** Where a figure comes from, in words. */
export interface Origin {
  readonly title: string;
  readonly value: string;
  /** `null` where none is known, or the figure can have none. */
  readonly uncertainty: string | null;
  readonly formula: FormulaShown | null;
  /** How the uncertainty was made; `null` where it was not made from others by a formula. */
  readonly uncertaintyFormula: FormulaShown | null;
  readonly inputs: readonly OriginInput[];
  readonly source: string;
  /** The capture and the samples that the figure was read from; those of an input stand with the input. */
  readonly capture: {
    readonly captureId: CaptureId;
    readonly samples: SampleRange | null;
    /** The time that was read among them; `null` where none was. */
    readonly timeUs: number | null;
  } | null;
  readonly flags: readonly { readonly flag: Flag; readonly sentence: string; readonly advice: string }[];
}

/**
 * Where a figure comes from: its formula with the numbers put in, what those are, and what is doubtful about it. Each input can be asked in
 * turn, so that one walks from a depth by the sound path to the velocity, and on to the echoes of the calibration.
 * `null` where the evaluation holds no such figure (any more).
 */
export function originOf(
  asked: FigureAsked,
  review: Review,
  evaluation: Evaluation,
  style: FigureStyle,
): Origin | null {
  const context = { review, evaluation, style };
  switch (asked.kind) {
    case 'reading':
      return originOfReading(asked, context);
    case 'series':
      return originInSeries(asked, context);
    case 'calibration':
      return originInCalibration(asked, context);
    case 'calibration-point':
      return originOfPoint(asked, context);
    case 'drift':
      return originInDrift(asked, context);
    case 'sensitivity':
      return originInSensitivity(asked, context);
    case 'location':
      return originInLocation(asked, context);
    case 'indication':
      return originInScan(asked, context);
    case 'linearity':
      return originInLinearity(asked, context);
    case 'probe':
      return originInProbes(asked, context);
    case 'material':
      return originInMaterial(asked, context);
    default:
      return unreachable(asked);
  }
}
