import { type KeyboardEvent, useEffect, useRef, useState } from 'react';
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import type { Drawing, TraceFacts } from '../engine/messages.ts';
import { amplitudeRange } from './amplitude-range.ts';
import { CaptureFacts } from './CaptureFacts.tsx';
import { paint, shownAt } from './drawing.ts';
import { numberText, percentText, timeText } from './readout.ts';
import styles from './TraceView.module.css';
import { limitsOf, pan, timeAt, type Viewport, wholeOf, zoomAbout } from './viewport.ts';
import { viewportCommands } from './viewport-commands.ts';

interface TraceViewProps {
  readonly trace: TraceFacts;
  /** What was last computed for this trace; it may lag behind the viewport by a moment. */
  readonly drawing: Drawing | null;
  readonly view: Viewport;
  onView(view: Viewport): void;
  /** How many columns of device pixels the plot has, once that is known and whenever it changes. */
  onColumns(columns: number): void;
}

/** The trace, large: the only file that knows uPlot, which draws axes and grid and keeps the scales; the trace itself is painted from its drawing. */
export function TraceView({ trace, drawing, view, onView, onColumns }: TraceViewProps) {
  const frame = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const latest = useRef({ trace, drawing, view, onView, onColumns });
  latest.current = { trace, drawing, view, onView, onColumns };
  const [pointerUs, setPointerUs] = useState<number | null>(null);
  const limits = limitsOf(trace);

  useEffect(() => {
    const within = frame.current;
    if (within === null) return;
    const announceColumns = ({ bbox }: uPlot) => latest.current.onColumns(Math.max(1, Math.round(bbox.width)));
    const made = makePlot(within, trace, () => latest.current.drawing, announceColumns);
    plot.current = made;
    setView(made, latest.current.view);

    const fit = new ResizeObserver(() => {
      made.setSize(sizeOf(within));
      announceColumns(made);
    });
    fit.observe(within);

    const until = new AbortController();
    listen(made.over, until.signal, latest, setPointerUs);
    document.fonts.addEventListener('loadingdone', () => made.redraw(false, true), { signal: until.signal });
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => made.redraw(false, true), {
      signal: until.signal,
    });
    return () => {
      until.abort();
      fit.disconnect();
      made.destroy();
      plot.current = null;
    };
  }, [trace]);

  useEffect(() => {
    if (plot.current !== null) setView(plot.current, view);
  }, [view]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: the plot paints whatever drawing is the latest, so a new one only has to be announced
  useEffect(() => {
    plot.current?.redraw(false, false);
  }, [drawing]);

  function onKeyDown(event: KeyboardEvent) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const command = viewportCommands.find(({ keys }) => keys.includes(event.key));
    if (command === undefined) return;
    event.preventDefault();
    onView(command.run(view, limits));
  }

  const atPointer = pointerUs === null || drawing === null ? null : shownAt(drawing, pointerUs);
  return (
    <section className={styles.view} aria-label="Trace">
      <CaptureFacts trace={trace} />
      <div
        className={styles.plot}
        ref={frame}
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the plot is moved with the keyboard, so it takes the focus
        tabIndex={0}
        onKeyDown={onKeyDown}
        aria-label={`Trace ${trace.trace}: amplitude in per cent of full screen height over time in microseconds`}
        aria-describedby="trace-keys"
      />
      <div className={styles.strip}>
        <ul className={styles.moves} id="trace-keys" aria-label="Moves over the trace, with their keys">
          {viewportCommands.map((command) => (
            <li key={command.label}>
              <button type="button" onClick={() => onView(command.run(view, limits))}>
                {command.label} <kbd>{command.keyShown}</kbd>
              </button>
            </li>
          ))}
        </ul>
        <p className={styles.shown} role="status">
          Shown: {timeText(view.fromUs, view)} to {timeText(view.toUs, view)} µs
        </p>
        <p className={styles.pointer}>
          {pointerUs === null || atPointer === null ? (
            'Wheel zooms about the pointer, drag moves, double-click shows all'
          ) : (
            <>
              Pointer: <b>{timeText(pointerUs, view)} µs</b>, <b>{percentText(atPointer)}</b> FSH
            </>
          )}
        </p>
      </div>
    </section>
  );
}

function makePlot(
  frame: HTMLElement,
  trace: TraceFacts,
  drawing: () => Drawing | null,
  onSize: (plot: uPlot) => void,
): uPlot {
  const whole = wholeOf(limitsOf(trace));
  const [low, high] = amplitudeRange(trace.extremaPercent);
  const axis = {
    stroke: () => colour('--ink-soft'),
    grid: { stroke: () => colour('--line'), width: 1 },
    ticks: { stroke: () => colour('--line'), width: 1 },
    font: `13px ${colour('--typeface')}`,
    labelFont: `13px ${colour('--typeface')}`,
    labelSize: 24,
    values: (_plot: uPlot, ticks: number[]) => ticks.map((tick) => numberText(tick, decimalsOf(ticks))),
  };
  return new uPlot(
    {
      ...sizeOf(frame),
      legend: { show: false },
      cursor: { drag: { setScale: false, x: false, y: false }, points: { show: false } },
      scales: {
        x: { time: false, auto: false, range: (_plot, from, to) => [from, to] },
        y: { auto: false, range: () => [low, high] },
      },
      axes: [
        { ...axis, label: 'Time (µs)', size: 36 },
        { ...axis, label: 'Amplitude (% FSH)', size: 48 },
      ],
      series: [{}, { paths: () => null, points: { show: false } }],
      // The size also changes with the screen's pixel density, where the window moves to another screen.
      hooks: { draw: [(plot) => paintInside(plot, drawing())], setSize: [onSize] },
    },
    [
      [whole.fromUs, whole.toUs],
      [0, 0],
    ],
    frame,
  );
}

function paintInside(plot: uPlot, drawing: Drawing | null): void {
  if (drawing === null) return;
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.fillStyle = ctx.strokeStyle = colour('--trace');
  paint(ctx, drawing, {
    xOf: (timeUs) => plot.valToPos(timeUs, 'x', true),
    yOf: (percent) => plot.valToPos(percent, 'y', true),
    strokePx: Math.max(1, Math.round(1.25 * uPlot.pxRatio)),
  });
  ctx.restore();
}

/** As many decimals as neighbouring ticks need to differ. */
function decimalsOf(ticks: readonly number[]): number {
  const step = Math.abs((ticks[1] ?? 1) - (ticks[0] ?? 0));
  return Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));
}

/** Wheel, drag and double-click on the plot, and where the pointer is. */
function listen(
  over: HTMLElement,
  signal: AbortSignal,
  latest: { readonly current: Pick<TraceViewProps, 'trace' | 'view' | 'onView'> },
  onPointer: (timeUs: number | null) => void,
): void {
  let draggedFromPx: number | null = null;
  const timeOf = (event: MouseEvent) => timeAt(latest.current.view, event.offsetX, over.clientWidth);
  const limits = () => limitsOf(latest.current.trace);

  over.addEventListener(
    'wheel',
    (event) => {
      event.preventDefault();
      const { view, onView } = latest.current;
      onView(zoomAbout(view, timeOf(event), wheelFactor(event), limits()));
    },
    { signal, passive: false },
  );
  over.addEventListener(
    'pointerdown',
    (event) => {
      if (event.button !== 0) return;
      draggedFromPx = event.offsetX;
      over.setPointerCapture(event.pointerId);
    },
    { signal },
  );
  over.addEventListener(
    'pointermove',
    (event) => {
      const { view, onView } = latest.current;
      onPointer(timeOf(event));
      if (draggedFromPx === null) return;
      onView(pan(view, timeAt(view, draggedFromPx, over.clientWidth) - timeOf(event), limits()));
      draggedFromPx = event.offsetX;
    },
    { signal },
  );
  for (const end of ['pointerup', 'pointercancel'] as const) {
    over.addEventListener(end, () => (draggedFromPx = null), { signal });
  }
  over.addEventListener('pointerleave', () => onPointer(null), { signal });
  over.addEventListener('dblclick', () => latest.current.onView(wholeOf(limits())), { signal });
}

/** One notch of a wheel (about 100 px) changes the length by a fifth; fine wheels and touch pads change it in proportion. */
function wheelFactor(event: WheelEvent): number {
  const pixelsPerUnit = [1, 33, 400][event.deltaMode] ?? 1;
  return 1.2 ** ((event.deltaY * pixelsPerUnit) / 100);
}

function setView(plot: uPlot, view: Viewport): void {
  plot.setScale('x', { min: view.fromUs, max: view.toUs });
}

function sizeOf(frame: HTMLElement): { width: number; height: number } {
  return { width: Math.max(100, frame.clientWidth), height: Math.max(100, frame.clientHeight) };
}

function colour(property: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(property).trim();
}
