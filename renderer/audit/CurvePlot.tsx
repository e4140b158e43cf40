import { useState } from 'react';
import type { FigureAsked } from '../../core/origin.ts';
import { lawAt } from '../../core/sensitivity/attenuation-law.ts';
import { curveSamples } from '../../core/sensitivity/distance-amplitude-curve.ts';
import { levelsInDb } from '../../core/sensitivity/evaluation-levels.ts';
import { heightAtReference } from '../../core/sensitivity/reference-level.ts';
import type { CurveResult, SensitivityResult } from '../../core/steps/sensitivity.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';
import type { Quantity } from '../../core/units/quantity.ts';
import { Toggle } from '../parts/Choice.tsx';
import { labelsAcross, labelsDown, lengthTicks, roundTicks } from '../series/ticks.ts';
import own from './Check.module.css';
import styles from './CurvePlot.module.css';
import { inWords } from './figure-words.ts';

const size = { width: 330, height: 206 };
const inner = { left: 46, right: 290, top: 10, bottom: 172 };
/** So many pieces between two points that a line straight in the other measure is seen to be bent. */
const pieces = 16;

type Measure = 'db' | 'percent';
const measures = [
  { id: 'db', label: 'dB' },
  { id: 'percent', label: '% FSH' },
] as const;

interface Placed {
  readonly mm: number;
  readonly value: number;
}

/** The curve over the sound path with its points, the levels below it, the law, the near field, and the readings that are held against it. */
export function CurvePlot({
  result,
  curve,
  onAsk,
  style,
}: {
  readonly result: SensitivityResult;
  readonly curve: CurveResult;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}) {
  const [measure, setMeasure] = useState<Measure>('db');
  const { reference, points, readings, levels, law } = curve;
  if (reference === null || points.length === 0) return null;
  const shown = (level: Quantity): Quantity => (measure === 'db' ? level : heightAtReference(level, reference));
  const exactly = (db: number) => shown({ value: db, standardUncertainty: null }).value;
  const along =
    curve.curve === null
      ? []
      : curveSamples(curve.curve, reference.percent, pieces).map(({ distanceMm, levelDb }) => ({
          mm: distanceMm,
          db: levelDb,
        }));
  const line = (above: number): Placed[] => along.map(({ mm, db }) => ({ mm, value: exactly(db + above) }));
  const below = levels === null ? [] : levelsInDb(levels);
  const ofLaw =
    law === null
      ? []
      : along.flatMap(({ mm }) => {
          const there = lawAt(law, mm);
          return there === null ? [] : [{ mm, value: shown(there).value }];
        });
  const held = readings.flatMap((reading) =>
    reading.soundPathMm === null || reading.levelDb === null
      ? []
      : [{ reading, mm: reading.soundPathMm.value, level: shown(reading.levelDb) }],
  );
  const ofPoints = points.map((point) => ({ point, level: shown(point.levelDb) }));
  const all = [
    ...ofPoints.flatMap(({ level }) => ends(level)),
    ...held.flatMap(({ level }) => ends(level)),
    ...below.flatMap(({ db }) => line(db).map(({ value }) => value)),
  ];
  const low = measure === 'percent' ? 0 : Math.min(...all);
  const high = Math.max(...all);
  const room = Math.max((high - low) * 0.08, 0.5);
  const from = measure === 'percent' ? 0 : low - room;
  const to = high + room;
  const farthest = Math.max(...points.map(({ distanceMm }) => distanceMm), ...held.map(({ mm }) => mm)) * 1.05;
  const x = (mm: number) => inner.left + ((inner.right - inner.left) * mm) / farthest;
  const y = (value: number) => inner.bottom - ((inner.bottom - inner.top) * (value - from)) / (to - from);
  const path = (list: readonly Placed[]) => list.map(({ mm, value }) => `${x(mm)},${y(value)}`).join(' ');
  const down = roundTicks(from, to, inner.bottom - inner.top, labelsDown, style);
  const across = lengthTicks(0, farthest, inner.right - inner.left, labelsAcross, style);
  const unit = measure === 'db' ? 'dB' : '%';
  const length = unitSign('length', style);
  const near = result.nearField === null ? null : Math.min(farthest, result.nearField.lawsFromMm);
  const write = (value: number) => inWords(`${formatNumber(value, 1, style)} ${unit}`);
  const words = [
    ...ofPoints.map(({ point, level }) => `point at ${point.distanceMm} mm: ${write(level.value)}`),
    ...held.map(({ reading, level }) => `reading ${reading.gate} of ${reading.captureId}: ${write(level.value)}`),
  ].join('; ');
  const end = along.at(-1);
  return (
    <figure className={own.figure}>
      <figcaption className={styles.head}>
        <span className={styles.title}>
          {measure === 'db' ? 'Level above the reference' : 'Height at the reference gain'}
        </span>
        <Toggle label="Measure" hideLabel options={measures} chosen={measure} onChoose={setMeasure} />
      </figcaption>
      <svg
        className={own.plot}
        viewBox={`0 0 ${size.width} ${size.height}`}
        role="img"
        aria-label={`Distance-amplitude curve. ${words}`}
      >
        {near !== null && near > 0 && (
          <>
            <rect
              className={styles.near}
              x={inner.left}
              width={x(near) - inner.left}
              y={inner.top}
              height={inner.bottom - inner.top}
            />
            <line className={styles.nearEnd} x1={x(near)} x2={x(near)} y1={inner.top} y2={inner.bottom} />
          </>
        )}
        {down.map(({ value, label }) => (
          <g key={label}>
            <line className={own.grid} x1={inner.left} x2={inner.right} y1={y(value)} y2={y(value)} />
            <text x={inner.left - 6} y={y(value) + 4} textAnchor="end">
              {inWords(label)}
            </text>
          </g>
        ))}
        {across.map(({ value, label }) => (
          <text key={label} x={x(value)} y={inner.bottom + 15} textAnchor="middle">
            {label}
          </text>
        ))}
        <text x={inner.left - 40} y={size.height - 3}>
          {unit}
        </text>
        <text x={inner.right} y={size.height - 3} textAnchor="end">
          sound path ({length})
        </text>
        {near !== null && near > 0 && (
          <text x={inner.left + 4} y={inner.top + 11}>
            {x(near) - inner.left > 66 ? 'near field' : ''}
          </text>
        )}
        {ofLaw.length > 1 && <polyline className={styles.law} points={path(ofLaw)} />}
        {along.length > 0 && <polyline className={styles.curve} points={path(line(0))} />}
        {below.map(({ name, db }) => (
          <g key={name}>
            <polyline className={styles.level} points={path(line(db))} />
            {end !== undefined && (
              <text x={Math.min(x(end.mm) + 5, size.width - 38)} y={y(exactly(end.db + db)) + 4}>
                {inWords(`${formatNumber(db, 0, style)} dB`)}
              </text>
            )}
          </g>
        ))}
        {ofPoints.map(({ point, level }) => (
          <Mark
            key={point.distanceMm}
            kind="point"
            x={x(point.distanceMm)}
            y={y}
            level={level}
            title={`Point at ${point.distanceMm} mm: ${write(level.value)}`}
            isDoubtful={point.flags.length > 0}
            onPress={() => onAsk({ kind: 'sensitivity', figure: 'point-level', distanceMm: point.distanceMm })}
          />
        ))}
        {held.map(({ reading, mm, level }) => (
          <Mark
            key={`${reading.captureId} ${reading.gate}`}
            kind="reading"
            x={x(mm)}
            y={y}
            level={level}
            title={`${reading.gate} of ${reading.captureId}: ${write(level.value)}`}
            isDoubtful={reading.atLeast}
            onPress={() =>
              onAsk({ kind: 'sensitivity', figure: 'reading-level', captureId: reading.captureId, gate: reading.gate })
            }
          />
        ))}
      </svg>
      <ul className={styles.legend} aria-label="What stands on the plot">
        <li>
          <svg width="18" height="10" aria-hidden="true">
            <line className={styles.curve} x1="0" x2="18" y1="5" y2="5" />
            <circle className={styles.pointMark} cx="9" cy="5" r="3.5" />
          </svg>
          curve and its points
        </li>
        {held.length > 0 && (
          <li>
            <svg width="12" height="10" aria-hidden="true">
              <path className={styles.readingMark} d="M6 0.5L10.5 5L6 9.5L1.5 5z" />
            </svg>
            readings
          </li>
        )}
        {below.length > 0 && (
          <li>
            <svg width="18" height="10" aria-hidden="true">
              <line className={styles.level} x1="0" x2="18" y1="5" y2="5" />
            </svg>
            levels
          </li>
        )}
        {ofLaw.length > 1 && (
          <li>
            <svg width="18" height="10" aria-hidden="true">
              <line className={styles.law} x1="0" x2="18" y1="5" y2="5" />
            </svg>
            law
          </li>
        )}
        {near !== null && (
          <li>
            <svg width="12" height="10" aria-hidden="true">
              <rect className={styles.near} width="12" height="10" />
            </svg>
            nearer than 3 near-field lengths
          </li>
        )}
      </ul>
    </figure>
  );
}

function ends({ value, standardUncertainty }: Quantity): number[] {
  const half = 2 * (standardUncertainty ?? 0);
  return [value - half, value + half];
}

function Mark({
  kind,
  x,
  y,
  level,
  title,
  isDoubtful,
  onPress,
}: {
  readonly kind: 'point' | 'reading';
  readonly x: number;
  readonly y: (value: number) => number;
  readonly level: Quantity;
  readonly title: string;
  readonly isDoubtful: boolean;
  readonly onPress: () => void;
}) {
  const at = y(level.value);
  const u = level.standardUncertainty;
  const mark = [kind === 'point' ? styles.pointMark : styles.readingMark, isDoubtful ? styles.open : ''].join(' ');
  return (
    // The figures in the lists are asked by the keyboard; this is a short way for the pointer.
    // biome-ignore lint/a11y/noStaticElementInteractions: see above
    <g className={own.point} onClick={onPress}>
      {u !== null && u > 0 && (
        <line className={own.bar} x1={x} x2={x} y1={y(level.value - 2 * u)} y2={y(level.value + 2 * u)} />
      )}
      <title>{title}</title>
      <circle cx={x} cy={at} r="9" fill="transparent" />
      {kind === 'point' ? (
        <circle className={mark} cx={x} cy={at} r="4" />
      ) : (
        <path className={mark} d="M0 -5.5L5 0L0 5.5L-5 0z" transform={`translate(${x} ${at})`} />
      )}
    </g>
  );
}
