import type { Rectification } from '../capture/waveform.ts';

export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'latin-1';
/** A space stands for any run of spaces and tabs. */
export type Delimiter = ',' | ';' | '\t' | ' ';
export type DecimalMark = '.' | ',';
export type TimeUnit = 's' | 'ms' | 'us' | 'ns';
export type DistanceUnit = 'mm' | 'cm' | 'm' | 'in';
/** `fraction`: of full screen, 1 = 100 %. */
export type StatedAmplitudeUnit = 'percent' | 'volt' | 'count' | 'fraction';

/** A column by its header, or by its position counted from 1. */
export type ColumnReference = string | number;

/**
 * Every decision of an import; `null` = to be inferred from the file. It is plain JSON, so that what was decided once can be
 * kept for the next file of that shape.
 */
export interface ImportRecipe {
  readonly encoding: Encoding | null;
  readonly delimiter: Delimiter | null;
  readonly decimalMark: DecimalMark | null;
  /** The line of the column names, counted from 1; 0 where there is none. */
  readonly headerLine: number | null;
  readonly axis: 'time' | 'distance' | null;
  readonly timeUnit: TimeUnit | null;
  readonly distanceUnit: DistanceUnit | null;
  /** For files without an axis column: time of the first sample. */
  readonly startUs: number | null;
  readonly sampleRateMHz: number | null;
  /** The velocity with which a distance axis was drawn; distances are one-way, so time = 2 · distance / velocity. */
  readonly axisVelocityMPerS: number | null;
  readonly amplitudeUnit: StatedAmplitudeUnit | null;
  /** The amplitude that is 100 % of full screen height, in the amplitude unit. */
  readonly fullScreen: number | null;
  readonly zeroLevel: number | null;
  readonly rectification: Rectification | null;
  readonly columns: {
    readonly axis: ColumnReference | null;
    readonly amplitudes: readonly ColumnReference[] | null;
    readonly captureId: ColumnReference | null;
  };
  readonly uneven: 'refuse' | 'resample';
  /** How dates such as 03/04/2026 are to be read. */
  readonly dateOrder: 'day-first' | 'month-first' | null;
}

export const inferEverything: ImportRecipe = {
  encoding: null,
  delimiter: null,
  decimalMark: null,
  headerLine: null,
  axis: null,
  timeUnit: null,
  distanceUnit: null,
  startUs: null,
  sampleRateMHz: null,
  axisVelocityMPerS: null,
  amplitudeUnit: null,
  fullScreen: null,
  zeroLevel: null,
  rectification: null,
  columns: { axis: null, amplitudes: null, captureId: null },
  uneven: 'refuse',
  dateOrder: null,
};
