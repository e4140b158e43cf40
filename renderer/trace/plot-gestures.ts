import { type PointerEvent as ReactPointerEvent, useRef, useState } from 'react';
import type { Point } from './gate-overlay.ts';
import { type Plane, timeAtX } from './plane.ts';
import { pan, pinched, type Viewport, type ViewportLimits, wholeOf, windowBetween } from './viewport.ts';

/** What a drag on the plot is drawing at the moment, in pixels of the plot. */
export interface Band {
  readonly kind: 'window' | 'gate';
  readonly start: Point;
  readonly end: Point;
}

export interface GestureTargets {
  readonly plane: Plane;
  readonly limits: ViewportLimits;
  readonly drawingGate: boolean;
  /** The inside of the plot, from whose corner places are counted. */
  corner(): { readonly left: number; readonly top: number };
  onView(view: Viewport): void;
  onGateDrag(start: Point, end: Point): void;
}

type Gesture =
  | { readonly kind: 'pan'; readonly heldUs: number }
  | { readonly kind: 'band'; readonly band: Band }
  | { readonly kind: 'pinch'; readonly heldUs: readonly [number, number] };

/**
 * What pointers do on the plot: one drags the trace along; with Shift it draws the window to zoom into; while a gate is being drawn it draws that;
 * two pointers pinch. The moment's gesture lives here; what comes of it goes to the callbacks.
 */
export function usePlotGestures(targets: GestureTargets) {
  const gesture = useRef<Gesture | null>(null);
  const pointers = useRef(new Map<number, Point>());
  const [band, setBand] = useState<Band | null>(null);

  const place = (event: ReactPointerEvent): Point => {
    const { left, top } = targets.corner();
    return { x: event.clientX - left, y: event.clientY - top };
  };

  function begin(next: Gesture | null): void {
    gesture.current = next;
    setBand(next?.kind === 'band' ? next.band : null);
  }

  function hold(): void {
    const held = [...pointers.current.values()];
    const { plane } = targets;
    if (held.length === 2) begin({ kind: 'pinch', heldUs: [timeAtX(plane, held[0]!.x), timeAtX(plane, held[1]!.x)] });
    else if (held.length === 1) begin({ kind: 'pan', heldUs: timeAtX(plane, held[0]!.x) });
    else begin(null);
  }

  return {
    band,
    /** Takes back what is being drawn. */
    cancel(): void {
      pointers.current.clear();
      begin(null);
    },
    handlers: {
      onPointerDown(event: ReactPointerEvent<HTMLElement>) {
        // A figure or a name on the plot is pressed, not dragged; with the pointer taken here its click would never come.
        if (event.target instanceof Element && event.target.closest('button') !== null) return;
        if (event.button !== 0) return;
        const at = place(event);
        event.currentTarget.setPointerCapture(event.pointerId);
        pointers.current.set(event.pointerId, at);
        const draws = targets.drawingGate ? 'gate' : event.shiftKey ? 'window' : null;
        if (draws !== null && pointers.current.size === 1) {
          begin({ kind: 'band', band: { kind: draws, start: at, end: at } });
        } else {
          hold();
        }
      },
      onPointerMove(event: ReactPointerEvent<HTMLElement>) {
        if (!pointers.current.has(event.pointerId)) return;
        const { plane, limits, onView } = targets;
        const at = place(event);
        pointers.current.set(event.pointerId, at);
        const current = gesture.current;
        if (current?.kind === 'pan') {
          onView(pan(plane.view, current.heldUs - timeAtX(plane, at.x), limits));
        } else if (current?.kind === 'pinch') {
          const [a, b] = [...pointers.current.values()];
          onView(pinched(current.heldUs, [a!.x, b!.x], plane.widthPx, limits));
        } else if (current?.kind === 'band') {
          begin({ kind: 'band', band: { ...current.band, end: at } });
        }
      },
      onPointerUp(event: ReactPointerEvent<HTMLElement>) {
        if (!pointers.current.delete(event.pointerId)) return;
        const current = gesture.current;
        if (current?.kind === 'band') finish(current.band, targets);
        hold();
      },
      onPointerCancel(event: ReactPointerEvent<HTMLElement>) {
        pointers.current.delete(event.pointerId);
        hold();
      },
      onDoubleClick() {
        targets.onView(wholeOf(targets.limits));
      },
    },
  };
}

/** Narrower than this in pixels, a window drawn with Shift is a slip of the hand. */
const leastWindowPx = 4;

function finish({ kind, start, end }: Band, { plane, limits, onView, onGateDrag }: GestureTargets): void {
  if (kind === 'gate') onGateDrag(start, end);
  else if (Math.abs(end.x - start.x) >= leastWindowPx) {
    onView(windowBetween(timeAtX(plane, start.x), timeAtX(plane, end.x), limits));
  }
}

/** One notch of a wheel (about 100 px) changes the length by a fifth; fine wheels and touch pads change it in proportion. */
export function wheelFactor(event: WheelEvent): number {
  // A pinch on a touch pad arrives as a wheel with Ctrl and small steps.
  const finer = event.ctrlKey ? 5 : 1;
  return 1.2 ** ((finer * pixels(event.deltaY, event)) / 100);
}

export function pixels(delta: number, event: WheelEvent): number {
  return delta * ([1, 33, 400][event.deltaMode] ?? 1);
}
