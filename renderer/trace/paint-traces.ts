import { paint } from './drawing.ts';
import { themeColour } from './theme-colours.ts';
import { markOf } from './trace-marks.ts';
import type { TraceViewProps } from './trace-props.ts';

/** What the traces are painted on: all in device pixels from the canvas's corner. */
export interface PlotCanvas {
  readonly context: CanvasRenderingContext2D;
  /** The plot without its axes. */
  readonly inside: { readonly left: number; readonly top: number; readonly width: number; readonly height: number };
  readonly pixelRatio: number;
  xOf(timeUs: number): number;
  yOf(percent: number): number;
}

/** The traces and their envelopes within the plot, and the limits of the screen that recorded them. */
export function paintTraces(
  canvas: PlotCanvas,
  { traces, mode, lowPercent }: Pick<TraceViewProps, 'traces' | 'mode'> & { readonly lowPercent: number },
): void {
  const { context, inside, pixelRatio } = canvas;
  context.save();
  context.beginPath();
  context.rect(inside.left, inside.top, inside.width, inside.height);
  context.clip();
  paintScreenLimits(canvas, mode === 'rf' && lowPercent < 0 ? [100, -100] : [100]);
  // From behind: the first trace comes last and lies over the others.
  for (let i = traces.length - 1; i >= 0; i--) {
    const { drawing, envelope } = traces[i]!;
    const { colour, pattern } = markOf(i);
    if (drawing !== null) {
      context.fillStyle = context.strokeStyle = themeColour(colour);
      const strokePx = Math.max(1, Math.round(1.25 * pixelRatio));
      paint(context, drawing, {
        ...canvas,
        strokePx,
        pattern: pattern.map((length) => Math.round(length * pixelRatio)),
      });
    }
    if (envelope !== null) {
      context.fillStyle = context.strokeStyle = themeColour(i === 0 ? '--envelope' : colour);
      paint(context, envelope, { ...canvas, strokePx: Math.max(1, Math.round(pixelRatio)), pattern: [] });
    }
  }
  context.restore();
}

/** What went beyond the screen was cut off there. */
function paintScreenLimits({ context, inside, pixelRatio, yOf }: PlotCanvas, percents: readonly number[]): void {
  context.strokeStyle = themeColour('--line-strong');
  context.lineWidth = Math.max(1, Math.round(pixelRatio));
  context.setLineDash([6 * pixelRatio, 4 * pixelRatio]);
  for (const percent of percents) {
    const y = Math.round(yOf(percent)) + (context.lineWidth % 2) / 2;
    context.beginPath();
    context.moveTo(inside.left, y);
    context.lineTo(inside.left + inside.width, y);
    context.stroke();
  }
  context.setLineDash([]);
}
