import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { figureWithUnit } from '../../core/units/figure-style.ts';
import styles from './CursorLayer.module.css';
import { type CursorName, cursorNames, cursorTime, nudgedCursor, withCursor } from './cursors.ts';
import { type Plane, usPerPx, xOf } from './plane.ts';
import { pathText, timeText } from './readout.ts';
import type { TraceViewProps } from './trace-props.ts';
import type { ViewportLimits } from './viewport.ts';

type CursorLayerProps = Pick<TraceViewProps, 'cursors' | 'onCursors' | 'cursorPercents' | 'calibration' | 'style'> & {
  readonly plane: Plane;
  readonly limits: ViewportLimits;
  readonly stepUs: number;
};

/** The two movable cursors: a line each, with a tab at the top to take hold of. */
export function CursorLayer(props: CursorLayerProps) {
  return (
    <div className={styles.layer}>
      {cursorNames.map((name) => (
        <Cursor key={name} name={name} {...props} />
      ))}
    </div>
  );
}

function Cursor({
  name,
  cursors,
  onCursors,
  cursorPercents,
  calibration,
  style,
  plane,
  limits,
  stepUs,
}: CursorLayerProps & { readonly name: CursorName }) {
  const held = useRef<{ readonly x: number; readonly timeUs: number } | null>(null);
  const timeUs = cursorTime(cursors, name);
  if (timeUs === null) return null;
  const x = xOf(plane, timeUs);
  const put = (at: number) => onCursors(withCursor(cursors, name, at, limits));

  function onPointerDown(event: PointerEvent<HTMLElement>): void {
    if (event.button !== 0 || timeUs === null) return;
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    held.current = { x: event.clientX, timeUs };
  }

  function onPointerMove(event: PointerEvent): void {
    if (held.current === null) return;
    put(held.current.timeUs + (event.clientX - held.current.x) * usPerPx(plane));
  }

  function letGo(): void {
    held.current = null;
  }

  function onKeyDown(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey || timeUs === null) return;
    const next = nudgedCursor(timeUs, event, stepUs, plane.view);
    if (next === null) return;
    event.preventDefault();
    event.stopPropagation();
    put(next);
  }

  const words = [
    timeText(timeUs, plane.view, style),
    pathText(timeUs, plane.view, calibration, style),
    figureWithUnit(cursorPercents[name], 'percent', 1, style),
  ].filter((part) => part !== null);
  return (
    <div
      className={styles.cursor}
      data-name={name}
      // Out of view it keeps its place in the order of the Tab key, at the edge beyond which it stands.
      style={{ left: x < 0 || x > plane.widthPx ? Math.min(plane.widthPx - 9, Math.max(9, x)) : x }}
      data-beyond={x < 0 || x > plane.widthPx || undefined}
      role="slider"
      tabIndex={0}
      aria-label={name === 'first' ? 'Cursor 1' : 'Cursor 2'}
      aria-valuenow={timeUs}
      aria-valuemin={limits.fromUs}
      aria-valuemax={limits.toUs}
      aria-valuetext={words.join(', ')}
      onPointerDown={onPointerDown}
      onPointerMove={onPointerMove}
      onPointerUp={letGo}
      onPointerCancel={letGo}
      onDoubleClick={(event) => event.stopPropagation()}
      onKeyDown={onKeyDown}
    >
      <span className={styles.tab}>{name === 'first' ? 1 : 2}</span>
    </div>
  );
}
