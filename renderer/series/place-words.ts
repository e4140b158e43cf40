import { type FigureStyle, figureWithUnit, unitSign } from '../../core/units/figure-style.ts';
import type { Across, SeriesCapture } from './places.ts';

/** How the axis across is called, with its unit. */
export function acrossLabel(across: Across, captures: readonly SeriesCapture[], style: FigureStyle): string {
  switch (across) {
    case 'position':
      return `Probe position (${unitSign('length', style)})`;
    case 'time':
      return captures.some(({ takenAt }) => takenAt !== null && /(Z|[+-]\d{2}(:?\d{2})?)$/i.test(takenAt.trim()))
        ? 'Time taken (UTC)'
        : 'Time taken';
    case 'order':
      return 'Capture, in the order given';
  }
}

export const acrossWords: Record<Across, string> = { position: 'Position', time: 'Time', order: 'Order' };

/** Where a capture stands, in words: its position where it has one, else its number of so many. */
export function placeWords(capture: SeriesCapture, number: number, count: number, style: FigureStyle): string {
  return capture.positionMm === null
    ? `Capture ${number} of ${count}`
    : `Position ${figureWithUnit(capture.positionMm, 'length', 2, style)}`;
}
