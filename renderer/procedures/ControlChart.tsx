import type { ChartPoint, ChartSeries } from '../../core/check/drift-over-time.ts';
import { chartFigure, seriesName } from '../../core/check/over-time-words.ts';
import { trendLine } from '../../core/check/trend-line.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { clockTicks, labelsAcross, labelsDown, lengthTicks, roundTicks } from '../series/ticks.ts';
import styles from './ControlChart.module.css';

const size = { width: 330, height: 176 };
const inner = { left: 46, right: 296, top: 10, bottom: 146 };

/** One figure of all checks over time: its mean, the limits that its own steps lead one to expect, its trend, and what lies outside. */
export function ControlChart({
  series,
  onAsk,
  style,
}: {
  readonly series: ChartSeries;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}) {
  const { points, chart, unit, distanceMm, figure } = series;
  const [first] = points;
  const last = points.at(-1);
  if (first === undefined || last === undefined) return <p>Nothing could be measured.</p>;
  const trend = trendLine(series);
  const values = [
    ...points.map(({ value }) => value.value),
    ...(chart.limits === null ? [] : [chart.limits.lower, chart.limits.upper]),
    ...(trend ?? []).map(({ value }) => value),
  ];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = Math.max((high - low) * 0.12, 1e-4);
  const [from, to] = [low - room, high + room];
  const span = last.seconds - first.seconds || 1;
  const x = (seconds: number) => inner.left + 8 + ((inner.right - inner.left - 16) * (seconds - first.seconds)) / span;
  const y = (value: number) => inner.bottom - ((inner.bottom - inner.top) * (value - from)) / (to - from);
  const downPx = inner.bottom - inner.top;
  const down =
    unit === 'mm' ? lengthTicks(from, to, downPx, labelsDown, style) : roundTicks(from, to, downPx, labelsDown, style);
  const along = clockTicks(first.seconds, last.seconds, inner.right - inner.left - 16, labelsAcross);
  const levels = [
    ...(chart.centre === null ? [] : [{ at: chart.centre, name: 'mean', mark: styles.centre }]),
    ...(chart.limits === null
      ? []
      : [
          { at: chart.limits.upper, name: 'limit', mark: styles.limit },
          { at: chart.limits.lower, name: 'limit', mark: styles.limit },
        ]),
  ];
  const words = points
    .map(
      ({ captureId, value, outside, jump, counted }) =>
        `${captureId.replace(/#.*$/, '')}: ${chartFigure(value.value, unit, style)}${outside ? ', out of control' : ''}${jump ? ', a jump' : ''}${counted ? '' : ', not counted'}`,
    )
    .join('; ');
  return (
    <figure className={styles.chart}>
      <svg
        className={styles.plot}
        viewBox={`0 0 ${size.width} ${size.height}`}
        role="img"
        aria-label={`Control chart of the ${seriesName(series)}. ${words}`}
      >
        {down.map(({ value, label }) => (
          <g key={label}>
            <line className={styles.grid} x1={inner.left} x2={inner.right} y1={y(value)} y2={y(value)} />
            <text x={inner.left - 6} y={y(value) + 4} textAnchor="end">
              {label.replace('-', '−')}
            </text>
          </g>
        ))}
        {levels.map(({ at, name, mark }) => (
          <g key={`${name} ${at}`}>
            <line className={mark} x1={inner.left} x2={inner.right} y1={y(at)} y2={y(at)} />
            <text className={styles.levelText} x={inner.right + 4} y={y(at) + 4}>
              {name}
            </text>
          </g>
        ))}
        {along.map(({ value, label }) => (
          <text key={label} x={x(value)} y={inner.bottom + 15} textAnchor="middle">
            {label}
          </text>
        ))}
        <text x={inner.right} y={size.height - 2} textAnchor="end">
          time taken (UTC)
        </text>
        <text x={inner.left - 42} y={size.height - 2}>
          {unit === 'mm' ? unitSign('length', style) : unit}
        </text>
        <polyline
          className={styles.track}
          points={points.map(({ seconds, value }) => `${x(seconds)},${y(value.value)}`).join(' ')}
        />
        {trend !== null && (
          <line
            className={series.trend?.significant === true ? styles.trend : styles.noTrend}
            x1={x(trend[0].seconds)}
            x2={x(trend[1].seconds)}
            y1={y(trend[0].value)}
            y2={y(trend[1].value)}
          />
        )}
        {points.map((point) => (
          <Mark
            key={point.captureId}
            point={point}
            x={x(point.seconds)}
            y={y(point.value.value)}
            title={`${point.captureId.replace(/#.*$/, '')}: ${chartFigure(point.value, unit, style)}`}
            onPress={() => onAsk({ kind: 'drift', captureId: point.captureId, distanceMm, figure })}
          />
        ))}
      </svg>
    </figure>
  );
}

/** Disc: as expected; cross: out of control; triangle: a jump; ring: its echo is doubtful, so that it is not counted. */
function Mark({
  point,
  x,
  y,
  title,
  onPress,
}: {
  readonly point: ChartPoint;
  readonly x: number;
  readonly y: number;
  readonly title: string;
  readonly onPress: () => void;
}) {
  const kind = point.outside ? 'outside' : point.jump ? 'jump' : point.counted ? 'counted' : 'open';
  return (
    // The figures in the list of checks are asked by the keyboard; this is a short way for the pointer.
    // biome-ignore lint/a11y/noStaticElementInteractions: see above
    <g className={styles.point} onClick={onPress}>
      <title>{title}</title>
      <circle cx={x} cy={y} r="8" fill="transparent" />
      <path className={styles[kind]} d={shapes[kind]} transform={`translate(${x} ${y})`} />
    </g>
  );
}

const shapes = {
  counted: 'M-3.2 0a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0 -6.4 0',
  open: 'M-3.4 0a3.4 3.4 0 1 0 6.8 0a3.4 3.4 0 1 0 -6.8 0',
  outside: 'M-4 -4L4 4M-4 4L4 -4',
  jump: 'M0 -5L4.6 3.6h-9.2z',
} as const;
