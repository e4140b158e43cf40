import { useDeferredValue, useMemo } from 'react';
import type { Host } from '../host/host.ts';
import { captureChoices } from '../procedures/capture-choices.ts';
import { useTableExport } from '../procedures/use-table-export.ts';
import { useWorkbench } from '../state/workbench.ts';
import { LocationSteps } from './LocationSteps.tsx';

/** Location as the workbench has it. */
export function LocationContainer({ host }: { readonly host: Host }) {
  const review = useWorkbench((workbench) => workbench.review);
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const captures = useDeferredValue(useWorkbench((workbench) => workbench.captures));
  const selected = useWorkbench((workbench) => workbench.selected);
  const selectedGate = useWorkbench((workbench) => workbench.selectedGate);
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const table = useTableExport(host, 'places');
  const choices = useMemo(() => captureChoices(captures.values()), [captures]);
  return (
    <LocationSteps
      part={review.part}
      onPart={(part) => void actions.edit({ kind: 'set-part', part })}
      onGoToPart={() => actions.setProcedure('part')}
      hasCalibration={(evaluation?.calibration?.calibration ?? null) !== null}
      result={evaluation?.location ?? null}
      choices={choices}
      selected={selected}
      selectedGate={selectedGate}
      onSelect={(captureId, gate) => {
        actions.chooseIndication(null);
        actions.selectGate(gate);
        const from = evaluation?.readings?.readings.find(
          (one) => one.captureId === captureId && one.gate === gate,
        )?.from;
        if (from == null) actions.select(captureId);
        else actions.setHighlight({ captureId, range: from });
      }}
      onShowEcho={(captureId, timeUs) => {
        const facts = captures.get(captureId);
        if (facts === undefined) return;
        const at = Math.round((timeUs - facts.startUs) / facts.stepUs);
        actions.setHighlight({ captureId, range: { first: Math.max(0, at - 20), last: at + 20 } });
      }}
      asked={asked}
      onAsk={actions.ask}
      onCopy={table.copy}
      onSave={table.save}
      style={style}
    />
  );
}
