import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react';
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { grouped } from '../parts/grouped.ts';
import { amplitudeRange } from './amplitude-range.ts';
import { CursorLayer } from './CursorLayer.tsx';
import { areSet, cursorsIn, noCursors } from './cursors.ts';
import { EchoLayer } from './EchoLayer.tsx';
import { GateLayer } from './GateLayer.tsx';
import { drawnGate, placedGate } from './gate-overlay.ts';
import { Legend } from './Legend.tsx';
import { distanceWordsBoxes, HighlightMark, ReflectorMarks, stretchWordsBox } from './MarkLayer.tsx';
import { OverviewStrip } from './OverviewStrip.tsx';
import { type PlotCanvas, paintTraces } from './paint-traces.ts';
import { pathAxisLabel, pathTicks, timeTickTexts } from './path-axis.ts';
import { isLaidOut, type Plane } from './plane.ts';
import { type Band, pixels, usePlotGestures, wheelFactor } from './plot-gestures.ts';
import { TraceReadout } from './TraceReadout.tsx';
import styles from './TraceView.module.css';
import { onThemeChange, themeColour } from './theme-colours.ts';
import type { TraceViewProps } from './trace-props.ts';
import { limitsOfAll, pan, timeAt, type Viewport, windowToSee, zoomAbout } from './viewport.ts';
import { viewportCommands } from './viewport-commands.ts';

/** The inside of the plot within its frame, in CSS pixels. */
interface Area {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

const noArea: Area = { left: 0, top: 0, width: 0, height: 0 };

/**
 * The trace, large, with all that stands on it. The only file that knows uPlot, which draws axes and grid and keeps the scales; the traces are painted
 * from their drawings, and gates, echoes, cursors and marks lie over them as elements that can be reached by pointer and keyboard.
 */
export function TraceView(props: TraceViewProps) {
  const { traces, view, onView, mode, calibration, style, highlight, cursors, onCursors, drawingGate } = props;
  const frame = useRef<HTMLDivElement>(null);
  const stage = useRef<HTMLDivElement>(null);
  const layers = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const [area, setArea] = useState(noArea);
  const [pointerUs, setPointerUs] = useState<number | null>(null);
  const first = traces[0];
  const limits = useLimits(traces);
  const [lowPercent, highPercent] = amplitudeRange(
    traces.map((trace) => trace.extremaPercent),
    mode,
  );
  const latest = useRef({ ...props, limits, lowPercent, highPercent });
  latest.current = { ...props, limits, lowPercent, highPercent };
  const hasPath = calibration !== null;

  useEffect(() => {
    const within = frame.current;
    if (within === null) return;
    const laidOut = (of: uPlot) => {
      setArea(areaOf(of));
      latest.current.onColumns(Math.max(1, Math.round(of.bbox.width)));
    };
    const made = makePlot(within, latest, hasPath, laidOut);
    plot.current = made;
    laidOut(made);
    const fit = new ResizeObserver(() => made.setSize(sizeOf(within)));
    fit.observe(within);
    const stopListening = onThemeChange(() => made.redraw(false, true));
    return () => {
      stopListening();
      fit.disconnect();
      made.destroy();
      plot.current = null;
    };
  }, [hasPath]);

  useEffect(() => {
    plot.current?.setScale('x', { min: view.fromUs, max: view.toUs });
  }, [view]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: the plot paints whatever is the latest, so a change only has to be announced
  useEffect(() => {
    plot.current?.setScale('y', { min: lowPercent, max: highPercent });
    plot.current?.redraw(false, true);
  }, [traces, mode, style, calibration, lowPercent, highPercent]);

  useEffect(() => {
    const { view: seen, limits: within, onView: see, traces: shown } = latest.current;
    const record = shown[0];
    if (highlight === null || record === undefined) return;
    const timeOf = (sample: number) => record.startUs + sample * record.stepUs;
    const next = windowToSee(seen, { fromUs: timeOf(highlight.first), toUs: timeOf(highlight.last) }, within);
    if (next !== seen) see(next);
  }, [highlight]);

  // Wherever it was asked for: Enter and Escape are for the plot now.
  useEffect(() => {
    if (drawingGate) frame.current?.focus({ preventScroll: true });
  }, [drawingGate]);

  // React listens to wheels passively, and a passive listener cannot keep the page from scrolling.
  useEffect(() => {
    const element = stage.current;
    if (element === null) return;
    const onWheel = (event: WheelEvent) => {
      event.preventDefault();
      const { view: seen, limits: within, onView: see } = latest.current;
      const inside = layers.current?.getBoundingClientRect();
      if (inside === undefined || inside.width === 0) return;
      const anchorUs = timeAt(seen, event.clientX - inside.left, inside.width);
      const sideways = event.shiftKey && event.deltaX === 0 ? event.deltaY : event.deltaX;
      if (event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY)) {
        see(pan(seen, (pixels(sideways, event) / inside.width) * (seen.toUs - seen.fromUs), within));
      } else {
        see(zoomAbout(seen, anchorUs, wheelFactor(event), within));
      }
    };
    element.addEventListener('wheel', onWheel, { passive: false });
    return () => element.removeEventListener('wheel', onWheel);
  }, []);

  const plane: Plane = useMemo(
    () => ({ widthPx: area.width, heightPx: area.height, view, lowPercent, highPercent }),
    [area.width, area.height, view, lowPercent, highPercent],
  );
  const stretch =
    highlight === null || first === undefined ? null : stretchWordsBox({ range: highlight, record: first }, plane);
  const words = [...distanceWordsBoxes(props.reflectors, plane, style), ...(stretch === null ? [] : [stretch])];
  const gestures = usePlotGestures({
    plane,
    limits,
    drawingGate,
    corner: () => layers.current?.getBoundingClientRect() ?? noArea,
    onView,
    onGateDrag(start, end) {
      const gate = drawnGate(start, end, plane, props.gates, calibration, style);
      if (gate === null) return;
      props.onDrawingGate(false);
      props.onGateDrawn(gate);
    },
  });

  function onKeyDown(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const command = viewportCommands.find(({ keys }) => keys.includes(event.key));
    if (command !== undefined) onView(command.run(view, limits));
    else if (event.key === 'g' || event.key === 'G') props.onDrawingGate(!drawingGate);
    else if (event.key === 'c' || event.key === 'C') onCursors(areSet(cursors) ? noCursors : cursorsIn(view));
    else if (event.key === 'Enter' && drawingGate) {
      props.onDrawingGate(false);
      props.onGateDrawn(placedGate(plane, props.gates, calibration, style));
    } else if (event.key === 'Escape' && drawingGate) {
      gestures.cancel();
      props.onDrawingGate(false);
    } else return;
    event.preventDefault();
  }

  if (first === undefined) return null;
  return (
    <div className={styles.view}>
      <Legend traces={traces} />
      <div
        className={styles.stage}
        ref={stage}
        data-drawing={drawingGate || undefined}
        {...gestures.handlers}
        onPointerMoveCapture={(event) => {
          const inside = layers.current?.getBoundingClientRect();
          if (inside === undefined) return;
          const x = event.clientX - inside.left;
          setPointerUs(x < 0 || x > inside.width ? null : timeAt(view, x, inside.width));
        }}
        onPointerLeave={() => setPointerUs(null)}
      >
        <div
          className={styles.plot}
          ref={frame}
          role="application"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: the plot is moved with the keyboard, so it takes the focus
          tabIndex={0}
          onKeyDown={onKeyDown}
          aria-label={`Trace ${first.title}: amplitude in per cent of full screen height over time${hasPath ? ' and sound path' : ''}`}
          aria-describedby="trace-keys"
        />
        <div
          className={styles.layers}
          ref={layers}
          style={{ left: area.left, top: area.top, width: area.width, height: area.height }}
        >
          {isLaidOut(plane) && (
            <>
              {props.awaited && (
                <p className={styles.awaited} role="status">
                  <span>{grouped(first.sampleCount)} samples are being worked through …</span>
                </p>
              )}
              {highlight !== null && <HighlightMark range={highlight} record={first} plane={plane} style={style} />}
              <ReflectorMarks reflectors={props.reflectors} plane={plane} style={style} />
              <GateLayer
                {...props}
                plane={plane}
                words={words}
                onGone={() => frame.current?.focus()}
                onReveal={(stretch) => onView(windowToSee(view, stretch, limits))}
              />
              <EchoLayer {...props} plane={plane} />
              <CursorLayer {...props} plane={plane} limits={limits} stepUs={first.stepUs} />
              {gestures.band !== null && <BandMark band={gestures.band} height={area.height} />}
            </>
          )}
        </div>
      </div>
      <div className={styles.below} style={{ marginLeft: area.left }}>
        <OverviewStrip {...props} limits={limits} />
      </div>
      <TraceReadout {...props} limits={limits} pointerUs={pointerUs} />
      <p hidden id="trace-keys">
        Plus and minus zoom, the arrow keys move, Home and End go to the ends, 0 shows all, G draws a gate, C sets two
        cursors.
      </p>
      <p hidden id="gate-keys">
        The arrow keys move the gate and change its threshold, with Shift in large steps, with Alt they move its end;
        Enter goes to its numbers, Delete removes it.
      </p>
    </div>
  );
}

/** What is being drawn with the pointer held down. */
function BandMark({ band: { kind, start, end }, height }: { readonly band: Band; readonly height: number }) {
  const left = Math.min(start.x, end.x);
  const width = Math.abs(end.x - start.x);
  return kind === 'window' ? (
    <div className={styles.drawnWindow} style={{ left, width, height }} />
  ) : (
    <div className={styles.drawnGate} style={{ left, width, top: end.y }} />
  );
}

/** The limits as one value for as long as the records are the same ones, so that nothing is painted anew without a reason. */
function useLimits(traces: TraceViewProps['traces']) {
  const { fromUs, toUs, shortestUs } = limitsOfAll(traces);
  return useMemo(() => ({ fromUs, toUs, shortestUs }), [fromUs, toUs, shortestUs]);
}

type Latest = {
  readonly current: TraceViewProps & {
    readonly limits: Viewport;
    readonly lowPercent: number;
    readonly highPercent: number;
  };
};

function makePlot(frame: HTMLElement, latest: Latest, hasPath: boolean, laidOut: (plot: uPlot) => void): uPlot {
  const font = `12px ${themeColour('--typeface')}`;
  const axis = {
    stroke: () => themeColour('--ink-soft'),
    grid: { stroke: () => themeColour('--line'), width: 1 },
    ticks: { stroke: () => themeColour('--line'), width: 1, size: 5 },
    font,
    labelFont: font,
    labelSize: 18,
    labelGap: 0,
    gap: 3,
  };
  const ticksOfPath = ({ bbox }: uPlot) => {
    const { view, calibration, style } = latest.current;
    return calibration === null ? [] : pathTicks(view, bbox.width / uPlot.pxRatio, calibration, style);
  };
  const { view, lowPercent, highPercent } = latest.current;
  return new uPlot(
    {
      ...sizeOf(frame),
      padding: [hasPath ? 0 : 8, 12, 0, 0],
      legend: { show: false },
      cursor: {
        drag: { setScale: false, x: false, y: false },
        points: { show: false },
        bind: { dblclick: () => null },
      },
      scales: {
        x: { time: false, auto: false, min: view.fromUs, max: view.toUs, range: (_plot, from, to) => [from, to] },
        y: { auto: false, min: lowPercent, max: highPercent, range: (_plot, from, to) => [from, to] },
      },
      axes: [
        {
          ...axis,
          label: 'Time (µs)',
          size: 24,
          space: 72,
          values: (_plot, ticks) => timeTickTexts(ticks, latest.current.style),
        },
        {
          ...axis,
          label: 'Amplitude (% FSH)',
          size: 38,
          space: 28,
          incrs: [10, 20, 25, 50, 100, 200, 500, 1000, 10_000, 100_000],
          values: (_plot, ticks) => timeTickTexts(ticks, latest.current.style),
        },
        {
          ...axis,
          show: hasPath,
          scale: 'x',
          side: 0,
          label: () => pathAxisLabel(latest.current.style),
          size: 24,
          grid: { show: false },
          splits: (of) => ticksOfPath(of).map(({ timeUs }) => timeUs),
          values: (of) => ticksOfPath(of).map(({ text }) => text),
        },
      ],
      series: [{}, { paths: () => null, points: { show: false } }],
      // The size also changes with the screen's pixel density, where the window moves to another screen.
      hooks: { draw: [(of) => paintTraces(canvasOf(of), latest.current)], setSize: [laidOut] },
    },
    [
      [view.fromUs, view.toUs],
      [0, 0],
    ],
    frame,
  );
}

function canvasOf(plot: uPlot): PlotCanvas {
  return {
    context: plot.ctx,
    inside: plot.bbox,
    pixelRatio: uPlot.pxRatio,
    xOf: (timeUs) => plot.valToPos(timeUs, 'x', true),
    yOf: (percent) => plot.valToPos(percent, 'y', true),
  };
}

function areaOf({ bbox }: uPlot): Area {
  const ratio = uPlot.pxRatio;
  return { left: bbox.left / ratio, top: bbox.top / ratio, width: bbox.width / ratio, height: bbox.height / ratio };
}

function sizeOf(frame: HTMLElement): { width: number; height: number } {
  return { width: Math.max(100, frame.clientWidth), height: Math.max(100, frame.clientHeight) };
}
