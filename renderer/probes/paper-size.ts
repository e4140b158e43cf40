import type { PaperSize } from './figure-svg.ts';
import type { PlotFigure } from './plot-figure.ts';

/** A figure for a paper: its width is chosen, its height follows, type of 8 pt and lines of 1 and 0.5 pt stay what they are. */
export function paperSize(figure: PlotFigure, widthMm: number): PaperSize {
  const rows = Math.ceil(figure.panels.length / figure.across);
  const each = widthMm / figure.across;
  const heightMm = Math.round(rows * Math.max(28, Math.min(110, each * 0.62)) + 8);
  return { widthMm, heightMm, fontPt: 8, linePt: 1, thinPt: 0.5 };
}
