import type { Viewport, ViewportLimits } from './viewport.ts';

/** Two cursors that a person puts on the trace, in µs; `null` where one is not set. */
export interface Cursors {
  readonly firstUs: number | null;
  readonly secondUs: number | null;
}

export const noCursors: Cursors = { firstUs: null, secondUs: null };

export type CursorName = 'first' | 'second';

export const cursorNames: readonly CursorName[] = ['first', 'second'];

export function areSet({ firstUs, secondUs }: Cursors): boolean {
  return firstUs !== null || secondUs !== null;
}

export function cursorTime(cursors: Cursors, name: CursorName): number | null {
  return name === 'first' ? cursors.firstUs : cursors.secondUs;
}

/** Both cursors in view, at a third and two thirds of it. */
export function cursorsIn({ fromUs, toUs }: Viewport): Cursors {
  const third = (toUs - fromUs) / 3;
  return { firstUs: fromUs + third, secondUs: toUs - third };
}

/** A cursor put at a time; it stays on the record. */
export function withCursor(cursors: Cursors, name: CursorName, timeUs: number, limits: ViewportLimits): Cursors {
  const at = Math.min(limits.toUs, Math.max(limits.fromUs, timeUs));
  return name === 'first' ? { ...cursors, firstUs: at } : { ...cursors, secondUs: at };
}

/** Where a key takes a cursor: Left and Right by one sample, with Shift by a fiftieth of what is shown. `null` for any other key. */
export function nudgedCursor(
  timeUs: number,
  { key, shiftKey }: { readonly key: string; readonly shiftKey: boolean },
  stepUs: number,
  view: Viewport,
): number | null {
  const way = { ArrowLeft: -1, ArrowRight: 1 }[key];
  if (way === undefined) return null;
  return timeUs + way * (shiftKey ? (view.toUs - view.fromUs) / 50 : stepUs);
}
