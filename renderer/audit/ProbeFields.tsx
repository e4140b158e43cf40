import { useState } from 'react';
import type { SensitivityDecision } from '../../core/review/sensitivity-decision.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { positive } from '../procedures/field-reading.ts';
import { OptionalQuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';

type Probe = SensitivityDecision['probe'];

/** Element and frequency: the probe is known when both are, and no longer when one is taken out. */
export function ProbeFields({
  known,
  onProbe,
  style,
}: {
  readonly known: Probe;
  readonly onProbe: (probe: Probe) => void;
  readonly style: FigureStyle;
}) {
  const [half, setHalf] = useState<{ readonly elementMm: number | null; readonly frequencyMHz: number | null }>({
    elementMm: null,
    frequencyMHz: null,
  });
  const { elementMm, frequencyMHz } = known ?? half;
  const set = (next: typeof half) => {
    setHalf(next);
    if (next.elementMm !== null && next.frequencyMHz !== null)
      onProbe({
        elementMm: next.elementMm,
        frequencyMHz: next.frequencyMHz,
        velocityMPerS: known?.velocityMPerS ?? null,
      });
    else if (known !== null) onProbe(null);
  };
  return (
    <div className={styles.row}>
      <OptionalQuantityInput
        label="Element"
        measure="length"
        bound={positive}
        style={style}
        value={elementMm}
        onValue={(value) => set({ elementMm: value, frequencyMHz })}
      />
      <OptionalQuantityInput
        label="Frequency"
        measure="frequency"
        bound={positive}
        style={style}
        value={frequencyMHz}
        onValue={(value) => set({ elementMm, frequencyMHz: value })}
      />
    </div>
  );
}
