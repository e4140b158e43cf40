import { type KeyboardEvent, type PointerEvent, useEffect, useMemo, useRef } from 'react';
import { flagTexts } from '../../core/flag.ts';
import type { Gate } from '../../core/gate/gate.ts';
import type { Reading } from '../../core/gate/reading.ts';
import { Figure } from '../parts/Figure.tsx';
import { echoMarks } from './echo-marks.ts';
import styles from './GateLayer.module.css';
import {
  draggedGate,
  type GateBar,
  type GatePart,
  gateBar,
  gateGrid,
  nudgedGate,
  readingMarks,
  sideBeyond,
} from './gate-overlay.ts';
import { gateWords } from './gate-words.ts';
import { type Box, placeLabels } from './place-labels.ts';
import { type Plane, timeAtX, usPerPx, yOf } from './plane.ts';
import { figureNames, flagWords, readingFigures } from './readout.ts';
import type { TraceViewProps } from './trace-props.ts';
import type { Viewport } from './viewport.ts';

type GateLayerProps = Pick<
  TraceViewProps,
  | 'gates'
  | 'readings'
  | 'selectedGate'
  | 'onSelectGate'
  | 'onGateEdit'
  | 'onGateNumbers'
  | 'onAsk'
  | 'calibration'
  | 'style'
  | 'echoes'
> & {
  readonly plane: Plane;
  /** Where the focus goes when a gate was removed. */
  onGone(): void;
  /** A stretch of time that lies beyond the edge is to be seen. */
  onReveal(stretch: Viewport): void;
};

interface Standing {
  readonly gate: Gate;
  readonly bar: GateBar;
  readonly reading: Reading | null;
}

/** The gates as objects on the plot, each with its name and what it reads. */
export function GateLayer(props: GateLayerProps) {
  const { gates, readings, plane, calibration, style, echoes } = props;
  const standing = useMemo(
    () =>
      gates.flatMap((gate): Standing[] => {
        const bar = gateBar(gate, plane, calibration);
        if (bar === null) return [];
        return [{ gate, bar, reading: readings.find((reading) => reading.gate === gate.name) ?? null }];
      }),
    [gates, readings, plane, calibration],
  );
  const inView = standing.filter(({ bar }) => sideBeyond(bar, plane) === null);
  const labels = labelPlaces(inView, echoes, plane, style);
  const layer = useRef<HTMLFieldSetElement>(null);
  const toBeFocused = useRef<string | null>(null);

  // A gate that was asked for beyond the edge has come into view, and takes the focus from the button that is gone.
  useEffect(() => {
    if (toBeFocused.current === null) return;
    const bars = layer.current?.querySelectorAll<HTMLElement>('[data-gate]') ?? [];
    const bar = [...bars].find((each) => each.dataset.gate === toBeFocused.current);
    if (bar === undefined) return;
    toBeFocused.current = null;
    bar.focus();
  });

  return (
    <fieldset className={styles.layer} aria-label="Gates" ref={layer}>
      {(['left', 'right'] as const).map((side) => (
        <div key={side} className={styles.beyond} data-side={side}>
          {standing
            .filter(({ bar }) => sideBeyond(bar, plane) === side)
            .map(({ gate, reading, bar }) => (
              <button
                key={gate.name}
                type="button"
                aria-label={`Gate ${gate.name}, beyond the ${side} edge: ${gateWords(gate, reading, style)}. Show it`}
                onPointerDown={(event) => event.stopPropagation()}
                onClick={() => {
                  toBeFocused.current = gate.name;
                  props.onReveal({ fromUs: timeAtX(plane, bar.left), toUs: timeAtX(plane, bar.right) });
                }}
              >
                {side === 'left' ? `← ${gate.name}` : `${gate.name} →`}
              </button>
            ))}
        </div>
      ))}
      {inView.map((each, i) => (
        <GateObject key={each.gate.name} {...props} {...each} label={labels[i]!} />
      ))}
    </fieldset>
  );
}

type Drag = { part: GatePart | 'undecided'; readonly from: Gate; readonly x: number; readonly y: number; last: Gate };

/** The pointer must go so far before a drag of the whole bar is taken for moving it, or for raising its threshold. */
const decidingPx = 4;

function GateObject({
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
}: GateLayerProps & Standing & { readonly label: Box }) {
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

const lineHeightPx = 17;
const characterPx = 6.6;
const gapPx = 8;

/** The labels' places: beside the bar, below or above it, wherever the least of the echoes and of other labels is covered. */
function labelPlaces(
  standing: readonly Standing[],
  echoes: GateLayerProps['echoes'],
  plane: Plane,
  style: GateLayerProps['style'],
): Box[] {
  const obstacles = echoMarks(echoes, plane).map(({ box }): Box => {
    const bottom = plane.lowPercent < 0 ? 2 * yOf(plane, 0) - box.top : yOf(plane, 0);
    return { ...box, height: bottom - box.top };
  });
  const candidates = standing.map(({ gate, bar, reading }) => {
    const figures =
      reading === null
        ? ''
        : readingFigures(reading, style)
            .map(({ text }) => text)
            .join(' · ');
    const flags = reading === null ? '' : reading.flags.map(flagWords).join(', ');
    const lines = [gate.name, figures, flags].filter((line) => line !== '');
    const width = Math.min(260, Math.max(...lines.map((line) => line.length)) * characterPx + 14);
    const height = lines.length * lineHeightPx + 4;
    const middle = bar.y - height / 2;
    const at = (left: number, top: number): Box => ({ left, top, width, height });
    return [
      at(bar.right + gapPx, middle),
      at(bar.left - width - gapPx, middle),
      at(bar.left, bar.y + gapPx),
      at(bar.left, bar.y - height - gapPx),
      at(bar.right + gapPx, bar.y - height - gapPx),
      at(bar.left - width - gapPx, bar.y - height - gapPx),
      at(Math.min(plane.widthPx - width, Math.max(0, bar.left)), bar.y + gapPx),
      at(Math.min(plane.widthPx - width, Math.max(0, bar.left)), bar.y - height - gapPx),
    ];
  });
  return placeLabels(candidates, obstacles, { left: 0, top: 0, width: plane.widthPx, height: plane.heightPx });
}
