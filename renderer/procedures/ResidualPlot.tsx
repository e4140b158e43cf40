import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import { bareFigure, figures, figureWords } from '../../core/origin/figure.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { labelsAcross, labelsDown, lengthTicks } from '../series/ticks.ts';
import styles from './ResidualPlot.module.css';

const size = { width: 320, height: 132 };
const inner = { left: 50, right: 308, top: 10, bottom: 100 };

/** How far each reflector stands off the fitted line; bars are twice the timing's own uncertainty. */
export function ResidualPlot({
  calibration,
  style,
}: {
  readonly calibration: DistanceCalibration;
  readonly style: FigureStyle;
}) {
  const points = calibration.points.map((point) => ({
    distanceMm: point.distanceMm,
    residualMm: point.residualMm,
    barMm: point.uTimeUs === null ? 0 : (point.uTimeUs * calibration.velocityMPerS.value) / 1000,
    isOdd: point.flags.includes('residuals-too-large'),
  }));
  const most = Math.max(1e-4, ...points.map((p) => Math.abs(p.residualMm) + p.barMm)) * 1.15;
  const farthest = Math.max(...points.map((p) => p.distanceMm)) * 1.06;
  const x = (mm: number) => inner.left + ((inner.right - inner.left) * mm) / farthest;
  const y = (mm: number) => (inner.top + inner.bottom) / 2 - ((inner.bottom - inner.top) / 2) * (mm / most);
  const across = lengthTicks(0, farthest, inner.right - inner.left, labelsAcross, style);
  const down = lengthTicks(-most, most, inner.bottom - inner.top, labelsDown, style);
  const unit = unitSign('length', style);
  const words = points
    .map(
      (p) =>
        `${figureWords(figures.residualMm(p.residualMm, style), style)} at ${bareFigure(figures.statedMm(p.distanceMm, style), style)}`,
    )
    .join(', ');
  return (
    <svg
      className={styles.plot}
      viewBox={`0 0 ${size.width} ${size.height}`}
      role="img"
      aria-label={`Residuals: ${words} ${unit}`}
    >
      {down.map(({ value, label }) => (
        <g key={label}>
          <line className={styles.grid} x1={inner.left} x2={inner.right} y1={y(value)} y2={y(value)} />
          <text x={inner.left - 6} y={y(value) + 4} textAnchor="end">
            {label}
          </text>
        </g>
      ))}
      <line className={styles.axis} x1={inner.left} x2={inner.right} y1={y(0)} y2={y(0)} />
      {across.map(({ value, label }) => (
        <text key={label} x={x(value)} y={inner.bottom + 15} textAnchor="middle">
          {label}
        </text>
      ))}
      <text x={inner.right} y={size.height - 2} textAnchor="end">
        known distance ({unit})
      </text>
      <text x={inner.left - 44} y={size.height - 2}>
        residual ({unit})
      </text>
      {points.map((p) => (
        <g key={p.distanceMm}>
          {p.barMm > 0 && (
            <line
              className={styles.bar}
              x1={x(p.distanceMm)}
              x2={x(p.distanceMm)}
              y1={y(p.residualMm - p.barMm)}
              y2={y(p.residualMm + p.barMm)}
            />
          )}
          {p.isOdd ? (
            <rect className={styles.odd} x={x(p.distanceMm) - 4} y={y(p.residualMm) - 4} width="8" height="8" />
          ) : (
            <circle className={styles.point} cx={x(p.distanceMm)} cy={y(p.residualMm)} r="4" />
          )}
        </g>
      ))}
    </svg>
  );
}
