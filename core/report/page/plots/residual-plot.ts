import type { DistanceCalibration } from '../../../calibration/distance.ts';
import { hypot } from '../../../elementary/hypotenuse.ts';
import { figures, figureWords } from '../../../origin/figure.ts';
import type { FigureStyle } from '../../../units/figure-style.ts';
import type { Quantity } from '../../../units/quantity.ts';
import type { Markup } from '../markup.ts';
import { plot } from './frame.ts';
import { mark, reachOf, uncertaintyBar } from './marks.ts';

/** How far each reflector lies off the fitted line, with the expanded uncertainty of its timing (and of its distance) as a bar. */
export function residualPlot({ points, velocityMPerS }: DistanceCalibration, style: FigureStyle): Markup {
  const placed = points.map((point) => ({
    x: figures.statedMm(point.distanceMm, style).value,
    residual: inShownLength(point.residualMm, uResidualMm(point, velocityMPerS.value), style),
    off: point.flags.includes('residuals-too-large'),
  }));
  const unit = figures.lengthMm(0, style).unit;
  const reach = reachOf(placed.map(({ residual }) => residual));
  const greatest = Math.max(...points.map((point) => Math.abs(point.residualMm)));
  return plot({
    title: 'Residuals of the calibration',
    description: `Residual of each reflector against its known distance; the greatest is ${figureWords(figures.residualMm(greatest, style), style)}. Bars: expanded uncertainty of timing and distance, k = 2. A cross marks a reflector that lies off the line by more than these allow.`,
    x: {
      title: `known distance (${unit})`,
      from: Math.min(0, ...placed.map((p) => p.x)),
      to: Math.max(...placed.map((p) => p.x)),
    },
    y: { title: `residual (${unit})`, ...reach },
    levels: [{ at: 0, label: 'fitted line', kind: 'zero' }],
    marks: (scales) =>
      placed.flatMap(({ x, residual, off }) => [
        uncertaintyBar(x, residual, scales),
        mark(off ? 'fail' : 'plain', scales.x(x), scales.y(residual.value)),
      ]),
  });
}

function uResidualMm(point: DistanceCalibration['points'][number], velocityMPerS: number): number | null {
  if (point.uTimeUs === null) return null;
  return hypot((point.uTimeUs * velocityMPerS) / 2000, point.uDistanceMm);
}

function inShownLength(value: number, u: number | null, style: FigureStyle): Quantity {
  const shown = figures.residualMm({ value, standardUncertainty: u }, style);
  return { value: shown.value, standardUncertainty: shown.standardUncertainty };
}
