import type { DriftCheck } from '../../core/check/drift.ts';
import { type Figure, figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import { verdictWords } from '../../core/origin/verdict-words.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { labelsDown, lengthTicks, roundTicks } from '../series/ticks.ts';
import styles from './DriftChart.module.css';
import {
  type DriftPoint,
  type DriftQuantity,
  distinctLimits,
  driftRange,
  driftSeries,
  withoutOverlap,
} from './drift-chart.ts';

const size = { width: 330, height: 156 };
const inner = { left: 44, right: 286, top: 8, bottom: 128 };

/** One quantity of all checks against its limits, in order of time. A value outside is an open mark with its figure beside it. */
export function DriftChart({
  checks,
  quantity,
  onAsk,
  style,
}: {
  readonly checks: readonly DriftCheck[];
  readonly quantity: DriftQuantity;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}) {
  const isDistance = quantity === 'distance-error';
  const series = driftSeries(checks, quantity);
  const { from, to } = driftRange(series);
  const x = (index: number) =>
    checks.length < 2
      ? (inner.left + inner.right) / 2
      : inner.left + 12 + ((inner.right - inner.left - 24) * index) / (checks.length - 1);
  const y = (value: number) => inner.bottom - ((inner.bottom - inner.top) * (value - from)) / (to - from);
  const high = inner.bottom - inner.top;
  const ticks = isDistance
    ? lengthTicks(from, to, high, labelsDown, style)
    : roundTicks(from, to, high, labelsDown, style);
  const write = (value: number, u: number | null = null): Figure =>
    isDistance
      ? figures.lengthMm({ value, standardUncertainty: u }, style)
      : figures.levelDb({ value, standardUncertainty: u }, style);
  const limits = distinctLimits(series);
  const name = isDistance ? 'Distance error' : 'Amplitude change';
  const all = series.flatMap(({ points }) => points);
  const words = all.map(
    (p) =>
      `check ${p.index + 1} at ${figureWords(figures.statedMm(p.distanceMm, style), style)}: ${figureWithUncertainty(write(p.value, p.u), style)}${p.outcome === null ? '' : `, ${verdictWords[p.outcome]}`}`,
  );
  const common =
    limits.length === 0
      ? null
      : {
          lower: Math.max(...limits.map(({ lower }) => lower)),
          upper: Math.min(...limits.map(({ upper }) => upper)),
        };
  // The farthest outside is the most worth knowing.
  const outside = all.filter((p) => p.outcome === 'fail').toSorted((a, b) => Math.abs(b.value) - Math.abs(a.value));
  const labels = withoutOverlap(
    outside.map((p) => ({
      x: Math.min(x(p.index), inner.right - 20),
      y: p.value > 0 ? Math.max(inner.top + 4, y(p.value) - 9) : Math.min(inner.bottom - 2, y(p.value) + 17),
      text: figureWords(write(p.value), style),
    })),
  );
  return (
    <figure className={styles.chart}>
      <figcaption className={styles.caption}>
        <span>
          {name} ({isDistance ? unitSign('length', style) : 'dB'})
        </span>
        {series.map(({ distanceMm }, s) => (
          <span key={distanceMm} className={styles.legend}>
            <svg width="12" height="12" viewBox="-6 -6 12 12" aria-hidden="true">
              <path className={styles.mark} d={shapes[s % shapes.length]} />
            </svg>
            {figureWords(figures.statedMm(distanceMm, style), style)}
          </span>
        ))}
      </figcaption>
      {all.length === 0 ? (
        <p>Nothing could be measured.</p>
      ) : (
        <svg
          className={styles.plot}
          viewBox={`0 0 ${size.width} ${size.height}`}
          role="img"
          aria-label={`${name}. ${words.join('; ')}`}
        >
          {common !== null && (
            <rect
              className={styles.band}
              x={inner.left}
              width={inner.right - inner.left}
              y={y(common.upper)}
              height={Math.max(0, y(common.lower) - y(common.upper))}
            />
          )}
          {ticks.map(({ value, label }) => (
            <g key={label}>
              <line className={styles.grid} x1={inner.left} x2={inner.right} y1={y(value)} y2={y(value)} />
              <text x={inner.left - 6} y={y(value) + 4} textAnchor="end">
                {label}
              </text>
            </g>
          ))}
          <line className={styles.zero} x1={inner.left} x2={inner.right} y1={y(0)} y2={y(0)} />
          {limits.flatMap(({ lower, upper }) =>
            [lower, upper].map((limit) => (
              <g key={limit}>
                <line className={styles.limit} x1={inner.left} x2={inner.right} y1={y(limit)} y2={y(limit)} />
                <text className={styles.limitText} x={inner.right + 5} y={y(limit) + 4}>
                  {figureWords(write(limit), style)}
                </text>
              </g>
            )),
          )}
          {checks.map(({ captureId, takenAt }, i) => (
            <text key={captureId} x={x(i)} y={inner.bottom + 15} textAnchor="middle">
              {axisLabel(takenAt, i, checks.length)}
            </text>
          ))}
          {series.map(({ distanceMm, points }) => (
            <polyline
              key={distanceMm}
              className={styles.track}
              points={points.map((p) => `${x(p.index)},${y(p.value)}`).join(' ')}
            />
          ))}
          {series.flatMap(({ points }, s) =>
            points.map((point) => (
              <Mark
                key={`${point.index} ${point.distanceMm}`}
                point={point}
                shape={shapes[s % shapes.length] ?? ''}
                x={x(point.index)}
                y={y(point.value)}
                title={`${figureWithUncertainty(write(point.value, point.u), style)}${point.outcome === null ? '' : `, ${verdictWords[point.outcome]}`}`}
                bar={point.u === null ? null : [y(point.value - 2 * point.u), y(point.value + 2 * point.u)]}
                onAsk={onAsk}
              />
            )),
          )}
          {labels.map(({ x: at, y: height, text }) => (
            <text key={`${at} ${height}`} className={styles.value} x={at} y={height} textAnchor="middle">
              {text}
            </text>
          ))}
          <text x={inner.left} y={size.height - 1}>
            time taken
          </text>
          <text x={inner.right} y={size.height - 1} textAnchor="end">
            bars: twice the uncertainty
          </text>
        </svg>
      )}
    </figure>
  );
}

/** Circle, square, triangle, diamond: reflectors are told apart by shape. */
const shapes = [
  'M-4 0a4 4 0 1 0 8 0a4 4 0 1 0 -8 0',
  'M-3.6 -3.6h7.2v7.2h-7.2z',
  'M0 -4.6L4.4 3.4h-8.8z',
  'M0 -5L4.6 0L0 5L-4.6 0z',
];

function Mark({
  point,
  shape,
  x,
  y,
  bar,
  title,
  onAsk,
}: {
  readonly point: DriftPoint;
  readonly shape: string;
  readonly x: number;
  readonly y: number;
  readonly bar: readonly [number, number] | null;
  readonly title: string;
  readonly onAsk: (asked: FigureAsked) => void;
}) {
  return (
    // The figures in the list below are asked by the keyboard; this is a short way for the pointer.
    // biome-ignore lint/a11y/noStaticElementInteractions: see above
    <g
      className={[styles.point, point.outcome === null ? '' : styles[point.outcome]].join(' ')}
      onClick={() => onAsk(point.asked)}
    >
      {bar !== null && <line className={styles.bar} x1={x} x2={x} y1={bar[0]} y2={bar[1]} />}
      <title>{title}</title>
      <circle cx={x} cy={y} r="9" fill="transparent" />
      <path className={styles.mark} d={shape} transform={`translate(${x} ${y})`} />
    </g>
  );
}

/** The time of day; of many checks only some have room. */
function axisLabel(takenAt: string | null, index: number, count: number): string {
  const every = Math.ceil(count / 6);
  if (index % every !== 0) return '';
  return /[T ](\d{2}:\d{2})/.exec(takenAt ?? '')?.[1] ?? `no. ${index + 1}`;
}
