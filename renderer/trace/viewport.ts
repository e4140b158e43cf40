/** The part of the time axis that is shown. Values, never altered: each function gives a new one. */
export interface Viewport {
  readonly fromUs: number;
  readonly toUs: number;
}

/** What can be shown: the whole record, and not less than a few samples of it. */
export interface ViewportLimits extends Viewport {
  readonly shortestUs: number;
}

/** A record of one sample still has a width to be drawn in. */
export function limitsOf(record: {
  readonly startUs: number;
  readonly stepUs: number;
  readonly sampleCount: number;
}): ViewportLimits {
  const { startUs, stepUs, sampleCount } = record;
  const lengthUs = Math.max(1, sampleCount - 1) * stepUs;
  return { fromUs: startUs, toUs: startUs + lengthUs, shortestUs: Math.min(lengthUs, 8 * stepUs) };
}

export function wholeOf({ fromUs, toUs }: ViewportLimits): Viewport {
  return { fromUs, toUs };
}

/**
 * Shows `factor` times as much about a time that keeps its place on the screen.
 *
 *     |----------a-----|        factor 0.5
 *          |-----a--|
 */
export function zoomAbout(view: Viewport, anchorUs: number, factor: number, limits: ViewportLimits): Viewport {
  const lengthUs = clamp((view.toUs - view.fromUs) * factor, limits.shortestUs, limits.toUs - limits.fromUs);
  const share = (anchorUs - view.fromUs) / (view.toUs - view.fromUs);
  return placed(anchorUs - share * lengthUs, lengthUs, limits);
}

/** Moves the window over the record by a time; it stops at either end without changing its length. */
export function pan(view: Viewport, byUs: number, limits: ViewportLimits): Viewport {
  return placed(view.fromUs + byUs, view.toUs - view.fromUs, limits);
}

/** Position in pixels from the left edge of a plot of that width. */
export function pixelOf(view: Viewport, timeUs: number, widthPx: number): number {
  return ((timeUs - view.fromUs) / (view.toUs - view.fromUs)) * widthPx;
}

export function timeAt(view: Viewport, pixel: number, widthPx: number): number {
  return view.fromUs + (pixel / widthPx) * (view.toUs - view.fromUs);
}

function placed(fromUs: number, lengthUs: number, limits: ViewportLimits): Viewport {
  const from = clamp(fromUs, limits.fromUs, Math.max(limits.fromUs, limits.toUs - lengthUs));
  return { fromUs: from, toUs: Math.min(limits.toUs, from + lengthUs) };
}

function clamp(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}
