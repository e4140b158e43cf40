import { memo, useId, useMemo } from 'react';
import type { DepthExtent } from '../../core/drawing/depth-extents.ts';
import type { DepthAcross, DepthScan } from '../../core/drawing/depth-scan.ts';
import type { UncertaintyEllipse } from '../../core/part/locate-in-part.ts';
import type { PlaceInSection } from '../../core/review/part-decision.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { Axis, type PlotArea } from '../series/Axis.tsx';
import plot from '../series/Plot.module.css';
import { labelsAcross, labelsDown, lengthTicks } from '../series/ticks.ts';
import { depthNames, weldLevels } from './depth-names.ts';
import { type DepthView, pixelAcross, pixelDown } from './depth-view.ts';
import styles from './Section.module.css';

interface DepthMarksProps {
  readonly area: PlotArea;
  readonly view: DepthView;
  readonly scan: DepthScan;
  readonly across: DepthAcross;
  readonly outline: readonly PlaceInSection[];
  readonly extents: readonly DepthExtent[];
  readonly indication: string | null;
  readonly style: FigureStyle;
}

/** What the axis across counts, with its unit. */
export function acrossWords(across: DepthAcross, isAlongWeld: boolean, style: FigureStyle): string {
  const unit = unitSign('length', style);
  if (across === 'reflecting-point') return `Reflecting point, from the weld’s middle (${unit})`;
  return isAlongWeld ? `Position along the weld (${unit})` : `Probe position (${unit})`;
}

/** The part about and over the shades: its surfaces, the weld, what indications cover, and both axes. */
export const DepthMarks = memo(function DepthMarks(props: DepthMarksProps) {
  const { area, view, scan, across, outline, extents, indication, style } = props;
  const { left, top, width, height } = area;
  const clip = useId();
  const x = (mm: number) => far(pixelAcross(mm, view, area));
  const y = (mm: number) => far(pixelDown(mm, view, area));
  const far = (pixel: number) => Math.round(10 * Math.min(1e5, Math.max(-1e5, pixel))) / 10;
  const surfaces = farSurfaces(scan, across, view);
  const lines = weldLevels(outline, across, scan.thicknessMm);
  const names = useMemo(
    () => depthNames({ area, view, scan, across, outline, extents, indication }),
    [area, view, scan, across, outline, extents, indication],
  );
  const inOrder = extents.toSorted((a, b) => Number(a.name === indication) - Number(b.name === indication));
  return (
    <svg width="100%" height="100%" aria-hidden="true">
      <clipPath id={clip}>
        <rect x={left} y={top} width={width} height={height} />
      </clipPath>
      <g clipPath={`url(#${clip})`}>
        <rect className={styles.outside} x={left} y={top} width={width} height={Math.max(0, y(0) - top)} />
        {surfaces.map(({ fromMm, toMm, depthMm }) => (
          <rect
            key={fromMm}
            className={styles.outside}
            x={x(fromMm)}
            y={y(depthMm)}
            width={Math.max(0, x(toMm) - x(fromMm))}
            height={Math.max(0, top + height - y(depthMm))}
          />
        ))}
        {across === 'reflecting-point' && outline.length > 2 && (
          <>
            <path className={styles.weldRim} d={closed(outline, x, y)} />
            <path className={styles.weldLine} d={closed(outline, x, y)} />
          </>
        )}
        {lines.map(({ name, depthMm }) => (
          <path key={name} className={styles.weldLine} d={`M${left} ${y(depthMm)}h${width}`} />
        ))}
        <path className={styles.surface} d={`M${left} ${y(0)}h${width}`} />
        <path
          className={styles.surface}
          d={surfaces.map(({ fromMm, toMm, depthMm }) => `M${x(fromMm)} ${y(depthMm)}H${x(toMm)}`).join('')}
        />
        {inOrder.map((extent) => (
          <Extent key={extent.name} {...{ extent, across, x, y }} isSelected={extent.name === indication} />
        ))}
        {names.map(({ key, words, x: at, y: down, kind }) => (
          <text
            key={key}
            className={styles.name}
            data-selected={kind === 'chosen'}
            data-part={kind === 'part'}
            x={at}
            y={down}
          >
            {words}
          </text>
        ))}
      </g>
      <rect className={plot.frame} x={left} y={top} width={width} height={height} />
      <Axis
        side="bottom"
        area={area}
        label={acrossWords(across, scan.isAlongWeld, style)}
        ticks={lengthTicks(view.fromMm, view.toMm, width, labelsAcross, style)}
        pixelOf={(mm) => pixelAcross(mm, view, area) - left}
      />
      <Axis
        side="left"
        area={area}
        label={`True depth (${unitSign('length', style)})`}
        shortLabel={`Depth (${unitSign('length', style)})`}
        ticks={lengthTicks(view.topMm, view.bottomMm, height, labelsDown, style)}
        pixelOf={(mm) => pixelDown(mm, view, area) - top}
      />
    </svg>
  );
});

type Pixel = (mm: number) => number;

function closed(places: readonly PlaceInSection[], x: Pixel, y: Pixel): string {
  return `M${places.map(({ acrossMm, depthMm }) => `${x(acrossMm)} ${y(depthMm)}`).join('L')}Z`;
}

/** The far surface in stretches of one thickness: by the position of the probe it steps where the part does. */
function farSurfaces({ members, thicknessMm }: DepthScan, across: DepthAcross, view: DepthView) {
  const isEven = members.every(({ beam }) => beam.thicknessMm.value === thicknessMm);
  if (across === 'reflecting-point' || isEven) return [{ fromMm: view.fromMm, toMm: view.toMm, depthMm: thicknessMm }];
  const inOrder = members.toSorted((a, b) => a.station.at - b.station.at);
  const stretches: { fromMm: number; toMm: number; depthMm: number }[] = [];
  for (const { station, beam } of inOrder) {
    const depthMm = beam.thicknessMm.value;
    const last = stretches.at(-1);
    if (last?.depthMm === depthMm) last.toMm = Math.max(last.toMm, station.to);
    else stretches.push({ fromMm: station.from, toMm: station.to, depthMm });
  }
  return stretches;
}

/** Along the scan a box from end to end and over the depths between which it lies; across the weld its place and the ellipse about it, and of the chosen one its piece of the beam. */
function Extent({
  extent,
  across,
  x,
  y,
  isSelected,
}: {
  readonly extent: DepthExtent;
  readonly across: DepthAcross;
  readonly x: Pixel;
  readonly y: Pixel;
  readonly isSelected: boolean;
}) {
  const sign = extent.taken === 'geometry' ? 'geometry' : 'indication';
  if (across === 'position') {
    const d = boxPath(extent, x, y);
    return (
      <g data-selected={isSelected} data-sign={sign} className={styles.extent}>
        <path className={styles.extentRim} d={d} />
        <path className={styles.extentLine} d={d} />
      </g>
    );
  }
  const { line, place } = extent;
  if (line === null) return null;
  const d = `M${line.map(({ acrossMm, depthMm }) => `${x(acrossMm)} ${y(depthMm)}`).join('L')}`;
  const at = place?.acrossMm == null ? null : { x: x(place.acrossMm.value), y: y(place.depthMm.value) };
  const mmPx = Math.abs(x(1) - x(0));
  const ring = place?.ellipse == null || at === null ? null : ringOf(place.ellipse, at, mmPx);
  return (
    <g data-selected={isSelected} data-sign={sign} className={styles.extent}>
      {isSelected && <path className={styles.extentRim} d={d} />}
      {isSelected && <path className={styles.extentLine} d={d} />}
      {ring !== null && <ellipse className={styles.extentRim} {...ring} />}
      {ring !== null && <ellipse className={styles.extentRing} {...ring} />}
      {at !== null && <circle className={styles.extentPoint} cx={at.x} cy={at.y} r={2.75} />}
    </g>
  );
}

function ringOf({ semiMajorMm, semiMinorMm, tiltDeg }: UncertaintyEllipse, at: { x: number; y: number }, mmPx: number) {
  return {
    cx: at.x,
    cy: at.y,
    rx: semiMajorMm * mmPx,
    ry: semiMinorMm * mmPx,
    transform: `rotate(${tiltDeg} ${at.x} ${at.y})`,
  };
}

/** An end that may lie farther out stays open, with an arrow. */
function boxPath(extent: DepthExtent, x: Pixel, y: Pixel): string {
  const [from, to] = [x(extent.fromMm), Math.max(x(extent.fromMm) + 2, x(extent.toMm))];
  const [upper, lower] = [y(extent.depthFromMm), Math.max(y(extent.depthFromMm) + 2, y(extent.depthToMm))];
  const middle = (upper + lower) / 2;
  const end = (at: number, isOpen: boolean, outwards: 1 | -1) =>
    isOpen ? `M${at + 4 * outwards} ${middle - 4}l${5 * outwards} 4l${-5 * outwards} 4` : `M${at} ${upper}V${lower}`;
  return `M${from} ${upper}H${to}M${from} ${lower}H${to}${end(from, extent.isOpenLow, -1)}${end(to, extent.isOpenHigh, 1)}`;
}
