import { type DistanceCalibration, pathFromTime } from '../../core/calibration/distance.ts';
import { type Gate, gateWindowUs } from '../../core/gate/gate.ts';
import type { Reading } from '../../core/gate/reading.ts';
import { type FigureStyle, fromShown } from '../../core/units/figure-style.ts';
import { type Plane, percentAtY, timeAtX, usPerPx, xOf, yOf } from './plane.ts';

/** What of a gate is taken hold of. */
export type GatePart = 'whole' | 'from' | 'to' | 'threshold';

/** Where a gate lies on the plot, in pixels. */
export interface GateBar {
  readonly left: number;
  readonly right: number;
  readonly y: number;
  /** The same threshold on the negative half waves; `null` where they are not shown. */
  readonly mirroredY: number | null;
}

/** A gate where it stands on the plot, with what it reads. */
export interface StandingGate {
  readonly gate: Gate;
  readonly bar: GateBar;
  readonly reading: Reading | null;
}

/** `null` for a gate in sound path that no calibration places. */
export function gateBar(gate: Gate, plane: Plane, calibration: DistanceCalibration | null): GateBar | null {
  const window = gateWindowUs(gate, calibration);
  if (window === null) return null;
  return {
    left: xOf(plane, window.fromUs),
    right: xOf(plane, window.toUs),
    y: yOf(plane, gate.thresholdPercent),
    mirroredY: plane.lowPercent < 0 ? yOf(plane, -gate.thresholdPercent) : null,
  };
}

/** Beyond which edge of the plot a gate lies; `null` where a part of it is in view. */
export function sideBeyond({ left, right }: GateBar, { widthPx }: Plane): 'left' | 'right' | null {
  if (right < 0) return 'left';
  return left > widthPx ? 'right' : null;
}

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** Where the reading's crossing and highest point truly are, between samples. */
export function readingMarks(
  reading: Reading,
  gate: Gate,
  plane: Plane,
): { readonly crossing: Point | null; readonly peak: Point | null } {
  const { crossingUs, peakUs, amplitudePercent } = reading;
  return {
    crossing: crossingUs === null ? null : { x: xOf(plane, crossingUs), y: yOf(plane, gate.thresholdPercent) },
    peak:
      peakUs === null || amplitudePercent === null
        ? null
        : { x: xOf(plane, peakUs), y: yOf(plane, Math.min(amplitudePercent, plane.highPercent)) },
  };
}

/** In what steps gates move on a plot: what one pixel can tell apart, rounded down to a power of ten of the unit that is shown. */
export interface GateGrid {
  readonly us: number;
  readonly mm: number;
}

export function gateGrid(plane: Plane, calibration: DistanceCalibration | null, style: FigureStyle): GateGrid {
  const perPixelUs = usPerPx(plane);
  const unitMm = fromShown(1, 'length', style);
  const perPixelMm = calibration === null ? 1 : lengthOf(perPixelUs, calibration);
  return { us: powerOfTenBelow(perPixelUs), mm: unitMm * powerOfTenBelow(perPixelMm / unitMm) };
}

function powerOfTenBelow(value: number): number {
  return 10 ** Math.floor(Math.log10(value) + 1e-9);
}

/** The one-way path that a two-way time stands for. */
function lengthOf(timeUs: number, calibration: DistanceCalibration): number {
  return pathFromTime(calibration, timeUs, null).value - pathFromTime(calibration, 0, null).value;
}

const leastThresholdPercent = 1;
const mostThresholdPercent = 100;

/**
 * The gate after a part of it was dragged from where it stood. The ends never pass each other, a path never becomes negative; what moves comes to
 * lie on the grid, and what does not keeps its exact figure.
 */
export function draggedGate(
  gate: Gate,
  part: GatePart,
  by: { readonly us: number; readonly percent: number },
  grid: GateGrid,
  calibration: DistanceCalibration | null,
): Gate {
  if (part === 'threshold') return withThreshold(gate, gate.thresholdPercent + by.percent);
  if (gate.span.axis === 'time') {
    const { from, to } = draggedEnds(gate.span.fromUs, gate.span.toUs, part, by.us, grid.us, Number.NEGATIVE_INFINITY);
    return { ...gate, span: { axis: 'time', fromUs: from, toUs: to } };
  }
  if (calibration === null) return gate;
  const { from, to } = draggedEnds(gate.span.fromMm, gate.span.toMm, part, lengthOf(by.us, calibration), grid.mm, 0);
  return { ...gate, span: { axis: 'path', fromMm: from, toMm: to } };
}

function draggedEnds(
  from: number,
  to: number,
  part: 'whole' | 'from' | 'to',
  by: number,
  step: number,
  least: number,
): { readonly from: number; readonly to: number } {
  if (by === 0) return { from, to };
  if (part === 'from') return { from: Math.min(to - step, Math.max(least, onGrid(from + by, step))), to };
  if (part === 'to') return { from, to: Math.max(from + step, onGrid(to + by, step)) };
  const moved = Math.max(least, onGrid(from + by, step));
  return { from: moved, to: exactly(moved + (to - from), step) };
}

function onGrid(value: number, step: number): number {
  return exactly(Math.round(value / step) * step, step);
}

/** Without the rounding dust of binary fractions, which would be saved in the review: `20.1`, not `20.1000000000000014`. */
function exactly(value: number, step: number): number {
  return Number(value.toFixed(Math.min(12, Math.max(0, 4 - Math.floor(Math.log10(step))))));
}

function withThreshold(gate: Gate, percent: number): Gate {
  const whole = Math.round(percent);
  return { ...gate, thresholdPercent: Math.min(mostThresholdPercent, Math.max(leastThresholdPercent, whole)) };
}

export interface Nudge {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
}

const coarseSteps = 10;
const coarsePercent = 5;

/**
 * The gate after a key: Left and Right move it by a step of the grid (with Shift by ten), with Alt they move its end; Up and Down change the
 * threshold by 1 % (with Shift by 5 %). `null` for any other key.
 */
export function nudgedGate(
  gate: Gate,
  { key, shiftKey, altKey }: Nudge,
  grid: GateGrid,
  calibration: DistanceCalibration | null,
): Gate | null {
  const way = { ArrowLeft: -1, ArrowRight: 1 }[key];
  if (way !== undefined) {
    const steps = way * (shiftKey ? coarseSteps : 1);
    // In time, since that is what a drag is given in; on a path gate one step of path comes of it.
    const us = gate.span.axis === 'time' ? grid.us : calibration === null ? 0 : grid.mm / lengthOf(1, calibration);
    return draggedGate(gate, altKey ? 'to' : 'whole', { us: steps * us, percent: 0 }, grid, calibration);
  }
  const rise = { ArrowUp: 1, ArrowDown: -1 }[key];
  if (rise === undefined) return null;
  return withThreshold(gate, gate.thresholdPercent + rise * (shiftKey ? coarsePercent : 1));
}

/** Narrower than this in pixels, a drag is a slip of the hand and draws no gate. */
const leastDrawnPx = 4;

/** The gate that a drag from one place on the plot to another draws: in sound path where there is a calibration, at the height where the drag ended. */
export function drawnGate(
  start: Point,
  end: Point,
  plane: Plane,
  others: readonly Gate[],
  calibration: DistanceCalibration | null,
  style: FigureStyle,
): Gate | null {
  if (Math.abs(end.x - start.x) < leastDrawnPx) return null;
  const [fromUs, toUs] = [timeAtX(plane, Math.min(start.x, end.x)), timeAtX(plane, Math.max(start.x, end.x))];
  const grid = gateGrid(plane, calibration, style);
  const drawn = { name: freeName(others), thresholdPercent: 0 };
  return withThreshold(
    { ...drawn, span: spanBetween(fromUs, toUs, grid, calibration) },
    Math.abs(percentAtY(plane, end.y)),
  );
}

/** A gate in the middle of what is shown, for those who draw without a pointer: an eighth of the width, at 20 % of full screen height. */
export function placedGate(
  plane: Plane,
  others: readonly Gate[],
  calibration: DistanceCalibration | null,
  style: FigureStyle,
): Gate {
  const { fromUs, toUs } = plane.view;
  const [middle, half] = [(fromUs + toUs) / 2, (toUs - fromUs) / 16];
  const span = spanBetween(middle - half, middle + half, gateGrid(plane, calibration, style), calibration);
  return { name: freeName(others), span, thresholdPercent: 20 };
}

function spanBetween(
  fromUs: number,
  toUs: number,
  grid: GateGrid,
  calibration: DistanceCalibration | null,
): Gate['span'] {
  if (calibration === null) {
    const from = onGrid(fromUs, grid.us);
    return { axis: 'time', fromUs: from, toUs: Math.max(exactly(from + grid.us, grid.us), onGrid(toUs, grid.us)) };
  }
  const pathAt = (timeUs: number) => Math.max(0, onGrid(pathFromTime(calibration, timeUs, null).value, grid.mm));
  const from = pathAt(fromUs);
  return { axis: 'path', fromMm: from, toMm: Math.max(exactly(from + grid.mm, grid.mm), pathAt(toUs)) };
}

/** A name that invites a better one: `new gate`, `new gate 2` … */
function freeName(others: readonly Gate[]): string {
  const taken = new Set(others.map(({ name }) => name.trim()));
  for (let count = 1; ; count++) {
    const name = count === 1 ? 'new gate' : `new gate ${count}`;
    if (!taken.has(name)) return name;
  }
}
