import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react';
import type { Drawing } from '../engine/messages.ts';
import { extremaOf, paint } from './drawing.ts';
import styles from './OverviewStrip.module.css';
import { draggedWindow, nudgedWindow, type WindowPart, windowAbout, windowOnStrip } from './overview.ts';
import { timeText } from './readout.ts';
import { onThemeChange, themeColour } from './theme-colours.ts';
import type { TraceViewProps } from './trace-props.ts';
import type { Viewport, ViewportLimits } from './viewport.ts';

/** The whole record in a strip, with the visible window on it: drag the window or its ends, click beside it, or use the keys. */
export function OverviewStrip({
  overview,
  view,
  limits,
  style,
  onView,
}: Pick<TraceViewProps, 'overview' | 'view' | 'onView' | 'style'> & {
  readonly limits: ViewportLimits;
}) {
  const strip = useRef<HTMLFieldSetElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const [width, setWidth] = useState(0);
  const held = useRef<{ readonly part: WindowPart; readonly from: Viewport; readonly x: number } | null>(null);

  useEffect(() => {
    const element = strip.current;
    if (element === null) return;
    const fit = new ResizeObserver(() => setWidth(element.clientWidth));
    fit.observe(element);
    return () => fit.disconnect();
  }, []);

  useEffect(() => {
    const repaint = () => paintStrip(canvas.current, overview, limits, width);
    repaint();
    return onThemeChange(repaint);
  }, [overview, limits, width]);

  const usPerPx = width === 0 ? 0 : (limits.toUs - limits.fromUs) / width;
  const shown = windowOnStrip(view, limits, width);

  function onPointerDown(event: PointerEvent<HTMLElement>, part: WindowPart): void {
    if (event.button !== 0) return;
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    held.current = { part, from: view, x: event.clientX };
  }

  /** Beside the window: it comes to where the pointer is, and can be dragged on from there. */
  function onStripDown(event: PointerEvent<HTMLElement>): void {
    const corner = strip.current?.getBoundingClientRect().left ?? 0;
    const from = windowAbout(view, limits.fromUs + (event.clientX - corner) * usPerPx, limits);
    onView(from);
    onPointerDown(event, 'whole');
    held.current = { part: 'whole', from, x: event.clientX };
  }

  const moves = {
    onPointerMove(event: PointerEvent) {
      if (held.current === null) return;
      const { part, from, x } = held.current;
      onView(draggedWindow(from, part, (event.clientX - x) * usPerPx, limits));
    },
    onPointerUp() {
      held.current = null;
    },
    onPointerCancel() {
      held.current = null;
    },
  };

  function handle(part: WindowPart, label: string, atUs: number) {
    return {
      role: 'slider',
      tabIndex: 0,
      'aria-label': label,
      'aria-valuemin': limits.fromUs,
      'aria-valuemax': limits.toUs,
      'aria-valuenow': atUs,
      'aria-valuetext':
        part === 'whole'
          ? `${timeText(view.fromUs, view, style)} to ${timeText(view.toUs, view, style)}`
          : timeText(atUs, view, style),
      onPointerDown: (event: PointerEvent<HTMLElement>) => onPointerDown(event, part),
      onKeyDown(event: KeyboardEvent) {
        if (event.ctrlKey || event.metaKey || event.altKey) return;
        const next = nudgedWindow(view, part, event.key, limits);
        if (next === null) return;
        event.preventDefault();
        event.stopPropagation();
        onView(next);
      },
      ...moves,
    };
  }

  return (
    <fieldset className={styles.strip} ref={strip} onPointerDown={onStripDown} {...moves} aria-label="Overview">
      <canvas ref={canvas} />
      <div className={styles.shade} style={{ left: 0, width: shown.left }} />
      <div className={styles.shade} style={{ left: shown.left + shown.width, right: 0 }} />
      <div
        className={styles.window}
        style={{ left: shown.left, width: shown.width }}
        {...handle('whole', 'Visible window', view.fromUs)}
      />
      <div
        className={styles.end}
        style={{ left: shown.left }}
        {...handle('from', 'Start of the visible window', view.fromUs)}
      />
      <div
        className={styles.end}
        style={{ left: shown.left + shown.width }}
        {...handle('to', 'End of the visible window', view.toUs)}
      />
    </fieldset>
  );
}

function paintStrip(
  canvas: HTMLCanvasElement | null,
  overview: Drawing | null,
  limits: ViewportLimits,
  width: number,
): void {
  const context = canvas?.getContext('2d');
  if (canvas == null || context == null || width === 0) return;
  const height = canvas.parentElement?.clientHeight ?? 0;
  const ratio = devicePixelRatio;
  canvas.width = Math.round(width * ratio);
  canvas.height = Math.round(height * ratio);
  if (overview === null) return;
  // As high as the strip allows: it is there to find one's way, and a record of low echoes must not look empty.
  const { minimum, maximum } = extremaOf(overview);
  const room = Math.max(1, (maximum - minimum) * 0.08);
  const [low, high] = [minimum - room, maximum + room];
  context.fillStyle = context.strokeStyle = themeColour('--trace');
  paint(context, overview, {
    xOf: (timeUs) => ((timeUs - limits.fromUs) / (limits.toUs - limits.fromUs)) * canvas.width,
    yOf: (percent) => ((high - percent) / (high - low)) * canvas.height,
    strokePx: Math.max(1, Math.round(ratio)),
    pattern: [],
  });
}
