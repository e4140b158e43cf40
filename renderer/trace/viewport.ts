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

/** Together what each of several records lets be shown; at least one. */
export function limitsOfAll(records: readonly Parameters<typeof limitsOf>[0][]): ViewportLimits {
  const each = records.map(limitsOf);
  return {
    fromUs: Math.min(...each.map((limits) => limits.fromUs)),
    toUs: Math.max(...each.map((limits) => limits.toUs)),
    shortestUs: Math.min(...each.map((limits) => limits.shortestUs)),
  };
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

/** The window between two times, in either order; not shorter than the limits allow. */
export function windowBetween(aUs: number, bUs: number, limits: ViewportLimits): Viewport {
  const lengthUs = clamp(Math.abs(bUs - aUs), limits.shortestUs, limits.toUs - limits.fromUs);
  return placed((aUs + bUs - lengthUs) / 2, lengthUs, limits);
}

/** The window with a quarter of its length more on either side, as far as the record goes. */
export function withMargins({ fromUs, toUs }: Viewport, limits: ViewportLimits): Viewport {
  const margin = (toUs - fromUs) / 4;
  return { fromUs: Math.max(limits.fromUs, fromUs - margin), toUs: Math.min(limits.toUs, toUs + margin) };
}

/** The window in which two times lie under two fingers, where these have come to, in pixels from the left edge. */
export function pinched(
  [aUs, bUs]: readonly [number, number],
  [aPx, bPx]: readonly [number, number],
  widthPx: number,
  limits: ViewportLimits,
): Viewport {
  const usPerPx = aPx === bPx ? Number.POSITIVE_INFINITY : Math.abs((bUs - aUs) / (bPx - aPx));
  const lengthUs = clamp(usPerPx * widthPx, limits.shortestUs, limits.toUs - limits.fromUs);
  return placed((aUs + bUs) / 2 - ((aPx + bPx) / 2 / widthPx) * lengthUs, lengthUs, limits);
}

/** A record that fills less of the window than this is as good as not in sight. */
const leastShareFilled = 1 / 10;

/** The window, kept for another record: the same where that record can be seen in it; `null`, which is the whole of it, where it cannot. */
export function keptFor(view: Viewport | null, limits: ViewportLimits): Viewport | null {
  if (view === null) return null;
  const filled = Math.min(view.toUs, limits.toUs) - Math.max(view.fromUs, limits.fromUs);
  return filled >= leastShareFilled * (view.toUs - view.fromUs) ? view : null;
}

/** The window as it is kept: `null` where it shows the whole of what can be shown, so that the whole of the next record is shown too. */
export function nullIfWhole(view: Viewport, limits: ViewportLimits): Viewport | null {
  return view.fromUs <= limits.fromUs && view.toUs >= limits.toUs ? null : view;
}

/** A stretch shorter than this part of the window could be overlooked in it. */
const leastShareSeen = 1 / 40;
/** How much of the window a stretch takes that had to be zoomed to. */
const shareZoomedTo = 1 / 4;

/**
 * The window in which a stretch of time is seen at once: the same, where the stretch lies well inside it and is wide enough; moved, where it lies
 * outside; zoomed, where it is too short or too long for it.
 */
export function windowToSee(view: Viewport, stretch: Viewport, limits: ViewportLimits): Viewport {
  const length = stretch.toUs - stretch.fromUs;
  const share = length / (view.toUs - view.fromUs);
  const middle = (stretch.fromUs + stretch.toUs) / 2;
  if (share < leastShareSeen || share > 1) {
    const half = Math.max(length, limits.shortestUs / 4) / shareZoomedTo / 2;
    return windowBetween(middle - half, middle + half, limits);
  }
  if (stretch.fromUs >= view.fromUs && stretch.toUs <= view.toUs) return view;
  return pan(view, middle - (view.fromUs + view.toUs) / 2, limits);
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
