import { type KeyboardEvent, useMemo, useRef, useState } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { PeakCurve as Curve } from '../../core/gate/peak-curve.ts';
import type { Reading } from '../../core/gate/reading.ts';
import { type FigureStyle, figureText, figureWithUnit, unitSign } from '../../core/units/figure-style.ts';
import { EmptyState } from '../parts/EmptyState.tsx';
import { Icon } from '../parts/Icon.tsx';
import type { PlotArea } from './Axis.tsx';
import { CurveMarks, limitText, Ring } from './CurveMarks.tsx';
import { curveLayout, nearestPoint } from './curve-layout.ts';
import { markPath, standings } from './marks.ts';
import styles from './Plot.module.css';
import { placeAfterKey } from './select-by-key.ts';
import { type Standing, standingWords } from './track.ts';
import { type Size, useSize } from './use-size.ts';

export interface PeakCurveProps {
  /** Of the gate, as it is called. */
  readonly gate: string;
  /** `null`: the captures are no series, or none shows an echo; the doubts say which. */
  readonly curve: Curve | null;
  /** Of that gate, for their flags and what stands beside them. */
  readonly readings: readonly Reading[];
  readonly nameOf: (captureId: CaptureId) => string;
  /** Of the series, in sentences. */
  readonly doubts: readonly string[];
  readonly selected: CaptureId | null;
  onSelect(captureId: CaptureId): void;
  readonly style: FigureStyle;
}

/** The height of the echo in each capture over the probe's position, all at one gain: which readings stand at the peak, and which beside it. */
export function PeakCurve(props: PeakCurveProps) {
  const { curve, gate, doubts } = props;
  return (
    <section className={styles.panel} aria-label="Height against position">
      <div className={styles.head}>
        <h2>Height against position</h2>
        <span className={styles.tail}>{gate}</span>
      </div>
      {curve === null ? (
        <EmptyState title="No curve yet">
          {doubts.length > 0
            ? doubts.map((sentence) => <p key={sentence}>{sentence}</p>)
            : 'Two or more captures of one reflector, read by a gate, show here how high the echo stands at each position.'}
        </EmptyState>
      ) : (
        <Plot {...props} curve={curve} />
      )}
    </section>
  );
}

function areaIn({ width, height }: Size): PlotArea {
  return { left: 60, top: 10, width: Math.max(40, width - 72), height: Math.max(40, height - 52) };
}

function Plot(props: PeakCurveProps & { readonly curve: Curve }) {
  const { curve, readings, nameOf, doubts, selected, onSelect, style } = props;
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const area = useMemo(() => (size === null ? null : areaIn(size)), [size]);
  const [pointed, setPointed] = useState<number | null>(null);
  const byCapture = useMemo(() => new Map(readings.map((reading) => [reading.captureId, reading])), [readings]);
  const layout = useMemo(
    () => curveLayout(curve, new Map(readings.map(({ captureId, flags }) => [captureId, flags]))),
    [curve, readings],
  );
  const { points } = layout;
  const placeOf = useMemo(() => new Map(points.map(({ captureId }, i) => [captureId, i])), [points]);
  const chosen = selected === null ? null : (placeOf.get(selected) ?? null);
  const select = (place: number | null) => {
    const point = place === null ? undefined : points[place];
    if (point !== undefined) onSelect(point.captureId);
  };

  function onKeyDown(event: KeyboardEvent) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const keys = { back: 'ArrowLeft', on: 'ArrowRight', page: Math.max(2, Math.round(points.length / 20)) };
    const place = placeAfterKey(event.key, chosen, points.length, keys);
    if (place === null) return;
    event.preventDefault();
    select(place);
  }

  function placeUnder(event: { readonly clientX: number; readonly clientY: number }): number | null {
    const within = frame.current?.getBoundingClientRect();
    if (within === undefined || area === null) return null;
    const [x, y] = [event.clientX - within.left - area.left, event.clientY - within.top - area.top];
    if (x < 0 || x > area.width || y < 0 || y > area.height) return null;
    const at = layout.from + (x / area.width) * (layout.to - layout.from);
    return nearestPoint(points, at, layout.highDb - (y / area.height) * (layout.highDb - layout.lowDb));
  }

  const words = (place: number) => {
    const { captureId, at, levelDb, standing } = points[place]!;
    const below = byCapture.get(captureId)?.belowPeakDb ?? null;
    return [
      layout.placed ? `Position ${figureWithUnit(at, 'length', 2, style)}` : `Capture ${place + 1} of ${points.length}`,
      levelDb === null
        ? null
        : `${standing === 'cut-off' ? 'at least ' : ''}${figureWithUnit(levelDb, 'level', 1, style)}`,
      below === null ? null : `${figureWithUnit(below, 'level', 1, style)} below the peak`,
      standingWords[standing],
      nameOf(captureId),
    ].filter((part) => part !== null);
  };
  const shown = pointed ?? chosen;

  return (
    <>
      <div
        className={styles.plot}
        ref={frame}
        role="slider"
        tabIndex={0}
        aria-label="Captures on the curve of height against position"
        aria-valuemin={1}
        aria-valuemax={points.length}
        aria-valuenow={chosen === null ? 1 : chosen + 1}
        aria-valuetext={chosen === null ? 'no capture chosen' : words(chosen).join(', ')}
        onKeyDown={onKeyDown}
        onPointerMove={(event) => setPointed(placeUnder(event))}
        onPointerLeave={() => setPointed(null)}
        onClick={(event) => select(placeUnder(event))}
      >
        {area !== null && (
          <>
            <CurveMarks curve={curve} layout={layout} area={area} style={style} />
            {chosen !== null && <Ring area={area} layout={layout} place={chosen} kind="chosen" />}
            {pointed !== null && pointed !== chosen && (
              <Ring area={area} layout={layout} place={pointed} kind="pointed" />
            )}
          </>
        )}
      </div>
      <div className={styles.foot}>
        <p className={styles.readout}>
          {shown === null ? (
            <ResultWords curve={curve} style={style} />
          ) : (
            words(shown).map((part, i) => (i === 0 ? <b key={part}>{part}</b> : ` · ${part}`))
          )}
        </p>
        <Key shown={new Set(points.map(({ standing }) => standing))} offPeakDb={curve.offPeakDb} style={style} />
        {doubts.length > 0 && (
          // biome-ignore lint/a11y/noNoninteractiveTabindex: doubts may be longer than their place, and must be scrolled by keys that reach them
          <ul className={styles.doubts} tabIndex={0} aria-label="Doubts about the series">
            {doubts.map((sentence) => (
              <li key={sentence}>
                <Icon name="doubt" />
                {sentence}
              </li>
            ))}
          </ul>
        )}
      </div>
    </>
  );
}

/** The peak and where the curve stands within the limit, in words. */
function ResultWords({ curve, style }: { readonly curve: Curve; readonly style: FigureStyle }) {
  const { parabola, withinLimit, peakDb, peakIsLowerBound, offPeakDb } = curve;
  const level = figureWithUnit(peakDb, 'level', 1, style);
  if (parabola === null || withinLimit === null)
    return (
      <>
        {peakIsLowerBound ? 'The peak is at least ' : 'Highest reading '}
        <b>{level}</b>
        {peakIsLowerBound && ' high'}
      </>
    );
  const [from, to] = [withinLimit.fromMm, withinLimit.toMm].map((at) => figureText(at, 'length', 1, style));
  return (
    <>
      Fitted peak <b>{level}</b> at <b>{figureWithUnit(parabola.positionMm, 'length', 2, style)}</b>; within{' '}
      {limitText(offPeakDb, style)} from {from} to {to} {unitSign('length', style)}
    </>
  );
}

/** What the shapes mean, of those in sight. */
function Key({
  shown,
  offPeakDb,
  style,
}: {
  readonly shown: ReadonlySet<Standing>;
  readonly offPeakDb: number;
  readonly style: FigureStyle;
}) {
  const words: Record<Standing, string> = {
    ...standingWords,
    'at-peak': `within ${limitText(offPeakDb, style)} of the peak`,
  };
  return (
    <ul className={styles.key} aria-label="Marks">
      {standings
        .filter((standing) => shown.has(standing))
        .map((standing) => (
          <li key={standing}>
            <svg width="16" height="18" aria-hidden="true">
              <path
                className={styles.mark}
                data-standing={standing}
                d={markPath([{ x: 8, y: standing === 'cut-off' ? 15 : 9, standing }], standing)}
              />
            </svg>
            {words[standing]}
          </li>
        ))}
    </ul>
  );
}
