import { useDeferredValue, useMemo } from 'react';
import { verdictSummary } from '../../core/check/verdict-summary.ts';
import { captureLookup } from '../../core/report/document.ts';
import { csvText, tabbedText } from '../../core/report/table-text.ts';
import { verdictsTable } from '../../core/report/verdicts-table.ts';
import { fileStem } from '../host/file-stem.ts';
import type { Host } from '../host/host.ts';
import { useWorkbench } from '../state/workbench.ts';
import { VerdictsView } from './VerdictsView.tsx';

/** All verdicts, as the workbench has them. */
export function VerdictsContainer({ host }: { readonly host: Host }) {
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluationOf = useDeferredValue(useWorkbench((workbench) => workbench.evaluationOf));
  const evaluating = useDeferredValue(useWorkbench((workbench) => workbench.evaluating));
  const name = useWorkbench((workbench) => workbench.name);
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
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
      onCopy={(verdicts) =>
        navigator.clipboard.writeText(tabbedText(verdictsTable(verdicts, lookup, style))).then(
          () => true,
          () => false,
        )
      }
      onSave={(verdicts) =>
        void host.saveText(
          `${fileStem(name ?? evaluationOf?.title ?? '')}-verdicts.csv`,
          'text/csv',
          csvText(verdictsTable(verdicts, lookup, style), style.decimalMark),
        )
      }
      style={style}
    />
  );
}
