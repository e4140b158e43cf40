import { useDeferredValue, useMemo } from 'react';
import { verdictSummary } from '../../core/check/verdict-summary.ts';
import { captureLookup } from '../../core/report/document.ts';
import { verdictsTable } from '../../core/report/verdicts-table.ts';
import type { Host } from '../host/host.ts';
import { useTableExport } from '../procedures/use-table-export.ts';
import { useWorkbench } from '../state/workbench.ts';
import { VerdictsView } from './VerdictsView.tsx';

/** All verdicts, as the workbench has them. */
export function VerdictsContainer({ host }: { readonly host: Host }) {
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluationOf = useDeferredValue(useWorkbench((workbench) => workbench.evaluationOf));
  const evaluating = useDeferredValue(useWorkbench((workbench) => workbench.evaluating));
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const table = useTableExport(host, 'verdicts');
  const summary = useMemo(
    () => (evaluation === null || evaluationOf === null ? null : verdictSummary(evaluationOf, evaluation, style)),
    [evaluation, evaluationOf, style],
  );
  const lookup = useMemo(() => captureLookup(evaluation?.captures ?? []), [evaluation]);
  return (
    <VerdictsView
      summary={summary}
      isEvaluating={evaluating}
      asked={asked}
      onAsk={actions.ask}
      onCopy={(verdicts) => table.copy(verdictsTable(verdicts, lookup, style))}
      onSave={(verdicts) => table.save(verdictsTable(verdicts, lookup, style))}
      style={style}
    />
  );
}
