import { pan, type Viewport, type ViewportLimits, zoomAbout } from './viewport.ts';

/** What of the window on the strip is taken hold of. */
export type WindowPart = 'whole' | 'from' | 'to';

/** The visible window on a strip that shows the whole record, in pixels. It is never so narrow that it cannot be seen and taken hold of. */
export function windowOnStrip(
  view: Viewport,
  limits: ViewportLimits,
  widthPx: number,
): { readonly left: number; readonly width: number } {
  const perUs = widthPx / (limits.toUs - limits.fromUs);
  const width = Math.min(widthPx, Math.max(leastWindowPx, (view.toUs - view.fromUs) * perUs));
  const middle = ((view.fromUs + view.toUs) / 2 - limits.fromUs) * perUs;
  return { left: Math.min(widthPx - width, Math.max(0, middle - width / 2)), width };
}

const leastWindowPx = 6;

/** The window after a part of it was dragged from where it stood. */
export function draggedWindow(view: Viewport, part: WindowPart, byUs: number, limits: ViewportLimits): Viewport {
  if (part === 'whole') return pan(view, byUs, limits);
  if (part === 'from') {
    const fromUs = Math.max(limits.fromUs, Math.min(view.toUs - limits.shortestUs, view.fromUs + byUs));
    return { fromUs, toUs: view.toUs };
  }
  const toUs = Math.min(limits.toUs, Math.max(view.fromUs + limits.shortestUs, view.toUs + byUs));
  return { fromUs: view.fromUs, toUs };
}

/** The window with its middle at a time, as when the strip is clicked beside it. */
export function windowAbout(view: Viewport, middleUs: number, limits: ViewportLimits): Viewport {
  return pan(view, middleUs - (view.fromUs + view.toUs) / 2, limits);
}

/** Where a key takes the window: Left and Right by a tenth of it (an end: by a hundredth of the record), PageUp and PageDown by all of it, Home and End to the record's ends; + and − zoom. */
export function nudgedWindow(view: Viewport, part: WindowPart, key: string, limits: ViewportLimits): Viewport | null {
  const length = view.toUs - view.fromUs;
  const whole = limits.toUs - limits.fromUs;
  const middle = (view.fromUs + view.toUs) / 2;
  const step = part === 'whole' ? length / 10 : whole / 100;
  switch (key) {
    case 'ArrowLeft':
    case 'ArrowDown':
      return draggedWindow(view, part, -step, limits);
    case 'ArrowRight':
    case 'ArrowUp':
      return draggedWindow(view, part, step, limits);
    case 'PageDown':
      return draggedWindow(view, part, part === 'whole' ? -length : -10 * step, limits);
    case 'PageUp':
      return draggedWindow(view, part, part === 'whole' ? length : 10 * step, limits);
    case 'Home':
      return draggedWindow(view, part, -whole, limits);
    case 'End':
      return draggedWindow(view, part, whole, limits);
    case '+':
    case '=':
      return zoomAbout(view, middle, 1 / 1.5, limits);
    case '-':
    case '−':
      return zoomAbout(view, middle, 1.5, limits);
    default:
      return null;
  }
}
