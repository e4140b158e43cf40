import { useMemo, useRef } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { DynamicPoint } from '../../core/scan/echo-dynamic.ts';
import type { Indication } from '../../core/steps/scan.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { Axis, type PlotArea } from '../series/Axis.tsx';
import plot from '../series/Plot.module.css';
import { labelsAcross, labelsDown, lengthTicks, roundTicks } from '../series/ticks.ts';
import { useSize } from '../series/use-size.ts';
import styles from './Part.module.css';

const heightPx = 170;

/** The height of an indication's echo along the scan, with the level at which it ends and where that lies. */
export function EchoDynamicPlot({
  indication,
  selected,
  onSelect,
  style,
}: {
  readonly indication: Indication;
  readonly selected: CaptureId | null;
  readonly onSelect: (captureId: CaptureId) => void;
  readonly style: FigureStyle;
}) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const { points, low, high, endLevelDb, fromMm, toMm, lowDb, highDb } = useMemo(
    () => layoutOf(indication),
    [indication],
  );
  const area: PlotArea | null =
    size === null ? null : { left: 58, top: 8, width: Math.max(40, size.width - 68), height: heightPx - 50 };
  const name = `Height along the scan of ${indication.name}: ${points.length} positions`;
  const x = (mm: number) => area!.left + ((mm - fromMm) / (toMm - fromMm)) * area!.width;
  const y = (db: number) => area!.top + ((highDb - db) / (highDb - lowDb)) * area!.height;
  const gain = indication.along.gainDb;
  return (
    <figure className={styles.dynamic}>
      <div ref={frame} role="img" aria-label={name} className={styles.sketch}>
        {area !== null && points.length > 0 && (
          <svg width="100%" height={heightPx} aria-hidden="true">
            <rect className={plot.ground} x={area.left} y={area.top} width={area.width} height={area.height} />
            {low !== null && high !== null && (
              <rect
                className={styles.extent}
                x={x(Math.max(fromMm, low))}
                y={area.top}
                width={Math.max(1, x(Math.min(toMm, high)) - x(Math.max(fromMm, low)))}
                height={area.height}
              />
            )}
            <Axis
              side="bottom"
              area={area}
              label={`Position (${unitSign('length', style)})`}
              ticks={lengthTicks(fromMm, toMm, area.width, labelsAcross, style)}
              pixelOf={(mm) => x(mm) - area.left}
            />
            <Axis
              side="left"
              area={area}
              label={`dB over 1 % FSH${gain === null ? '' : `, at ${figureWords(figures.levelDb(gain, style), style)}`}`}
              shortLabel="dB"
              ticks={roundTicks(lowDb, highDb, area.height, labelsDown, style)}
              pixelOf={(db) => y(db) - area.top}
              grid
            />
            <path
              className={styles.line}
              d={points
                .map(({ positionMm, levelDb }, i) => `${i === 0 ? 'M' : 'L'}${x(positionMm)} ${y(levelDb!)}`)
                .join('')}
            />
            {endLevelDb !== null && (
              <path className={plot.bandEdge} d={`M${area.left} ${y(endLevelDb)}h${area.width}`} />
            )}
            {[low, high].map((mm, i) =>
              mm === null ? null : (
                // biome-ignore lint/suspicious/noArrayIndexKey: the two ends
                <path key={i} className={styles.endLine} d={`M${x(mm)} ${area.top}v${area.height}`} />
              ),
            )}
            {points.map((point) => (
              <Point
                key={point.captureId}
                point={point}
                x={x(point.positionMm)}
                y={y(point.levelDb!)}
                isSelected={point.captureId === selected}
                onSelect={onSelect}
              />
            ))}
            <rect className={plot.frame} x={area.left} y={area.top} width={area.width} height={area.height} />
          </svg>
        )}
      </div>
      <figcaption className={styles.caption}>
        Dots are heights read, an arrow a crest that is cut off, a cross a height that is that or less; the shaded part
        is its length.
      </figcaption>
    </figure>
  );
}

function Point({
  point,
  x,
  y,
  isSelected,
  onSelect,
}: {
  readonly point: DynamicPoint;
  readonly x: number;
  readonly y: number;
  readonly isSelected: boolean;
  readonly onSelect: (captureId: CaptureId) => void;
}) {
  const path =
    point.state === 'cut-off'
      ? `M${x - 4} ${y + 3}l4 -7l4 7z`
      : point.state === 'missing'
        ? `M${x - 3} ${y - 3}l6 6m-6 0l6 -6`
        : `M${x - 3} ${y}a3 3 0 1 0 6 0a3 3 0 1 0 -6 0`;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a shortcut for the pointer; the same captures stand in the list by keys
    <g onClick={() => onSelect(point.captureId)}>
      {isSelected && <circle className={plot.chosenRing} cx={x} cy={y} r={7} />}
      <path className={styles.point} data-state={point.state} data-selected={isSelected} d={path} />
    </g>
  );
}

/** Above and below the heights stands so much more, in dB. */
const roomDb = 2;
/** Positions farther away than this share of the length on either side tell nothing of the indication. */
const roomShare = 1;
const leastRoomMm = 15;

function layoutOf({ along, captures, length }: Indication) {
  const own = new Set(captures);
  const known = along.points.filter(({ levelDb }) => levelDb !== null);
  const positions = known.filter(({ captureId }) => own.has(captureId)).map(({ positionMm }) => positionMm);
  const [low, high] = [length.low?.positionMm.value ?? null, length.high?.positionMm.value ?? null];
  const all = [...positions, ...[low, high].filter((mm) => mm !== null)];
  const [from, to] = [Math.min(...all), Math.max(...all)];
  const room = Math.max(leastRoomMm, roomShare * (to - from));
  const points = known.filter(({ positionMm }) => positionMm >= from - room && positionMm <= to + room);
  const at = points.map(({ positionMm }) => positionMm);
  const levels = [...points.map(({ levelDb }) => levelDb!), ...(length.endLevelDb === null ? [] : [length.endLevelDb])];
  return {
    points,
    low,
    high,
    endLevelDb: length.endLevelDb,
    fromMm: Math.min(...at, low ?? Number.POSITIVE_INFINITY) - 1,
    toMm: Math.max(...at, high ?? Number.NEGATIVE_INFINITY) + 1,
    lowDb: Math.min(...levels) - roomDb,
    highDb: Math.max(...levels) + roomDb,
  };
}
