import { memo } from 'react';
import type { PeakCurve } from '../../core/gate/peak-curve.ts';
import { type FigureStyle, figureWithUnit, unitSign } from '../../core/units/figure-style.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';
import { Axis, type PlotArea } from './Axis.tsx';
import { type CurveLayout, parabolaLine } from './curve-layout.ts';
import { linePath, markPath, standings } from './marks.ts';
import styles from './Plot.module.css';
import { labelsAcross, labelsDown, lengthTicks, roundTicks } from './ticks.ts';

/** 1 dB, 0.5 dB: no more decimals than the limit has. */
export function limitText(offPeakDb: number, style: FigureStyle): string {
  return figureWithUnit(offPeakDb, 'level', Number.isInteger(offPeakDb) ? 0 : 1, style);
}

/** Everything that does not change with what is chosen. */
export const CurveMarks = memo(function CurveMarks({
  curve,
  layout,
  area,
  style,
}: {
  readonly curve: PeakCurve;
  readonly layout: CurveLayout;
  readonly area: PlotArea;
  readonly style: FigureStyle;
}) {
  const { left, top, width, height } = area;
  const x = (at: number) => xIn(layout, area, at);
  const y = (levelDb: number) => yIn(layout, area, levelDb);
  const marks = layout.points.map(({ at, levelDb, standing }) => ({
    x: x(at),
    y: levelDb === null ? top + height - 8 : y(levelDb),
    standing,
  }));
  const halfSize = Math.min(4, Math.max(1.2, (0.45 * width) / marks.length));
  const line = parabolaLine(curve).map(({ at, levelDb }) => ({ x: x(at), y: y(levelDb) }));
  const acrossTicks = layout.placed
    ? lengthTicks(layout.from, layout.to, width, labelsAcross, style)
    : roundTicks(layout.from, layout.to, width, labelsAcross, style).filter(({ value }) => Number.isInteger(value));
  const across = layout.placed ? `Probe position (${unitSign('length', style)})` : 'Capture, in the order given';
  const gain =
    curve.referenceGainDb === null
      ? 'as captured'
      : `at ${figureWithUnit(curve.referenceGainDb, 'level', 1, style).replace(/[.,]0(?= )/, '')}`;
  return (
    <svg width="100%" height="100%" aria-hidden="true">
      <rect
        className={styles.band}
        x={left}
        y={y(curve.peakDb)}
        width={width}
        height={y(curve.limitDb) - y(curve.peakDb)}
      />
      <Axis
        side="bottom"
        area={area}
        label={across}
        ticks={acrossTicks}
        pixelOf={(value) => x(value) - left}
        grid={false}
      />
      <Axis
        side="left"
        area={area}
        label={`dB of full screen, ${gain}`}
        shortLabel="dB"
        ticks={roundTicks(layout.lowDb, layout.highDb, height, labelsDown, style)}
        pixelOf={(value) => y(value) - top}
        grid
      />
      <line className={styles.bandEdge} x1={left} x2={left + width} y1={y(curve.limitDb)} y2={y(curve.limitDb)} />
      <rect className={styles.frame} x={left} y={top} width={width} height={height} />
      {curve.withinLimit !== null &&
        [curve.withinLimit.fromMm, curve.withinLimit.toMm]
          .filter((at) => at > layout.from && at < layout.to)
          .map((at) => (
            <line key={at} className={styles.bandEdge} x1={x(at)} x2={x(at)} y1={y(curve.limitDb)} y2={top + height} />
          ))}
      <path className={styles.curve} d={linePath(line)} />
      {standings.map((standing) => (
        <path key={standing} className={styles.mark} data-standing={standing} d={markPath(marks, standing, halfSize)} />
      ))}
      <PeakMark curve={curve} area={area} x={x} y={y} style={style} />
    </svg>
  );
});

const besideVertexPx = 11;
const aboveVertexPx = 15;
/** Clear of the ring about a mark that stands at the level. */
const aboveRingPx = 13;
/** A letter of a value, about. */
const letterPx = 7;

/** The vertex with its value, or the level of the highest reading where no parabola is there. */
function PeakMark({
  curve,
  area,
  x,
  y,
  style,
}: {
  readonly curve: PeakCurve;
  readonly area: PlotArea;
  x(at: number): number;
  y(levelDb: number): number;
  readonly style: FigureStyle;
}) {
  const { parabola, peakDb, peakIsLowerBound, offPeakDb } = curve;
  const level = formatNumber(peakDb, 1, style);
  const right = area.left + area.width - 6;
  const bandWords = area.width >= 420 && (
    <text className={styles.small} x={right} y={y(curve.limitDb) + 14} textAnchor="end">
      {limitText(offPeakDb, style)} below the peak
    </text>
  );
  if (parabola === null)
    return (
      <g>
        <line className={styles.bandEdge} x1={area.left} x2={area.left + area.width} y1={y(peakDb)} y2={y(peakDb)} />
        {bandWords}
        <text className={styles.value} x={right} y={Math.max(area.top + 11, y(peakDb) - aboveRingPx)} textAnchor="end">
          {peakIsLowerBound ? 'peak at least' : 'highest'} {level} dB
        </text>
      </g>
    );
  const at = x(parabola.positionMm);
  const words = `${level} dB at ${figureWithUnit(parabola.positionMm, 'length', 2, style)}`;
  const place = placeOfWords(at, words.length * letterPx, area);
  return (
    <g>
      {bandWords}
      <path className={styles.vertex} d={`M${at - 7} ${y(parabola.levelDb)}h14m-7 -7v14`} />
      <text
        className={styles.value}
        x={place.x}
        y={y(parabola.levelDb) - (place.anchor === 'middle' ? aboveVertexPx : 9)}
        textAnchor={place.anchor}
      >
        {words}
      </text>
    </g>
  );
}

/** Beside the vertex on the side with more room; above it where neither side has enough. */
function placeOfWords(
  at: number,
  width: number,
  { left, width: plotWidth }: PlotArea,
): { readonly x: number; readonly anchor: 'start' | 'middle' | 'end' } {
  const right = left + plotWidth;
  const anchor = at > left + plotWidth / 2 ? 'end' : 'start';
  const room = anchor === 'end' ? at - left : right - at;
  if (room >= width + besideVertexPx)
    return { x: anchor === 'end' ? at - besideVertexPx : at + besideVertexPx, anchor };
  return { x: Math.min(right - width / 2, Math.max(left + width / 2, at)), anchor: 'middle' };
}

/** Where the chosen capture, or the one under the pointer, stands: a ring about its mark on a line down to its place. */
export function Ring({
  area,
  layout,
  place,
  kind,
}: {
  readonly area: PlotArea;
  readonly layout: CurveLayout;
  readonly place: number;
  readonly kind: 'chosen' | 'pointed';
}) {
  const { at, levelDb } = layout.points[place]!;
  const x = xIn(layout, area, at);
  const y = levelDb === null ? area.top + area.height - 8 : yIn(layout, area, levelDb);
  return (
    <svg width="100%" height="100%" aria-hidden="true">
      <line className={styles[`${kind}Line`]} x1={x} x2={x} y1={area.top} y2={area.top + area.height} />
      <circle className={styles[`${kind}Ring`]} cx={x} cy={y} r={9} />
    </svg>
  );
}

function xIn({ from, to }: CurveLayout, area: PlotArea, at: number): number {
  return area.left + ((at - from) / (to - from)) * area.width;
}

function yIn({ lowDb, highDb }: CurveLayout, area: PlotArea, levelDb: number): number {
  return area.top + ((highDb - levelDb) / (highDb - lowDb)) * area.height;
}
