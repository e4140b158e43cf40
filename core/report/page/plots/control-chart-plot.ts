import type { ChartSeries } from '../../../check/drift-over-time.ts';
import { limitsSentence, seriesName } from '../../../check/over-time-words.ts';
import { figures, figureWords } from '../../../origin/figure.ts';
import { type FigureStyle, toShown, unitSign } from '../../../units/figure-style.ts';
import type { Markup } from '../markup.ts';
import { withMinus } from '../parts.ts';
import { type PlotLevel, plot } from './frame.ts';
import { mark, pathThrough, reachOf } from './marks.ts';

const secondsPerHour = 3600;

/** One figure over time with its control limits: a chart of individuals. `null` without a point. */
export function controlChartPlot(series: ChartSeries, style: FigureStyle): Markup | null {
  const { points, chart, distanceMm, unit } = series;
  if (points.length === 0) return null;
  const shown = (value: number) => (unit === 'mm' ? toShown(value, 'length', style) : value);
  const first = points[0].seconds;
  const placed = points.map((point) => ({
    x: (point.seconds - first) / secondsPerHour,
    y: shown(point.value.value),
    kind: point.outside ? ('fail' as const) : point.counted ? ('plain' as const) : ('open' as const),
  }));
  const reach = reachOf(placed.map(({ y }) => ({ value: y, standardUncertainty: null })));
  const name = `${seriesName(series)} at ${figureWords(figures.statedMm(distanceMm, style), style)}`;
  return plot({
    title: `Control chart: ${name}`,
    description: `Hours since the first of these checks. ${withMinus(limitsSentence(series, style))} Cross: outside the control limits; ring: not counted, since its echo is doubtful.`,
    x: { title: 'time (h)', from: 0, to: Math.max(...placed.map(({ x }) => x)) },
    y: { title: `${seriesName(series)} (${unit === 'mm' ? unitSign('length', style) : unit})`, ...reach },
    levels: levelsOf(chart, shown),
    marks: (scales) => [
      pathThrough('line', placed, scales),
      ...placed.map(({ x, y, kind }) => mark(kind, scales.x(x), scales.y(y))),
    ],
  });
}

function levelsOf({ centre, limits }: ChartSeries['chart'], shown: (value: number) => number): PlotLevel[] {
  return [
    ...(centre === null ? [] : [{ at: shown(centre), label: 'mean', kind: 'level' as const }]),
    ...(limits === null
      ? []
      : [
          { at: shown(limits.lower), label: 'control limit', kind: 'limit' as const },
          { at: shown(limits.upper), label: 'control limit', kind: 'limit' as const },
        ]),
  ];
}
