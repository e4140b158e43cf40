import { useDeferredValue, useMemo, useState } from 'react';
import type { Reading } from '../../core/gate/reading.ts';
import { captureLookup } from '../../core/report/document.ts';
import type { Host } from '../host/host.ts';
import { useWorkbench } from '../state/workbench.ts';
import { captureChoices } from './capture-choices.ts';
import { ReadingsSteps } from './ReadingsSteps.tsx';
import { nothingToRead } from './reading-decision.ts';
import { allRows, type RowFilter } from './reading-rows.ts';
import { useTableExport } from './use-table-export.ts';

const noReadings: readonly Reading[] = [];

/** Reading the part, as the workbench has it. */
export function ReadingsContainer({ host }: { readonly host: Host }) {
  const review = useWorkbench((workbench) => workbench.review);
  // What comes from the worker is drawn between two frames: the trace does not wait for it.
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluating = useDeferredValue(useWorkbench((workbench) => workbench.evaluating));
  const captures = useDeferredValue(useWorkbench((workbench) => workbench.captures));
  const selected = useWorkbench((workbench) => workbench.selected);
  const selectedGate = useWorkbench((workbench) => workbench.selectedGate);
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const table = useTableExport(host, 'readings');
  const order = useWorkbench(({ layout }) => layout.readingOrder);
  const [filter, setFilter] = useState<RowFilter>(allRows);
  const choices = useMemo(() => captureChoices(captures.values()), [captures]);
  const lookup = useMemo(() => captureLookup(evaluation?.captures ?? []), [evaluation]);
  return (
    <ReadingsSteps
      choices={choices}
      decision={review.readings ?? nothingToRead}
      onDecision={(readings) => void actions.edit({ kind: 'set-readings', readings })}
      calibrationTiming={review.calibration?.timing ?? null}
      evaluation={evaluation}
      isEvaluating={evaluating}
      readings={evaluation?.readings?.readings ?? noReadings}
      captures={lookup}
      style={style}
      order={order}
      onOrder={(readingOrder) => actions.setLayout((layout) => ({ ...layout, readingOrder }))}
      filter={filter}
      onFilter={setFilter}
      selected={selected}
      onSelect={(captureId, gate) => {
        actions.select(captureId);
        actions.selectGate(gate);
      }}
      asked={asked}
      onAsk={actions.ask}
      onCopy={table.copy}
      onSave={table.save}
      selectedGate={selectedGate}
      onSelectGate={actions.selectGate}
      onRemoveGate={(gate) => void actions.edit({ kind: 'remove-gate', name: gate })}
      onDrawGate={() => actions.setDrawingGate(true)}
    />
  );
}
