import { type DistanceCalibration, pathFromTime } from '../../core/calibration/distance.ts';
import type { Extrema } from '../../core/capture/extrema-pyramid.ts';
import type { Flag } from '../../core/flag.ts';
import type { Reading } from '../../core/gate/reading.ts';
import { type FigureStyle, figureText, figureWithUnit } from '../../core/units/figure-style.ts';
import type { Viewport } from './viewport.ts';

/** As many decimals as the shown part of the axis can tell apart: 4 figures of its length. */
function decimalsIn(length: number): number {
  return Math.min(6, Math.max(0, 3 - Math.floor(Math.log10(length))));
}

/** `61.5`, `61.520` without its unit, as exactly as the shown part of the axis allows. */
export function timeFigure(timeUs: number, view: Viewport, style: FigureStyle): string {
  return figureText(timeUs, 'time', decimalsIn(view.toUs - view.fromUs), style);
}

export function timeText(timeUs: number | null, view: Viewport, style: FigureStyle): string {
  return figureWithUnit(timeUs, 'time', decimalsIn(view.toUs - view.fromUs), style);
}

/** The path that a time stands for, as exactly as the shown part of the axis allows; `null` without a calibration. */
export function pathText(
  timeUs: number,
  view: Viewport,
  calibration: DistanceCalibration | null,
  style: FigureStyle,
): string | null {
  if (calibration === null) return null;
  const pathAt = (time: number) => pathFromTime(calibration, time, null).value;
  return lengthText(pathAt(timeUs), pathAt(view.toUs) - pathAt(view.fromUs), style);
}

/** A length out of a range of so many millimetres, to 4 figures of that range. */
export function lengthText(mm: number | null, ofMm: number, style: FigureStyle): string {
  return figureWithUnit(mm, 'length', decimalsIn(Math.abs(ofMm)), style);
}

/** One amplitude, or the span of amplitudes that share a column of pixels: `41.2 %`, `-38.0 to 41.2 %`. */
export function percentText({ minimum, maximum }: Extrema, style: FigureStyle): string {
  const highest = figureWithUnit(maximum, 'percent', 1, style);
  return minimum === maximum ? highest : `${figureText(minimum, 'percent', 1, style)} to ${highest}`;
}

/** The figures of a reading that are shown at its gate, and what each is a figure of. */
export const figureNames = {
  'sound-path': 'Sound path',
  time: 'Time',
  amplitude: 'Amplitude',
  'below-peak': 'Below the peak',
  crossing: 'Crossing',
} as const;

export interface ReadFigure {
  readonly figure: keyof typeof figureNames;
  readonly text: string;
}

/**
 * What a gate read, in the order in which it is spoken: `30.01 mm`, `65.7 %`, `1.2 dB below peak`. The time where no calibration gives a path; a
 * height that is only a lower bound says so.
 */
export function readingFigures(reading: Reading, style: FigureStyle): ReadFigure[] {
  const { timeUs, soundPathMm, amplitudePercent, belowPeakDb } = reading;
  const figures: ReadFigure[] = [];
  if (soundPathMm !== null) {
    figures.push({ figure: 'sound-path', text: figureWithUnit(soundPathMm.value, 'length', 2, style) });
  } else if (timeUs !== null) {
    figures.push({ figure: 'time', text: figureWithUnit(timeUs.value, 'time', 2, style) });
  }
  if (amplitudePercent !== null) {
    const height = figureWithUnit(amplitudePercent, 'percent', 1, style);
    figures.push({ figure: 'amplitude', text: isLowerBound(reading) ? `at least ${height}` : height });
  }
  if (belowPeakDb !== null) {
    figures.push({ figure: 'below-peak', text: `${figureWithUnit(belowPeakDb, 'level', 1, style)} below peak` });
  }
  return figures;
}

/** A height of which no more is known than that it is at least so much. */
export function isLowerBound({ flags }: Reading): boolean {
  return flags.includes('saturated') || flags.includes('cut-by-gate');
}

/** `off peak`: a flag in a word or two, where its sentence has no room; the sentence stands beside it or is shown when asked. */
export function flagWords(flag: Flag): string {
  return flag.replaceAll('-', ' ');
}

/** All of a reading in one breath, for a screen reader and a tooltip. */
export function readingWords(reading: Reading | null, style: FigureStyle): string {
  if (reading === null) return 'not read yet';
  const parts = [...readingFigures(reading, style).map(({ text }) => text), ...reading.flags.map(flagWords)];
  return parts.length === 0 ? 'nothing read' : parts.join(', ');
}
