import { type ReactNode, useState } from 'react';
import { Button as AriaButton, Dialog, DialogTrigger, Popover, ToggleButton } from 'react-aria-components';
import { Toggle } from '../parts/Choice.tsx';
import { Icon } from '../parts/Icon.tsx';
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
  conditioningPanel,
  facts,
}: TraceHeadProps & {
  /** What of the recipe changes the trace's shape, in a few words; `null` for nothing but the base line. */
  readonly conditioning: string | null;
  readonly conditioningPanel: ReactNode;
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
        <ConditioningButton words={conditioning}>{conditioningPanel}</ConditioningButton>
      </div>
    </header>
  );
}

function ConditioningButton({ words, children }: { readonly words: string | null; readonly children: ReactNode }) {
  const [isOpen, setOpen] = useState(false);
  return (
    <DialogTrigger isOpen={isOpen} onOpenChange={setOpen}>
      <AriaButton className={styles.toggle ?? ''}>
        Conditioning{words === null ? '' : `: ${words}`} <Icon name="chevron-down" />
      </AriaButton>
      {/* Not modal: the trace stays in sight and can be moved while the recipe is changed. */}
      <Popover className={styles.popover ?? ''} placement="bottom end" isNonModal>
        <Dialog className={styles.dialog ?? ''} aria-label="Conditioning">
          {children}
        </Dialog>
      </Popover>
    </DialogTrigger>
  );
}
