import type { Echo } from '../../core/signal/echoes.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { echoMarks } from './echo-marks.ts';
import type { StandingGate } from './gate-overlay.ts';
import { type Box, placeLabels } from './place-labels.ts';
import { type Plane, yOf } from './plane.ts';
import { flagWords, readingFigures } from './readout.ts';

/** Of the typeface at the labels' size, roughly: a label only needs to know about how much room it takes. */
const lineHeightPx = 17;
const characterPx = 6.6;
const gapPx = 8;
/** A label further from its bar than so many lines would seem to belong to nothing. */
const mostStepsAway = 5;

/** The labels' places: beside the bar, below or above it, wherever the least of the echoes and of other labels is covered. */
export function labelPlaces(
  standing: readonly StandingGate[],
  echoes: readonly Echo[],
  plane: Plane,
  style: FigureStyle,
  otherWords: readonly Box[] = [],
): Box[] {
  const numbers = echoMarks(echoes, plane).map(({ box }) => box);
  const obstacles = numbers.map((box): Box => {
    const bottom = plane.lowPercent < 0 ? 2 * yOf(plane, 0) - box.top : yOf(plane, 0);
    return { ...box, height: bottom - box.top };
  });
  const candidates = standing.map(({ gate, bar, reading }) => {
    const figures =
      reading === null
        ? ''
        : readingFigures(reading, style)
            .map(({ text }) => text)
            .join(' · ');
    const flags = reading === null ? '' : reading.flags.map(flagWords).join(', ');
    const lines = [gate.name, figures, flags].filter((line) => line !== '');
    const width = Math.ceil(Math.min(260, Math.max(...lines.map((line) => line.length)) * characterPx + 14));
    const height = lines.length * lineHeightPx + 4;
    const middle = bar.y - height / 2;
    // On whole pixels: sharp, and no place is worse than another by a rounding error.
    const at = (left: number, top: number): Box => ({ left: Math.round(left), top: Math.round(top), width, height });
    const inside = Math.min(plane.widthPx - width, Math.max(0, bar.left));
    const farther = Array.from({ length: mostStepsAway }, (_, i) => (i + 1) * lineHeightPx);
    return [
      at(bar.right + gapPx, middle),
      at(bar.left - width - gapPx, middle),
      at(bar.left, bar.y + gapPx),
      at(bar.left, bar.y - height - gapPx),
      at(bar.right + gapPx, bar.y - height - gapPx),
      at(bar.left - width - gapPx, bar.y - height - gapPx),
      at(inside, bar.y + gapPx),
      at(inside, bar.y - height - gapPx),
      // Beside the bar, but out of the way of what stands in the middle or at the top.
      at(bar.left - width - gapPx, plane.heightPx - height),
      at(bar.right + gapPx, plane.heightPx - height),
      // Over its own echo and its number rather than across them.
      ...farther.flatMap((px) => [at(inside, bar.y - height - gapPx - px), at(inside, bar.y + gapPx + px)]),
    ];
  });
  const within = { left: 0, top: 0, width: plane.widthPx, height: plane.heightPx };
  return placeLabels(candidates, obstacles, within, [...numbers, ...otherWords]);
}
