import { useEffect, useMemo, useRef } from 'react';
import styles from './GateLayer.module.css';
import { GateObject } from './GateObject.tsx';
import { labelPlaces } from './gate-labels.ts';
import { gateBar, type StandingGate, sideBeyond } from './gate-overlay.ts';
import { gateWords } from './gate-words.ts';
import type { Box } from './place-labels.ts';
import { type Plane, timeAtX } from './plane.ts';
import type { TraceViewProps } from './trace-props.ts';
import type { Viewport } from './viewport.ts';

export type GateLayerProps = Pick<
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
  /** Where other words stand on the plot. */
  readonly words: readonly Box[];
  /** Where the focus goes when a gate was removed. */
  onGone(): void;
  /** A stretch of time that lies beyond the edge is to be seen. */
  onReveal(stretch: Viewport): void;
};

/** The gates as objects on the plot, each with its name and what it reads. */
export function GateLayer(props: GateLayerProps) {
  const { gates, readings, plane, calibration, style, echoes } = props;
  const standing = useMemo(
    () =>
      gates.flatMap((gate): StandingGate[] => {
        const bar = gateBar(gate, plane, calibration);
        if (bar === null) return [];
        return [{ gate, bar, reading: readings.find((reading) => reading.gate === gate.name) ?? null }];
      }),
    [gates, readings, plane, calibration],
  );
  const inView = standing.filter(({ bar }) => sideBeyond(bar, plane) === null);
  const labels = labelPlaces(inView, echoes, plane, style, props.words);
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
