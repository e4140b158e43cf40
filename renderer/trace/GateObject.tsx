import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { flagTexts } from '../../core/flag.ts';
import type { Gate } from '../../core/gate/gate.ts';
import { Figure } from '../parts/Figure.tsx';
import styles from './GateLayer.module.css';
import type { GateLayerProps } from './GateLayer.tsx';
import { draggedGate, type GatePart, gateGrid, nudgedGate, readingMarks, type StandingGate } from './gate-overlay.ts';
import { gateWords } from './gate-words.ts';
import type { Box } from './place-labels.ts';
import { usPerPx, yOf } from './plane.ts';
import { figureNames, flagWords, readingFigures } from './readout.ts';

type Drag = { part: GatePart | 'undecided'; readonly from: Gate; readonly x: number; readonly y: number; last: Gate };

/** The pointer must go so far before a drag of the whole bar is taken for moving it, or for raising its threshold. */
const decidingPx = 4;

/** One gate: its bar to take hold of, what it read, and its label. */
export function GateObject({
  gate,
  bar,
  reading,
  label,
  plane,
  calibration,
  style,
  selectedGate,
  onSelectGate,
  onGateEdit,
  onGateNumbers,
  onAsk,
  onGone,
}: GateLayerProps & StandingGate & { readonly label: Box }) {
  const drag = useRef<Drag | null>(null);
  const nudged = useRef<Gate | null>(null);
  const isSelected = selectedGate === gate.name;
  const change = (next: Gate, manner: 'now' | 'merged') =>
    onGateEdit({ kind: 'change-gate', name: gate.name, gate: next }, manner);

  function onPointerDown(event: PointerEvent<HTMLElement>, part: GatePart | 'undecided'): void {
    if (event.button !== 0) return;
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    drag.current = { part, from: gate, x: event.clientX, y: event.clientY, last: gate };
    onSelectGate(gate.name);
  }

  function onPointerMove(event: PointerEvent<HTMLElement>): void {
    const current = drag.current;
    if (current === null) return;
    // An end lies in the bar, which must not take the same move for its own.
    event.stopPropagation();
    const [byX, byY] = [event.clientX - current.x, event.clientY - current.y];
    if (current.part === 'undecided') {
      if (Math.max(Math.abs(byX), Math.abs(byY)) < decidingPx) return;
      current.part = Math.abs(byX) >= Math.abs(byY) ? 'whole' : 'threshold';
    }
    const by = { us: byX * usPerPx(plane), percent: -(byY * (plane.highPercent - plane.lowPercent)) / plane.heightPx };
    current.last = draggedGate(current.from, current.part, by, gateGrid(plane, calibration, style), calibration);
    change(current.last, 'merged');
  }

  function onPointerUp(): void {
    const current = drag.current;
    drag.current = null;
    if (current !== null && current.part !== 'undecided' && current.last !== current.from) change(current.last, 'now');
  }

  function onKeyDown(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey) return;
    if (event.key === 'Delete' || event.key === 'Backspace') {
      event.preventDefault();
      onGateEdit({ kind: 'remove-gate', name: gate.name }, 'now');
      onSelectGate(null);
      onGone();
      return;
    }
    if (event.key === 'Enter') {
      event.preventDefault();
      onGateNumbers(gate.name);
      return;
    }
    const next = nudgedGate(gate, event, gateGrid(plane, calibration, style), calibration);
    if (next === null) return;
    event.preventDefault();
    event.stopPropagation();
    nudged.current = next;
    change(next, 'merged');
  }

  /** A held key is one step of the history: it ends where the key is let go, or the focus leaves. */
  function endNudge(): void {
    if (nudged.current === null) return;
    change(nudged.current, 'now');
    nudged.current = null;
  }

  const marks = reading === null ? null : readingMarks(reading, gate, plane);
  const handlers = (part: GatePart | 'undecided') => ({
    onPointerDown: (event: PointerEvent<HTMLElement>) => onPointerDown(event, part),
    onPointerMove,
    onPointerUp,
    onPointerCancel: onPointerUp,
    onDoubleClick: (event: { stopPropagation(): void }) => event.stopPropagation(),
  });
  const [fromEnd, toEnd] =
    gate.span.axis === 'time' ? [gate.span.fromUs, gate.span.toUs] : [gate.span.fromMm, gate.span.toMm];
  return (
    <div className={styles.gate} data-selected={isSelected || undefined}>
      {isSelected && (
        <div className={styles.window} style={{ left: bar.left, width: Math.max(1, bar.right - bar.left) }} />
      )}
      {bar.mirroredY !== null && (
        <div
          className={styles.mirrored}
          style={{ left: bar.left, width: Math.max(1, bar.right - bar.left), top: bar.mirroredY }}
        />
      )}
      <div
        className={styles.bar}
        style={{ left: bar.left, width: Math.max(1, bar.right - bar.left), top: bar.y }}
        role="slider"
        tabIndex={0}
        data-gate={gate.name}
        aria-label={`Gate ${gate.name}`}
        aria-roledescription="gate"
        aria-valuenow={fromEnd}
        aria-valuemin={Math.min(0, fromEnd)}
        aria-valuemax={toEnd}
        aria-valuetext={gateWords(gate, reading, style)}
        aria-describedby="gate-keys"
        onFocus={() => onSelectGate(gate.name)}
        onBlur={endNudge}
        onKeyDown={onKeyDown}
        onKeyUp={endNudge}
        {...handlers('undecided')}
      >
        <span className={styles.end} data-end="from" {...handlers('from')} />
        <span className={styles.end} data-end="to" {...handlers('to')} />
      </div>
      {marks !== null && <ReadingMarks marks={marks} floor={yOf(plane, 0)} />}
      <div className={styles.label} style={{ left: label.left, top: label.top, maxWidth: label.width + 4 }}>
        <button type="button" tabIndex={-1} className={styles.name} onClick={() => onSelectGate(gate.name)}>
          {gate.name}
        </button>
        {reading !== null && (
          <span className={styles.figures}>
            {readingFigures(reading, style).map(({ figure, text }) => (
              <span key={figure}>
                <Figure
                  name={figureNames[figure]}
                  text={text}
                  asked={{ kind: 'reading', captureId: reading.captureId, gate: gate.name, figure }}
                  onAsk={onAsk}
                  tabIndex={-1}
                />
              </span>
            ))}
          </span>
        )}
        {reading !== null && reading.flags.length > 0 && (
          <span
            className={styles.flags}
            title={reading.flags.map((flag) => `${flagTexts[flag].sentence} ${flagTexts[flag].advice}`).join('\n')}
          >
            {reading.flags.map(flagWords).join(', ')}
          </span>
        )}
      </div>
    </div>
  );
}

function ReadingMarks({ marks, floor }: { readonly marks: ReturnType<typeof readingMarks>; readonly floor: number }) {
  const { crossing, peak } = marks;
  return (
    <svg className={styles.marks} aria-hidden="true">
      {peak !== null && (
        <>
          <line className={styles.plumb} x1={peak.x} x2={peak.x} y1={peak.y} y2={floor} />
          <path className={styles.peak} d={`M${peak.x} ${peak.y - 5}l5 5-5 5-5-5z`} />
        </>
      )}
      {crossing !== null && <circle className={styles.crossing} cx={crossing.x} cy={crossing.y} r={4} />}
    </svg>
  );
}
