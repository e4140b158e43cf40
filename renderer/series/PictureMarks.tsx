import { memo, useId, useMemo } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { SeriesPeak } from '../../core/gate/off-peak.ts';
import type { Reading } from '../../core/gate/reading.ts';
import type { Viewport } from '../trace/viewport.ts';
import { Axis, type PlotArea } from './Axis.tsx';
import { linePath, markPath, standings } from './marks.ts';
import styles from './Plot.module.css';
import type { AxisWords } from './picture-axes.ts';
import type { Places } from './places.ts';
import type { Tick } from './ticks.ts';
import { thinned, trackOf } from './track.ts';

export interface OutlinedGate {
  readonly name: string;
  readonly fromUs: number;
  readonly toUs: number;
  readonly selected: boolean;
}

interface PictureMarksProps {
  readonly area: PlotArea;
  readonly places: Places;
  readonly view: Viewport;
  readonly byCapture: ReadonlyMap<CaptureId, Reading>;
  readonly ofOneReflector: boolean;
  readonly peak: SeriesPeak | null;
  readonly outlined: readonly OutlinedGate[];
  readonly across: string;
  readonly acrossTicks: readonly Tick[];
  readonly down: { readonly left: AxisWords; readonly right: AxisWords | null };
}

/** Marks closer together than this, in pixels, would only cover the track. */
const closest = 11;

/** Axes, gates and the echo's track over the picture. */
export const PictureMarks = memo(function PictureMarks(props: PictureMarksProps) {
  const { area, places, view, byCapture, ofOneReflector, peak, outlined, across, acrossTicks, down } = props;
  const clip = useId();
  const { left, top, width, height } = area;
  const xIn = (value: number) => ((value - places.from) / (places.to - places.from)) * width;
  const yIn = (timeUs: number) => ((timeUs - view.fromUs) / (view.toUs - view.fromUs)) * height;
  const inSight = outlined.filter(({ fromUs, toUs }) => toUs > view.fromUs && fromUs < view.toUs);
  // Whatever part of the time axis is shown, the same points stand for thousands of captures.
  const track = useMemo(() => {
    const columnOf = (at: number) => Math.floor(((at - places.from) / (places.to - places.from)) * width);
    return trackOf(places, byCapture).map(({ walking, points }) => ({ walking, points: thinned(points, columnOf) }));
  }, [places, byCapture, width]);
  const stretches = track.map(({ walking, points }) => ({
    walking,
    points: points.map((point) => ({ ...point, x: left + xIn(point.at), y: top + yIn(point.timeUs) })),
  }));
  const ways = ofOneReflector ? stretches : [];
  const solid = ways.filter(({ walking }) => !walking).map(({ points }) => linePath(points));
  const dashed = ways.filter(({ walking }) => walking).map(({ points }) => linePath(points));
  const sparse = width / places.placed.length >= closest;
  const marks = sparse ? [...stretches.flatMap(({ points }) => points), ...silent()] : [];
  const peakX = peak?.positionMm == null || places.across !== 'position' ? null : left + xIn(peak.positionMm);

  function silent() {
    return places.placed.flatMap(({ capture, at }) =>
      byCapture.get(capture.captureId)?.flags.includes('no-echo')
        ? [{ x: left + xIn(at), y: top + height - 10, standing: 'no-echo' as const }]
        : [],
    );
  }

  return (
    <svg width="100%" height="100%" aria-hidden="true">
      <clipPath id={clip}>
        <rect x={left} y={top} width={width} height={height} />
      </clipPath>
      <g clipPath={`url(#${clip})`}>
        {inSight.map(({ name, fromUs, toUs, selected }) => {
          const y = top + yIn(fromUs);
          const box = { x: left + 1, y, width: width - 2, height: Math.max(1, yIn(toUs) - yIn(fromUs)) };
          return (
            <g key={name}>
              <rect className={styles.gateRim} {...box} />
              <rect className={styles.gate} data-selected={selected} {...box} />
            </g>
          );
        })}
        <path className={styles.rim} d={[...solid, ...dashed].join('')} />
        <path className={styles.track} d={solid.join('')} />
        <path className={`${styles.track} ${styles.walking}`} d={dashed.join('')} />
        {standings.map((standing) => {
          const path = markPath(marks, standing, 3);
          return (
            path !== '' && (
              <g key={standing}>
                <path className={styles.rim} d={path} />
                <path className={styles.mark} data-standing={standing} d={path} />
              </g>
            )
          );
        })}
        {inSight.map(({ name, fromUs, selected }) => (
          <text
            key={name}
            className={styles.gateName}
            data-selected={selected}
            x={left + 8}
            y={Math.max(top + 13, top + yIn(fromUs) - 5)}
          >
            {name}
          </text>
        ))}
      </g>
      <rect className={styles.frame} x={left} y={top} width={width} height={height} />
      {peakX !== null && peakX >= left && peakX <= left + width && (
        <g>
          <path className={styles.vertex} d={`M${peakX} ${top - 7}v7m-3.5 -3.5l3.5 3.5l3.5 -3.5`} fill="none" />
          <text
            className={styles.small}
            x={peakX + (peakX > left + width / 2 ? -8 : 8)}
            y={top - 4}
            textAnchor={peakX > left + width / 2 ? 'end' : 'start'}
          >
            peak
          </text>
        </g>
      )}
      <Axis side="bottom" area={area} label={across} ticks={acrossTicks} pixelOf={xIn} />
      <Axis
        side="left"
        area={area}
        label={down.left.label}
        shortLabel={down.left.shortLabel}
        ticks={down.left.ticks}
        pixelOf={yIn}
      />
      {down.right !== null && (
        <Axis
          side="right"
          area={area}
          label={down.right.label}
          shortLabel={down.right.shortLabel}
          ticks={down.right.ticks}
          pixelOf={yIn}
        />
      )}
    </svg>
  );
});
