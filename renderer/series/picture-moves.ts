import { type PointerEvent, useEffect, useRef } from 'react';
import { pan, type Viewport, type ViewportLimits, zoomAbout } from '../trace/viewport.ts';
import type { PlotArea } from './Axis.tsx';

interface Shown {
  readonly view: Viewport;
  readonly limits: ViewportLimits;
  onView(view: Viewport): void;
  readonly area: PlotArea | null;
}

/** The wheel zooms the axis down about the pointer. */
export function useWheelZoom(
  frame: { readonly current: HTMLDivElement | null },
  latest: {
    readonly current: Shown;
  },
): void {
  useEffect(() => {
    const over = frame.current;
    if (over === null) return;
    const until = new AbortController();
    over.addEventListener(
      'wheel',
      (event) => {
        const { view, limits, onView, area } = latest.current;
        if (area === null) return;
        event.preventDefault();
        const y = event.clientY - over.getBoundingClientRect().top - area.top;
        const share = Math.min(1, Math.max(0, y / area.height));
        const pixels = event.deltaY * ([1, 33, 400][event.deltaMode] ?? 1);
        onView(zoomAbout(view, view.fromUs + share * (view.toUs - view.fromUs), 1.2 ** (pixels / 100), limits));
      },
      { signal: until.signal, passive: false },
    );
    return () => until.abort();
  }, [frame, latest]);
}

/** A pointer that moves less than this has clicked. */
const clickPx = 4;

/** Dragging moves along the axis down; a press without a move is a click. */
export function useDrag(
  area: PlotArea | null,
  view: Viewport,
  limits: ViewportLimits,
  onView: (view: Viewport) => void,
  onClick: (event: PointerEvent) => void,
) {
  const from = useRef<{ readonly y: number; readonly x: number; readonly view: Viewport; moved: boolean } | null>(null);
  return {
    down(event: PointerEvent) {
      if (event.button !== 0) return;
      from.current = { x: event.clientX, y: event.clientY, view, moved: false };
      event.currentTarget.setPointerCapture(event.pointerId);
    },
    move(event: PointerEvent) {
      const start = from.current;
      if (start === null || area === null) return;
      const byPx = event.clientY - start.y;
      if (Math.hypot(event.clientX - start.x, byPx) >= clickPx) start.moved = true;
      if (!start.moved) return;
      const perPx = (start.view.toUs - start.view.fromUs) / area.height;
      onView(pan(start.view, -byPx * perPx, limits));
    },
    up(event: PointerEvent) {
      if (from.current !== null && !from.current.moved) onClick(event);
      from.current = null;
    },
    cancel() {
      from.current = null;
    },
  };
}
