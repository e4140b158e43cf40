import type { Limits, VerdictOutcome } from '../../core/check/verdict.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';
import type { Quantity } from '../../core/units/quantity.ts';
import { labelsAcross, labelsDown, roundTicks } from '../series/ticks.ts';
import own from './Check.module.css';
import { inWords } from './figure-words.ts';

export interface PlottedDeviation {
  /** Along the axis: number, distance, gain. */
  readonly at: number;
  readonly name: string;
  /** `null`: not assessed; it stands as a ring on the axis. */
  readonly value: Quantity | null;
  readonly limits: Limits | null;
  readonly outcome: VerdictOutcome | null;
  readonly asked: FigureAsked;
}

const size = { width: 330, height: 164 };
const inner = { left: 46, right: 288, top: 8, bottom: 130 };

/** Deviations against their limits. Full disc: pass or no verdict; cross: fail; triangle: inconclusive; ring: not assessed. Bars are twice the uncertainty. */
export function DeviationPlot({
  title,
  unit,
  across,
  points,
  isJoined = false,
  onAsk,
  style,
}: {
  readonly title: string;
  readonly unit: string;
  /** What is along the axis: its name, and where it ends. */
  readonly across: { readonly title: string; readonly from: number; readonly to: number };
  readonly points: readonly PlottedDeviation[];
  readonly isJoined?: boolean;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}) {
  const known = points.flatMap((point) => (point.value === null ? [] : [{ ...point, value: point.value }]));
  if (known.length === 0) return null;
  const limits = distinct(points);
  const most = Math.max(
    1e-6,
    ...known.map(({ value }) => Math.abs(value.value) + 2 * (value.standardUncertainty ?? 0)),
    ...limits.flatMap(({ lower, upper }) => [lower, upper].filter(Number.isFinite).map(Math.abs)),
  );
  const reach = most * 1.16;
  const span = across.to - across.from || 1;
  const x = (at: number) => inner.left + 12 + ((inner.right - inner.left - 24) * (at - across.from)) / span;
  const y = (value: number) => (inner.top + inner.bottom) / 2 - ((inner.bottom - inner.top) / 2) * (value / reach);
  const down = roundTicks(-reach, reach, inner.bottom - inner.top, labelsDown, style);
  const along = roundTicks(across.from, across.to, inner.right - inner.left - 24, labelsAcross, style);
  const isOne = limits.length === 1;
  const words = points.map(
    ({ name, value, outcome }) =>
      `${name}: ${value === null ? 'not assessed' : inWords(`${formatNumber(value.value, 3, style)} ${unit}`)}${value === null || outcome === null ? '' : `, ${outcome.replace('-', ' ')}`}`,
  );
  return (
    <figure className={own.figure}>
      <figcaption className={own.caption}>
        {title} ({unit})<span>bars: 2 u</span>
      </figcaption>
      <svg
        className={own.plot}
        viewBox={`0 0 ${size.width} ${size.height}`}
        role="img"
        aria-label={`${title}. ${words.join('; ')}`}
      >
        {isOne && limits[0] !== undefined && (
          <rect
            className={own.band}
            x={inner.left}
            width={inner.right - inner.left}
            y={y(Math.min(reach, limits[0].upper))}
            height={y(Math.max(-reach, limits[0].lower)) - y(Math.min(reach, limits[0].upper))}
          />
        )}
        {down.map(({ value, label }) => (
          <g key={label}>
            <line className={own.grid} x1={inner.left} x2={inner.right} y1={y(value)} y2={y(value)} />
            <text x={inner.left - 6} y={y(value) + 4} textAnchor="end">
              {inWords(label)}
            </text>
          </g>
        ))}
        <line className={own.zero} x1={inner.left} x2={inner.right} y1={y(0)} y2={y(0)} />
        {isOne
          ? limits.flatMap(({ lower, upper }) =>
              [lower, upper].filter(Number.isFinite).map((limit) => (
                <g key={limit}>
                  <line className={own.limit} x1={inner.left} x2={inner.right} y1={y(limit)} y2={y(limit)} />
                  <text className={own.limitText} x={inner.right + 5} y={y(limit) + 4}>
                    {inWords(`${formatNumber(limit, decimalsOf(limit), style)} ${unit}`)}
                  </text>
                </g>
              )),
            )
          : points.flatMap(({ at, name, limits: ofPoint }) =>
              (ofPoint === null ? [] : [ofPoint.lower, ofPoint.upper].filter(Number.isFinite)).map((limit) => (
                <line
                  key={`${name} ${limit}`}
                  className={own.limit}
                  x1={x(at) - 8}
                  x2={x(at) + 8}
                  y1={y(limit)}
                  y2={y(limit)}
                />
              )),
            )}
        {along.map(({ value, label }) => (
          <text key={label} x={x(value)} y={inner.bottom + 15} textAnchor="middle">
            {inWords(label)}
          </text>
        ))}
        {isJoined && (
          <polyline
            className={own.track}
            points={known.map(({ at, value }) => `${x(at)},${y(value.value)}`).join(' ')}
          />
        )}
        {points.map((point, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: points stand in their order, and two may have one name
          <Mark key={i} point={point} x={x(point.at)} y={y} onAsk={onAsk} />
        ))}
        <text x={inner.right} y={size.height - 2} textAnchor="end">
          {across.title}
        </text>
      </svg>
    </figure>
  );
}

const shapes: Readonly<Record<VerdictOutcome | 'none', string>> = {
  pass: 'M-4 0a4 4 0 1 0 8 0a4 4 0 1 0 -8 0',
  none: 'M-4 0a4 4 0 1 0 8 0a4 4 0 1 0 -8 0',
  fail: 'M-4 -4L4 4M-4 4L4 -4',
  inconclusive: 'M0 -5L4.6 3.6h-9.2z',
  'not-assessed': 'M-4 0a4 4 0 1 0 8 0a4 4 0 1 0 -8 0',
};

function Mark({
  point,
  x,
  y,
  onAsk,
}: {
  readonly point: PlottedDeviation;
  readonly x: number;
  readonly y: (value: number) => number;
  readonly onAsk: (asked: FigureAsked) => void;
}) {
  const { value, outcome, name, asked } = point;
  const height = y(value?.value ?? 0);
  const u = value?.standardUncertainty ?? null;
  const isOpen = value === null || outcome === 'not-assessed';
  const mark = isOpen ? 'none' : (outcome ?? 'pass');
  return (
    // The figures in the list below are asked by the keyboard; this is a short way for the pointer.
    // biome-ignore lint/a11y/noStaticElementInteractions: see above
    <g className={[own.point, own[mark]].join(' ')} onClick={() => onAsk(asked)}>
      {value !== null && u !== null && u > 0 && (
        <line className={own.bar} x1={x} x2={x} y1={y(value.value - 2 * u)} y2={y(value.value + 2 * u)} />
      )}
      <title>{value === null ? `${name}: not assessed` : name}</title>
      <circle cx={x} cy={height} r="9" fill="transparent" />
      <path
        className={own.mark}
        d={shapes[isOpen ? 'none' : (outcome ?? 'none')]}
        transform={`translate(${x} ${height})`}
      />
    </g>
  );
}

function distinct(points: readonly PlottedDeviation[]): readonly Limits[] {
  const seen = new Map<string, Limits>();
  for (const { limits } of points)
    if (limits !== null && (Number.isFinite(limits.lower) || Number.isFinite(limits.upper)))
      seen.set(`${limits.lower} ${limits.upper}`, limits);
  return [...seen.values()];
}

function decimalsOf(value: number): number {
  return Math.abs(value) < 0.01 && value !== 0
    ? 4
    : Math.min(2, /\.(\d+)$/.exec(String(Number(value.toFixed(2))))?.[1]?.length ?? 0);
}
