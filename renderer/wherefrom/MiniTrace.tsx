import type { Drawing } from '../engine/messages.ts';
import styles from './WherefromPanel.module.css';

/** A stretch of a trace, small: the samples concerned, the wave and its envelope, and the time read. */
export interface MiniTraceShown {
  readonly fromUs: number;
  readonly toUs: number;
  /** Of the samples concerned. */
  readonly band: { readonly fromUs: number; readonly toUs: number };
  /** The time that was read, where there is one. */
  readonly atUs: number | null;
  readonly wave: Drawing;
  readonly envelope: Drawing;
}

const height = 100;

export function MiniTrace({ shown, label }: { readonly shown: MiniTraceShown; readonly label: string }) {
  const { fromUs, toUs, band, atUs, wave, envelope } = shown;
  const width = 320;
  const x = (timeUs: number) => (width * (timeUs - fromUs)) / (toUs - fromUs);
  const peak = Math.max(1e-9, ...spansOf(envelope).map(({ high }) => high), ...spansOf(wave).map(({ high }) => high));
  const y = (percent: number) => height - 6 - ((height - 14) * Math.max(0, percent)) / peak;
  const area = spansOf(wave).map(({ timeUs, high }) => `${x(timeUs).toFixed(1)},${y(high).toFixed(1)}`);
  const line = spansOf(envelope).map(({ timeUs, high }) => `${x(timeUs).toFixed(1)},${y(high).toFixed(1)}`);
  return (
    <svg
      className={styles.mini}
      viewBox={`0 0 ${width} ${height}`}
      preserveAspectRatio="none"
      role="img"
      aria-label={label}
    >
      <rect
        className={styles.band}
        x={x(band.fromUs)}
        width={Math.max(1, x(band.toUs) - x(band.fromUs))}
        y="0"
        height={height}
      />
      {[band.fromUs, band.toUs].map((edge) => (
        <line key={edge} className={styles.edge} x1={x(edge)} x2={x(edge)} y1="0" y2={height} />
      ))}
      {area.length > 1 && (
        <path
          className={styles.wave}
          d={`M${x(spansOf(wave)[0]?.timeUs ?? fromUs)},${y(0)}L${area.join('L')}L${x(spansOf(wave).at(-1)?.timeUs ?? toUs)},${y(0)}Z`}
        />
      )}
      {line.length > 1 && <path className={styles.over} d={`M${line.join('L')}`} />}
      {atUs !== null && <line className={styles.at} x1={x(atUs)} x2={x(atUs)} y1="0" y2={height} />}
    </svg>
  );
}

function spansOf(drawing: Drawing): readonly { readonly timeUs: number; readonly high: number }[] {
  if (drawing.kind === 'samples')
    return Array.from(drawing.heights, (high, i) => ({ timeUs: drawing.startUs + i * drawing.stepUs, high }));
  return Array.from(drawing.maxima, (high, i) => ({ timeUs: drawing.startUs + (i + 0.5) * drawing.columnUs, high }));
}
