import type { ReactNode } from 'react';
import { ToggleButton } from 'react-aria-components';
import { Toggle } from '../parts/Choice.tsx';
import { areSet, cursorsIn, noCursors } from './cursors.ts';
import styles from './TraceHead.module.css';
import type { TraceHeadProps } from './trace-props.ts';

const modes = [
  { id: 'rf', label: 'RF' },
  { id: 'rectified', label: 'Rectified' },
] as const;

/** The line above the trace: which capture it is, how it is drawn, and what can be put on it. */
export function TraceHead({
  trace,
  mode,
  onMode,
  envelope,
  onEnvelope,
  drawingGate,
  onDrawingGate,
  cursors,
  onCursors,
  view,
  conditioning,
  isConditioning,
  onConditioning,
  facts,
}: TraceHeadProps & {
  /** What of the recipe changes the trace's shape, in a few words; `null` for nothing but the base line. */
  readonly conditioning: string | null;
  readonly isConditioning: boolean;
  onConditioning(isOpen: boolean): void;
  readonly facts: ReactNode;
}) {
  return (
    <header className={styles.head}>
      <div className={styles.which}>
        <h2 title={trace.title}>{trace.title}</h2>
        {facts}
      </div>
      <div className={styles.tools}>
        <Toggle
          label="Half waves"
          hideLabel
          options={modes}
          chosen={trace.rectification === 'rf' ? mode : 'rectified'}
          isDisabled={trace.rectification !== 'rf'}
          onChoose={onMode}
        />
        <ToggleButton className={styles.toggle ?? ''} isSelected={envelope} onChange={onEnvelope}>
          Envelope
        </ToggleButton>
        <ToggleButton
          className={styles.toggle ?? ''}
          isSelected={areSet(cursors)}
          onChange={(set) => onCursors(set ? cursorsIn(view) : noCursors)}
        >
          Cursors <kbd>C</kbd>
        </ToggleButton>
        <ToggleButton className={styles.toggle ?? ''} isSelected={drawingGate} onChange={onDrawingGate}>
          Draw gate <kbd>G</kbd>
        </ToggleButton>
        <ToggleButton
          className={styles.toggle ?? ''}
          isSelected={isConditioning}
          onChange={onConditioning}
          aria-expanded={isConditioning}
        >
          Conditioning{conditioning === null ? '' : `: ${conditioning}`}
        </ToggleButton>
      </div>
    </header>
  );
}
