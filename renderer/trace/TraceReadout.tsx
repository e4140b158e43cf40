import { between } from '../../core/calibration/between.ts';
import { figureWithUnit } from '../../core/units/figure-style.ts';
import { shownAt } from './drawing.ts';
import { lengthText, pathText, percentText, timeFigure, timeText } from './readout.ts';
import styles from './TraceReadout.module.css';
import type { TraceViewProps } from './trace-props.ts';
import type { ViewportLimits } from './viewport.ts';
import { viewportCommands } from './viewport-commands.ts';

type TraceReadoutProps = Pick<
  TraceViewProps,
  'traces' | 'view' | 'onView' | 'calibration' | 'style' | 'cursors' | 'cursorPercents' | 'drawingGate'
> & {
  readonly limits: ViewportLimits;
  /** Where the pointer is, if it is on the plot. */
  readonly pointerUs: number | null;
};

/** The line below the trace: what is shown and how to move, what is at the pointer, and what lies between the cursors. */
export function TraceReadout(props: TraceReadoutProps) {
  const { view, onView, limits, style, cursors, drawingGate } = props;
  return (
    <div className={styles.readout}>
      <fieldset className={styles.moves} aria-label="Moves over the trace">
        {viewportCommands.map((command) => (
          <button
            type="button"
            key={command.label}
            aria-label={command.label}
            title={`${command.label} (${command.keyShown})`}
            onClick={() => onView(command.run(view, limits))}
          >
            {command.sign}
          </button>
        ))}
      </fieldset>
      <p className={styles.shown} role="status">
        Shown: {timeFigure(view.fromUs, view, style)} to {timeText(view.toUs, view, style)}
      </p>
      {cursors.firstUs === null || cursors.secondUs === null ? null : <Difference {...props} />}
      <p className={styles.pointer}>
        {drawingGate ? (
          'Drag over the plot to draw it, or press Enter to place one; Escape leaves off'
        ) : (
          <Pointer {...props} />
        )}
      </p>
    </div>
  );
}

function Pointer({ traces, view, calibration, style, pointerUs }: TraceReadoutProps) {
  const drawing = traces[0]?.drawing ?? null;
  const height = pointerUs === null || drawing === null ? null : shownAt(drawing, pointerUs);
  if (pointerUs === null || height === null) return 'Wheel zooms, drag moves, Shift-drag zooms in, double-click: all';
  const path = pathText(pointerUs, view, calibration, style);
  return (
    <>
      Pointer: <b>{timeText(pointerUs, view, style)}</b>
      {path !== null && (
        <>
          {' · '}
          <b>{path}</b>
        </>
      )}
      {' · '}
      <b>{percentText(height, style)}</b> FSH
    </>
  );
}

function Difference({ view, calibration, style, cursors, cursorPercents }: TraceReadoutProps) {
  const { firstUs, secondUs } = cursors;
  if (firstUs === null || secondUs === null) return null;
  const { timeUs, pathMm, levelDb } = between(
    { timeUs: firstUs, percent: cursorPercents.first },
    { timeUs: secondUs, percent: cursorPercents.second },
    calibration,
  );
  const shownMm = calibration === null ? null : (calibration.velocityMPerS.value * (view.toUs - view.fromUs)) / 2000;
  const parts = [
    timeText(timeUs, view, style),
    pathMm === null || shownMm === null ? null : lengthText(pathMm, shownMm, style),
    levelDb === null ? null : figureWithUnit(levelDb, 'level', 1, style),
  ].filter((part) => part !== null);
  return (
    <p className={styles.difference}>
      Cursor 1 to 2: <b>{parts.join(' · ')}</b>
    </p>
  );
}
