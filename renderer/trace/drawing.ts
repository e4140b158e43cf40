import type { Extrema } from '../../core/capture/extrema-pyramid.ts';
import type { Drawing } from '../engine/messages.ts';

/** What the drawing shows at a time: one amplitude between two samples, or the span of its column; `null` beside the record. */
export function shownAt(drawing: Drawing, timeUs: number): Extrema | null {
  if (drawing.kind === 'spans') {
    const column = Math.floor((timeUs - drawing.startUs) / drawing.columnUs);
    const minimum = drawing.minima[column];
    const maximum = drawing.maxima[column];
    return minimum === undefined || maximum === undefined ? null : { minimum, maximum };
  }
  const nearest = drawing.heights[Math.round((timeUs - drawing.startUs) / drawing.stepUs)];
  return nearest === undefined ? null : { minimum: nearest, maximum: nearest };
}

/** The lowest and highest of what is drawn; 0 for nothing. */
export function extremaOf(drawing: Drawing): Extrema {
  const [lows, highs] =
    drawing.kind === 'spans' ? [drawing.minima, drawing.maxima] : [drawing.heights, drawing.heights];
  if (lows.length === 0) return { minimum: 0, maximum: 0 };
  return { minimum: Math.min(...lows), maximum: Math.max(...highs) };
}

/** Device pixels from the canvas's corner, y downwards. */
export interface Painter {
  xOf(timeUs: number): number;
  yOf(percent: number): number;
  /** Thickness of the trace. */
  readonly strokePx: number;
  /** Lengths of full and faint strokes in turn; empty for a full line. */
  readonly pattern: readonly number[];
}

/** How a patterned line shows between its strokes: faint and not gone, since a crest may stand just there. */
const faint = 0.3;

/**
 * Paints one filled rectangle for each column of device pixels, or a line from sample to sample where they lie further apart.
 * (Rectangles, since strokes and filled outlines were several times slower on dense screens.)
 */
export function paint(context: CanvasRenderingContext2D, drawing: Drawing, painter: Painter): void {
  if (drawing.kind === 'spans') paintSpans(context, drawing, painter);
  else paintLine(context, drawing, painter);
}

function paintSpans(
  context: CanvasRenderingContext2D,
  drawing: Drawing & { kind: 'spans' },
  { xOf, yOf, strokePx, pattern }: Painter,
): void {
  const { startUs, columnUs, minima, maxima } = drawing;
  let left = Math.round(xOf(startUs));
  for (let c = 0; c < minima.length; c++) {
    const right = Math.round(xOf(startUs + (c + 1) * columnUs));
    const top = yOf(maxima[c]!);
    const bottom = yOf(minima[c]!);
    if (pattern.length > 0) context.globalAlpha = isFull(pattern, left) ? 1 : faint;
    context.fillRect(
      left,
      Math.round(top - strokePx / 2),
      Math.max(1, right - left),
      Math.max(strokePx, Math.round(bottom - top + strokePx)),
    );
    left = right;
  }
  context.globalAlpha = 1;
}

/** Whether a pattern that is repeated from x = 0 on has a full stroke at a place. */
export function isFull(pattern: readonly number[], x: number): boolean {
  const period = pattern.reduce((sum, length) => sum + length, 0);
  let rest = ((x % period) + period) % period;
  for (let i = 0; i < pattern.length; i++) {
    if (rest < pattern[i]!) return i % 2 === 0;
    rest -= pattern[i]!;
  }
  return true;
}

function paintLine(
  context: CanvasRenderingContext2D,
  drawing: Drawing & { kind: 'samples' },
  { xOf, yOf, strokePx, pattern }: Painter,
): void {
  const { startUs, stepUs, heights } = drawing;
  context.lineWidth = strokePx;
  context.lineJoin = 'round';
  context.beginPath();
  for (let i = 0; i < heights.length; i++) context.lineTo(xOf(startUs + i * stepUs), yOf(heights[i]!));
  if (pattern.length > 0) {
    context.globalAlpha = faint;
    context.stroke();
    context.globalAlpha = 1;
    context.setLineDash([...pattern]);
  }
  context.stroke();
  context.setLineDash([]);
  const gapPx = xOf(startUs + stepUs) - xOf(startUs);
  if (gapPx < 8 * strokePx) return;
  // Far enough apart that the samples themselves can be seen.
  for (let i = 0; i < heights.length; i++) {
    const x = xOf(startUs + i * stepUs);
    const y = yOf(heights[i]!);
    context.fillRect(x - 1.5 * strokePx, y - 1.5 * strokePx, 3 * strokePx, 3 * strokePx);
  }
}
