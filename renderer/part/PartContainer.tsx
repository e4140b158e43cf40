import { useDeferredValue, useMemo } from 'react';
import type { PartDecision } from '../../core/review/part-decision.ts';
import { captureChoices } from '../procedures/capture-choices.ts';
import { useWorkbench } from '../state/workbench.ts';
import { PartSteps } from './PartSteps.tsx';

/** Part and probe as the workbench has them. */
export function PartContainer() {
  const part = useWorkbench((workbench) => workbench.review.part);
  const readings = useWorkbench((workbench) => workbench.review.readings);
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const captures = useDeferredValue(useWorkbench((workbench) => workbench.captures));
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const choices = useMemo(() => captureChoices(captures.values()), [captures]);
  const set = (next: PartDecision | null) => void actions.edit({ kind: 'set-part', part: next });
  return (
    <PartSteps
      part={part}
      onPart={set}
      onRemove={() => set(null)}
      result={evaluation?.location ?? null}
      choices={choices}
      suggested={{
        angleDeg: readings?.beam?.angleDeg ?? null,
        uAngleDeg: readings?.uAngleDeg ?? null,
        thicknessMm: readings?.beam?.thicknessMm ?? null,
      }}
      asked={asked}
      onAsk={actions.ask}
      style={style}
    />
  );
}
