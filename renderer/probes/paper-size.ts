import { legendHeight } from './figure-marks.ts';
import { type PaperSize, paperLook, pointsInMm } from './figure-svg.ts';
import type { PlotFigure } from './plot-figure.ts';

/** Type and lines as journals ask for them (common practice). */
const type = { fontPt: 8, linePt: 1, thinPt: 0.5 } as const;

/** A figure for a paper: its width is chosen, its height follows from its plots and the names above them; type and lines stay what they are. */
export function paperSize(figure: PlotFigure, widthMm: number): PaperSize {
  const rows = Math.ceil(figure.panels.length / figure.across);
  const each = Math.max(28, Math.min(110, (widthMm / figure.across) * 0.62));
  const namesMm = legendHeight(figure, paperLook({ widthMm, heightMm: 0, ...type })) / pointsInMm;
  return { widthMm, heightMm: Math.round(rows * each + namesMm), ...type };
}
