import styles from './Plot.module.css';
import type { Tick } from './ticks.ts';

export interface PlotArea {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

interface AxisProps {
  readonly side: 'bottom' | 'left' | 'right';
  readonly area: PlotArea;
  readonly label: string;
  /** In its place where the axis is too short for the label. */
  readonly shortLabel?: string;
  readonly ticks: readonly Tick[];
  /** Pixels from the area's left or upper edge. */
  pixelOf(value: number): number;
  readonly grid?: boolean;
}

/** A letter of an axis's name, or a figure of a label, about. */
const namePx = 6.3;
/** So far beyond its end the words of an axis across may reach before they are cut off. */
const beyondPx = 10;

/** An axis with its ticks, their labels and its name with the unit. */
export function Axis({ side, area, label, shortLabel = label, ticks, pixelOf, grid = false }: AxisProps) {
  const { left, top, width, height } = area;
  const right = left + width;
  const bottom = top + height;
  if (side === 'bottom')
    return (
      <g className={styles.axis}>
        {ticks.map(({ value, label: words }) => {
          const x = left + pixelOf(value);
          return (
            <g key={value}>
              {grid && <line className={styles.grid} x1={x} x2={x} y1={top} y2={bottom} />}
              <line x1={x} x2={x} y1={bottom} y2={bottom + 4} />
              <text x={Math.min(x, right + beyondPx - (words.length * namePx) / 2)} y={bottom + 17} textAnchor="middle">
                {words}
              </text>
            </g>
          );
        })}
        <text className={styles.name} x={left + width / 2} y={bottom + 34} textAnchor="middle">
          {label}
        </text>
      </g>
    );
  const isLeft = side === 'left';
  const edge = isLeft ? left : right;
  const out = isLeft ? -1 : 1;
  const nameAt = edge + (isLeft ? -46 : 36);
  return (
    <g className={styles.axis}>
      {ticks.map(({ value, label: words }) => {
        const y = top + pixelOf(value);
        return (
          <g key={value}>
            {grid && <line className={styles.grid} x1={left} x2={right} y1={y} y2={y} />}
            <line x1={edge} x2={edge + out * 4} y1={y} y2={y} />
            <text x={edge + out * 8} y={y + 4} textAnchor={isLeft ? 'end' : 'start'}>
              {words}
            </text>
          </g>
        );
      })}
      <text
        className={styles.name}
        x={nameAt}
        y={top + height / 2}
        textAnchor="middle"
        dominantBaseline={isLeft ? 'auto' : 'hanging'}
        transform={`rotate(-90 ${nameAt} ${top + height / 2})`}
      >
        {label.length * namePx > height ? shortLabel : label}
      </text>
    </g>
  );
}
