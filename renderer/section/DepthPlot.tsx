import { type KeyboardEvent, type PointerEvent, useEffect, useId, useMemo, useRef, useState } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { SampleRange } from '../../core/capture/waveform.ts';
import { lineBetween } from '../../core/drawing/depth-extents.ts';
import { cellAtPlace, highestCell, type MeasuredCell } from '../../core/drawing/depth-picture.ts';
import type { DepthAcross, DepthScan } from '../../core/drawing/depth-scan.ts';
import { figureWithUnit } from '../../core/units/figure-style.ts';
import type { PlotArea } from '../series/Axis.tsx';
import type { Scheme } from '../series/colour-map.ts';
import { PictureDoubts } from '../series/PictureDoubts.tsx';
import plot from '../series/Plot.module.css';
import type { Scale } from '../series/shading.ts';
import { type Size, useSize } from '../series/use-size.ts';
import { DepthImage } from './DepthImage.tsx';
import { DepthLegend } from './DepthLegend.tsx';
import { DepthMarks } from './DepthMarks.tsx';
import type { DepthPictureProps } from './DepthPicture.tsx';
import { DepthReadout } from './DepthReadout.tsx';
import { type CrossMove, crossMoves, movedCross } from './depth-cross.ts';
import type { DepthAsked } from './depth-image.ts';
import {
  type DepthView,
  gridOf,
  movedDepth,
  type PointedPlace,
  pixelAcross,
  pixelDown,
  placeAtPixel,
  weldView,
  wholeView,
  zoomedDepth,
} from './depth-view.ts';
import styles from './Section.module.css';

interface DepthPlotProps extends DepthPictureProps {
  readonly scan: DepthScan;
  readonly across: DepthAcross;
  readonly onlyLeg: number | null;
  readonly scale: Scale;
  readonly scheme: Scheme;
  /** `null`: as the person has moved it. */
  readonly fit: DepthFit | null;
  readonly onFit: (fit: DepthFit | null) => void;
}

/** All that was scanned, or about the weld. */
export type DepthFit = 'whole' | 'weld';

function areaIn({ width, height }: Size): PlotArea {
  return { left: 60, top: 8, width: Math.max(40, width - 72), height: Math.max(40, height - 50) };
}

const zoomStep = 1.5;
const clickPx = 4;
/** With Shift an arrow moves the cross so much farther. */
const farther = 5;
/** So much of the trace to either side of the sample is marked: a few periods of its carrier. */
const markedUs = 0.4;

/** The picture itself: what moves it, what lies under the pointer or the cross, and what a click chooses. */
export function DepthPlot(props: DepthPlotProps) {
  const { scan, across, onlyLeg, scale, scheme, shown, onImage, problems, outline, extents } = props;
  const { selected, onSelect, indication, nameOf, fit, onFit, style } = props;
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const area = useMemo(() => (size === null ? null : areaIn(size)), [size]);
  const hintId = useId();
  const whole = useMemo(
    () => (area === null ? null : wholeView(scan, across, outline, area)),
    [scan, across, outline, area],
  );
  const [own, setOwn] = useState<{ readonly view: DepthView; readonly of: DepthView } | null>(null);
  const fitted = useMemo(
    () => (area === null ? null : ((fit === 'weld' ? weldView(scan, across, outline, area) : null) ?? whole)),
    [fit, scan, across, outline, area, whole],
  );
  const view = fit === null && own !== null && own.of === whole ? own.view : fitted;
  const setView = (next: DepthView) => {
    if (whole === null) return;
    setOwn({ view: next, of: whole });
    onFit(null);
  };
  const [pointed, setPointed] = useState<PointedPlace | null>(null);
  const [cross, setCross] = useState<PointedPlace | null>(null);

  const asked = useMemo(
    (): DepthAsked | null =>
      area === null || view === null
        ? null
        : {
            scan,
            across,
            onlyLeg,
            view,
            grid: gridOf(view, area, window.devicePixelRatio, scan.finestMm),
          },
    [scan, across, onlyLeg, view, area],
  );
  const tell = useRef(onImage);
  tell.current = onImage;
  useEffect(() => {
    if (asked !== null) tell.current(asked);
  }, [asked]);
  // What was asked of other captures, or by another axis, is another picture; one of another part of the same is stretched until the new one is there.
  const drawn = shown !== null && shown.asked.scan === scan && shown.asked.across === across ? shown : null;
  const cellAt = (at: PointedPlace | null): MeasuredCell | null =>
    at === null || drawn === null ? null : cellAtPlace(drawn.picture, at.acrossMm, at.depthMm);

  const latest = useRef({ view, area, whole, scan, setView });
  latest.current = { view, area, whole, scan, setView };
  useEffect(() => {
    const over = frame.current;
    if (over === null) return;
    const until = new AbortController();
    over.addEventListener(
      'wheel',
      (event) => {
        const now = latest.current;
        if (now.area === null || now.view === null || now.whole === null) return;
        event.preventDefault();
        const within = over.getBoundingClientRect();
        const about = placeAtPixel(event.clientX - within.left, event.clientY - within.top, now.view, now.area);
        if (about === null) return;
        const pixels = event.deltaY * ([1, 33, 400][event.deltaMode] ?? 1);
        now.setView(zoomedDepth(now.view, about, 1.2 ** (pixels / 100), now.whole, now.scan.finestMm));
      },
      { signal: until.signal, passive: false },
    );
    return () => until.abort();
  }, []);

  const memberAt = useMemo(() => new Map(scan.members.map((member) => [member.capture.captureId, member])), [scan]);
  const chosen = selected === null ? null : (memberAt.get(selected) ?? null);

  function choose(cell: MeasuredCell | null): void {
    const member = cell === null ? undefined : scan.members[cell.capture];
    if (cell === null || member === undefined || drawn === null) return;
    const { samples, stepUs } = member.capture;
    const spare = Math.max(2, Math.round(markedUs / stepUs));
    onSelect(member.capture.captureId, {
      first: Math.max(0, cell.sample - spare),
      last: Math.min(samples - 1, cell.sample + spare),
    });
  }

  function onKeyDown(event: KeyboardEvent) {
    if (event.ctrlKey || event.metaKey || event.altKey || view === null || whole === null) return;
    const move = crossMoves[event.key];
    const middle = { acrossMm: (view.fromMm + view.toMm) / 2, depthMm: (view.topMm + view.bottomMm) / 2 };
    if (move !== undefined) moveCross(move, event.shiftKey ? farther : 1);
    else if (event.key === 'Home') toHighest();
    else if (event.key === 'Enter' || event.key === ' ') choose(cellAt(cross));
    else if (event.key === 'Escape' && cross !== null) setCross(null);
    else if (event.key === '+' || event.key === '=')
      setView(zoomedDepth(view, cross ?? middle, 1 / zoomStep, whole, scan.finestMm));
    else if (event.key === '-' || event.key === '−')
      setView(zoomedDepth(view, cross ?? middle, zoomStep, whole, scan.finestMm));
    else if (event.key === '0') onFit('whole');
    else return;
    event.preventDefault();
  }

  function toHighest(): void {
    const cell = drawn === null ? null : highestCell(drawn.picture);
    if (cell === null) return;
    const station = scan.members[cell.capture]?.station.at;
    const acrossMm = across === 'position' && station !== undefined ? station : cell.acrossMm;
    setCross({ acrossMm, depthMm: cell.depthMm });
  }

  function moveCross(move: CrossMove, times: number): void {
    if (view === null || whole === null) return;
    const from = cross ?? {
      acrossMm: chosen !== null && across === 'position' ? chosen.station.at : (view.fromMm + view.toMm) / 2,
      depthMm: (view.topMm + view.bottomMm) / 2,
    };
    const next = movedCross(from, move, times, { scan, across, view, whole });
    setCross(next.cross);
    if (next.view !== view) setView(next.view);
  }

  const pixelsOf = (event: PointerEvent) => {
    const within = frame.current!.getBoundingClientRect();
    return { x: event.clientX - within.left, y: event.clientY - within.top };
  };
  const drag = useRef<{ readonly x: number; readonly y: number; readonly view: DepthView; moved: boolean } | null>(
    null,
  );
  const told = pointed ?? cross;
  const count = scan.members.length;

  return (
    <>
      <div
        ref={frame}
        className={`${plot.plot} ${plot.zoomable} ${styles.plot}`}
        role="application"
        aria-label={`Picture by true depth of ${count} ${count === 1 ? 'capture' : 'captures'}, ${across === 'position' ? 'over the position of the probe' : 'across the weld'}`}
        aria-describedby={hintId}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the picture is looked at with the keyboard, so it takes the focus
        tabIndex={0}
        onKeyDown={onKeyDown}
        onPointerDown={(event) => {
          if (event.button !== 0 || view === null) return;
          drag.current = { ...pixelsOf(event), view, moved: false };
          event.currentTarget.setPointerCapture(event.pointerId);
        }}
        onPointerMove={(event) => {
          const { x, y } = pixelsOf(event);
          const from = drag.current;
          if (area === null || view === null || whole === null) return;
          if (from === null) return setPointed(placeAtPixel(x, y, view, area));
          if (!from.moved && Math.hypot(x - from.x, y - from.y) < clickPx) return;
          from.moved = true;
          setPointed(null);
          const [perX, perY] = [
            (from.view.toMm - from.view.fromMm) / area.width,
            (from.view.bottomMm - from.view.topMm) / area.height,
          ];
          setView(movedDepth(from.view, (from.x - x) * perX, (from.y - y) * perY, whole));
        }}
        onPointerUp={(event) => {
          const from = drag.current;
          drag.current = null;
          if (from === null || from.moved || view === null || area === null) return;
          const { x, y } = pixelsOf(event);
          const at = placeAtPixel(x, y, view, area);
          setCross(at);
          choose(cellAt(at));
        }}
        onPointerCancel={() => {
          drag.current = null;
        }}
        onPointerLeave={() => setPointed(null)}
        onDoubleClick={() => onFit('whole')}
      >
        {area !== null && view !== null && (
          <>
            <DepthImage area={area} view={view} shown={drawn} scale={scale} scheme={scheme} />
            <DepthMarks {...{ area, view, scan, across, outline, extents, indication, style }} />
            <svg width="100%" height="100%" aria-hidden="true">
              {chosen !== null && (
                <path
                  className={styles.ray}
                  d={wayOf(chosen, scan, across, view, area)}
                  clipPath={`url(#${hintId}-in)`}
                />
              )}
              <clipPath id={`${hintId}-in`}>
                <rect x={area.left} y={area.top} width={area.width} height={area.height} />
              </clipPath>
              {cross !== null && <Cross at={cross} view={view} area={area} />}
            </svg>
          </>
        )}
        {drawn === null && problems.length === 0 && (
          <p className={plot.waiting} role="status">
            Laying out {count} captures …
          </p>
        )}
      </div>
      <div className={plot.foot}>
        <p className={`${plot.readout} ${styles.readout}`} aria-live={pointed === null ? 'polite' : 'off'}>
          {told === null ? (
            <span className={styles.about} title={aboutPicture(props)}>
              {aboutPicture(props)} Click, or arrows and Enter, choose a capture.
            </span>
          ) : (
            <DepthReadout at={told} cell={cellAt(told)} {...{ scan, across, nameOf, style }} />
          )}
          <span id={hintId} hidden>
            The arrows move a cross, with Shift farther, Home puts it on the highest place, Enter chooses its capture
            and marks the sample, + and − zoom, 0 shows all
          </span>
        </p>
        <DepthLegend scale={scale} scheme={scheme} legs={onlyLeg === null ? scan.legs : [onlyLeg]} style={style} />
        <PictureDoubts problems={problems} />
      </div>
    </>
  );
}

/** Where the samples of the chosen capture are drawn: its position, or its beam by its skips. */
function wayOf(
  member: DepthScan['members'][number],
  { paths, thicknessMm, legs }: DepthScan,
  across: DepthAcross,
  view: DepthView,
  area: PlotArea,
): string {
  if (across === 'position') {
    const x = pixelAcross(member.station.at, view, area);
    return `M${x} ${pixelDown(0, view, area)}V${pixelDown(thicknessMm, view, area)}`;
  }
  if (member.index === null) return '';
  const perLeg = thicknessMm / Math.cos((member.beam.angleDeg.value * Math.PI) / 180);
  const line = lineBetween(paths?.fromMm ?? 0, paths?.toMm ?? perLeg * legs.length, member);
  return `M${line.map(({ acrossMm, depthMm }) => `${pixelAcross(acrossMm, view, area)} ${pixelDown(depthMm, view, area)}`).join('L')}`;
}

function Cross({ at, view, area }: { readonly at: PointedPlace; readonly view: DepthView; readonly area: PlotArea }) {
  const [x, y] = [pixelAcross(at.acrossMm, view, area), pixelDown(at.depthMm, view, area)];
  if (x < area.left || x > area.left + area.width || y < area.top || y > area.top + area.height) return null;
  const d = `M${x - 11} ${y}h8m6 0h8M${x} ${y - 11}v8m0 6v8`;
  return (
    <>
      <path className={styles.crosshairRim} d={d} />
      <path className={styles.crosshair} d={d} />
    </>
  );
}

/** What a person must know to read the picture. */
function aboutPicture({ scan, style, across }: DepthPlotProps): string {
  const { gainDb, paths, stepMm } = scan;
  const length = (mm: number) => figureWithUnit(mm, 'length', 1, style);
  return [
    'Drawn on the beam’s axis: an echo looks as wide as the beam.',
    gainDb === null ? 'Heights as captured.' : `Heights at ${figureWithUnit(gainDb, 'level', 1, style)}.`,
    paths === null ? '' : `Sound paths ${length(paths.fromMm)} to ${length(paths.toMm)}.`,
    across === 'position' ? `A capture stands for up to ${length(stepMm)}.` : '',
    ...scan.remarks,
  ]
    .filter((words) => words !== '')
    .join(' ');
}

export type OnSelectSample = (captureId: CaptureId, range: SampleRange) => void;
