import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import styles from './Separator.module.css';

/** The line between two parts of the page: dragged by the pointer, moved by the arrow keys (Shift: further), to its ends by Home and End. */
export function Separator({
  label,
  orientation,
  value,
  least,
  most,
  step,
  grows,
  unit,
  onChange,
}: {
  readonly label: string;
  /** Of the line itself: `vertical` stands between left and right. */
  readonly orientation: 'vertical' | 'horizontal';
  /** Width or height of the part that it belongs to. */
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly step: number;
  /** Which way the line moves when that part grows. */
  readonly grows: 'right' | 'left' | 'up';
  /** How much the value changes for one pixel. */
  readonly unit: () => number;
  readonly onChange: (value: number) => void;
}) {
  const from = useRef<{ readonly at: number; readonly value: number } | null>(null);
  const sign = grows === 'right' ? 1 : -1;
  const place = (event: PointerEvent): number => (orientation === 'vertical' ? event.clientX : event.clientY);

  function move(event: PointerEvent): void {
    if (from.current === null) return;
    onChange(from.current.value + sign * (place(event) - from.current.at) * unit());
  }

  function press(event: KeyboardEvent): void {
    const [less, more] =
      orientation === 'horizontal'
        ? ['ArrowDown', 'ArrowUp']
        : grows === 'right'
          ? ['ArrowLeft', 'ArrowRight']
          : ['ArrowRight', 'ArrowLeft'];
    const by = event.shiftKey ? 4 * step : step;
    const next = { [less]: value - by, [more]: value + by, Home: least, End: most }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    onChange(Math.min(most, Math.max(least, next)));
  }

  return (
    // biome-ignore lint/a11y/useSemanticElements: an <hr> cannot be moved; this is the window splitter of the ARIA practices
    <div
      className={styles[orientation]}
      role="separator"
      tabIndex={0}
      aria-label={label}
      aria-orientation={orientation}
      aria-valuenow={Math.round(value * (most > 1 ? 1 : 100))}
      aria-valuemin={Math.round(least * (most > 1 ? 1 : 100))}
      aria-valuemax={Math.round(most * (most > 1 ? 1 : 100))}
      onKeyDown={press}
      onPointerDown={(event) => {
        from.current = { at: place(event), value };
        event.currentTarget.setPointerCapture(event.pointerId);
      }}
      onPointerMove={move}
      onPointerUp={() => {
        from.current = null;
      }}
      onPointerCancel={() => {
        from.current = null;
      }}
    />
  );
}
