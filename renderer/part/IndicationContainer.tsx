import { useDeferredValue, useMemo } from 'react';
import type { ScanDecision } from '../../core/review/scan-decision.ts';
import type { Host } from '../host/host.ts';
import { captureChoices } from '../procedures/capture-choices.ts';
import { useTableExport } from '../procedures/use-table-export.ts';
import { useWorkbench } from '../state/workbench.ts';
import { IndicationSteps } from './IndicationSteps.tsx';
import { withAllTakenUp, withIndication, withMerged, withoutIndication, withSplit } from './scan-edits.ts';

const nothing: readonly string[] = [];

/** The scan's indications as the workbench has them. */
export function IndicationContainer({ host }: { readonly host: Host }) {
  const review = useWorkbench((workbench) => workbench.review);
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluating = useDeferredValue(useWorkbench((workbench) => workbench.evaluating));
  const captures = useDeferredValue(useWorkbench((workbench) => workbench.captures));
  const selected = useWorkbench((workbench) => workbench.selected);
  const indication = useWorkbench((workbench) => workbench.indication);
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const table = useTableExport(host, 'indications');
  const choices = useMemo(() => captureChoices(captures.values()), [captures]);
  const { scan } = review;
  const result = evaluation?.scan ?? null;
  const one = result?.indications.find((each) => each.name === indication) ?? null;

  const named = (what: string, next: ScanDecision | null) => {
    if (next !== null) void actions.edit({ kind: 'several', name: what, edits: [{ kind: 'set-scan', scan: next }] });
  };
  return (
    <IndicationSteps
      scan={scan}
      onScan={(next) => void actions.edit({ kind: 'set-scan', scan: next })}
      onRemove={() => void actions.edit({ kind: 'set-scan', scan: null })}
      hasCalibration={(evaluation?.calibration?.calibration ?? null) !== null}
      captures={review.readings?.captures ?? nothing}
      choices={choices}
      result={result}
      isEvaluating={evaluating}
      chosen={indication}
      onChoose={actions.chooseIndication}
      onTakeAllUp={() => {
        if (scan !== null) named('take up all proposals', withAllTakenUp(scan, result?.indications ?? []));
      }}
      onChange={(next, what) => {
        if (scan === null || one === null) return;
        named(what, withIndication(scan, one, next));
        if (next.name !== undefined) actions.chooseIndication(next.name);
      }}
      onLeave={() => {
        if (scan !== null && one !== null)
          named(`leave indication '${one.name}' to the proposals`, withoutIndication(scan, one.name));
      }}
      onMerge={(other) => {
        const second = result?.indications.find((each) => each.name === other);
        if (scan === null || result === null || one === null || second === undefined) return;
        named(`merge '${one.name}' with '${other}'`, withMerged(scan, one, second, result));
      }}
      onSplit={(at) => {
        if (scan === null || result === null || one === null) return false;
        const parted = withSplit(scan, one, at, result);
        named(`split indication '${one.name}'`, parted);
        return parted !== null;
      }}
      selected={selected}
      onSelect={actions.select}
      asked={asked}
      onAsk={actions.ask}
      onCopy={table.copy}
      onSave={table.save}
      style={style}
    />
  );
}
