import { useDeferredValue, useMemo, useState } from 'react';
import { failure, type Outcome, type Problem } from '../../core/outcome.ts';
import { readStatedProbes, readStatedRule } from '../../core/review/stated-probes.ts';
import { useDrawnWindow } from '../audit/use-drawn-window.ts';
import { captureChoices } from '../procedures/capture-choices.ts';
import { readSmallFile } from '../procedures/small-file.ts';
import { useWorkbench } from '../state/workbench.ts';
import { ComparisonSteps } from './ComparisonSteps.tsx';
import { MaterialSteps } from './MaterialSteps.tsx';
import { ProbesSteps } from './ProbesSteps.tsx';
import { type MaterialDraft, noMaterial, noProbes, wholeMaterial, withStated } from './probes-decision.ts';

export type ProbesProcedure = 'probes' | 'comparison' | 'material';

/** What a researcher works with: probes, what parts them, and the material they were tried on. */
export function ProbesProcedures({ procedure }: { readonly procedure: ProbesProcedure }) {
  switch (procedure) {
    case 'probes':
      return <ProbesContainer />;
    case 'comparison':
      return <ComparisonContainer />;
    case 'material':
      return <MaterialContainer />;
  }
}

function useDesk() {
  const review = useWorkbench((workbench) => workbench.review);
  // What comes from the worker is drawn between two frames: the trace does not wait for it.
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const isEvaluating = useDeferredValue(useWorkbench((workbench) => workbench.evaluating));
  const captures = useDeferredValue(useWorkbench((workbench) => workbench.captures));
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const choices = useMemo(() => captureChoices(captures.values()), [captures]);
  return { review, evaluation, isEvaluating, asked, style, actions, choices };
}

function ProbesContainer() {
  const { review, evaluation, isEvaluating, asked, style, actions, choices } = useDesk();
  const drawn = useDrawnWindow();
  const [fileProblems, setFileProblems] = useState<readonly Problem[]>([]);
  const { probes: decision } = review;
  const decided = decision ?? noProbes;

  async function take<T>(file: File, read: (name: string, text: string) => Outcome<T>, onRead: (value: T) => void) {
    const { name, text } = await readSmallFile(file);
    const outcome = read(name, text);
    setFileProblems(outcome.ok ? [] : failure(...outcome.problems).problems);
    if (outcome.ok) onRead(outcome.value);
  }

  const set = (probes: typeof decision) => void actions.edit({ kind: 'set-probes', probes });
  return (
    <ProbesSteps
      choices={choices}
      decision={decision}
      onDecision={set}
      result={decision === null ? null : (evaluation?.probes ?? null)}
      isEvaluating={isEvaluating}
      fileProblems={fileProblems}
      onStatedFile={(file) =>
        void take(file, readStatedProbes, (stated) => set({ ...decided, probes: withStated(decided.probes, stated) }))
      }
      onRuleFile={(file) =>
        void take(file, readStatedRule, (rule) =>
          set({ ...decided, rule: { kind: 'own', rule: structuredClone(rule) as never } }),
        )
      }
      {...drawn}
      asked={asked}
      onAsk={actions.ask}
      style={style}
    />
  );
}

function ComparisonContainer() {
  const { review, evaluation, isEvaluating, asked, style, actions } = useDesk();
  return (
    <ComparisonSteps
      decision={review.probes}
      onDecision={(probes) => void actions.edit({ kind: 'set-probes', probes })}
      result={review.probes === null ? null : (evaluation?.probes ?? null)}
      isEvaluating={isEvaluating}
      asked={asked}
      onAsk={actions.ask}
      onProbes={() => actions.setProcedure('probes')}
      style={style}
    />
  );
}

function MaterialContainer() {
  const { review, evaluation, isEvaluating, asked, style, actions, choices } = useDesk();
  const drawn = useDrawnWindow();
  // As long as no thickness is stated there is nothing that a review could hold.
  const [begun, setBegun] = useState<MaterialDraft>(noMaterial);
  return (
    <MaterialSteps
      choices={choices}
      draft={review.material ?? begun}
      onDraft={(draft) => {
        const material = wholeMaterial(draft);
        if (material === null) setBegun(draft);
        else actions.edit({ kind: 'set-material', material });
      }}
      onRemove={
        review.material === null
          ? null
          : () => {
              setBegun(noMaterial);
              actions.edit({ kind: 'set-material', material: null });
            }
      }
      result={review.material === null ? null : (evaluation?.material ?? null)}
      isEvaluating={isEvaluating}
      {...drawn}
      asked={asked}
      onAsk={actions.ask}
      style={style}
    />
  );
}
