import { type KeyboardEvent, useMemo, useRef, useState } from 'react';
import { figureWithUnit } from '../../core/units/figure-style.ts';
import styles from './EchoLayer.module.css';
import { echoMarks } from './echo-marks.ts';
import type { Plane } from './plane.ts';
import { flagWords, pathText, timeText } from './readout.ts';
import type { TraceViewProps } from './trace-props.ts';

type EchoLayerProps = Pick<TraceViewProps, 'echoes' | 'onEchoChosen' | 'calibration' | 'style'> & {
  readonly plane: Plane;
};

/** The echoes' numbers above their peaks: one stop for the Tab key, from which the arrow keys go from echo to echo. */
export function EchoLayer({ echoes, onEchoChosen, calibration, style, plane }: EchoLayerProps) {
  const marks = useMemo(() => echoMarks(echoes, plane), [echoes, plane]);
  const group = useRef<HTMLFieldSetElement>(null);
  const [current, setCurrent] = useState<number | null>(null);
  if (marks.length === 0) return null;
  const stop = Math.max(
    0,
    marks.findIndex(({ echo }) => echo === current),
  );

  function onKeyDown(event: KeyboardEvent): void {
    const next = { ArrowLeft: stop - 1, ArrowRight: stop + 1, Home: 0, End: marks.length - 1 }[event.key];
    if (next === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    const at = Math.min(marks.length - 1, Math.max(0, next));
    group.current?.querySelectorAll('button')[at]?.focus();
  }

  return (
    <fieldset
      className={styles.layer}
      ref={group}
      aria-label={
        marks.length === echoes.length
          ? 'Echoes'
          : `Echoes, ${marks.length} of ${echoes.length} marked; zoom in for more`
      }
      onKeyDown={onKeyDown}
    >
      {marks.map(({ echo, number, box, peak }, i) => {
        const { timeUs, amplitudePercent, flags } = echoes[echo]!;
        const words = [
          timeText(timeUs, plane.view, style),
          pathText(timeUs, plane.view, calibration, style),
          figureWithUnit(amplitudePercent, 'percent', 1, style),
          ...flags.map(flagWords),
        ].filter((part) => part !== null);
        return (
          <button
            key={echo}
            type="button"
            className={styles.mark}
            data-doubtful={flags.length > 0 || undefined}
            style={{ left: box.left, top: box.top, width: box.width, height: box.height }}
            tabIndex={i === stop ? 0 : -1}
            aria-label={`Echo ${number}: ${words.join(', ')}`}
            title={`Echo ${number}: ${words.join(', ')}\nTake it as a reflector of the calibration`}
            onFocus={() => setCurrent(echo)}
            onPointerDown={(event) => event.stopPropagation()}
            onDoubleClick={(event) => event.stopPropagation()}
            onClick={() => onEchoChosen(echo)}
          >
            {number}
            <span
              className={styles.tail}
              style={{ left: peak.x - box.left, height: Math.max(0, peak.y - box.top - box.height) }}
            />
          </button>
        );
      })}
    </fieldset>
  );
}
