import { useDeferredValue, useMemo, useState } from 'react';
import { type FigureAsked, originOf } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import { readLevels } from '../../core/sensitivity/evaluation-levels.ts';
import { captureChoices } from '../procedures/capture-choices.ts';
import { readSmallFile } from '../procedures/small-file.ts';
import { useWorkbench } from '../state/workbench.ts';
import { SensitivitySteps } from './SensitivitySteps.tsx';
import { noCurve, noSensitivity } from './sensitivity-decision.ts';

/** Sensitivity as the workbench has it. */
export function SensitivityContainer() {
  const review = useWorkbench((workbench) => workbench.review);
  // What comes from the worker is drawn between two frames: the trace does not wait for it.
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluationOf = useDeferredValue(useWorkbench((workbench) => workbench.evaluationOf));
  const isEvaluating = useDeferredValue(useWorkbench((workbench) => workbench.evaluating));
  const captures = useDeferredValue(useWorkbench((workbench) => workbench.captures));
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const [levelProblems, setLevelProblems] = useState<readonly Problem[]>([]);
  const choices = useMemo(() => captureChoices(captures.values()), [captures]);
  const { sensitivity } = review;

  async function takeLevels(file: File): Promise<void> {
    const { name, text } = await readSmallFile(file);
    const read = readLevels(name, text);
    setLevelProblems(read.ok ? [] : read.problems);
    if (!read.ok) return;
    const decided = sensitivity ?? noSensitivity;
    const curve = {
      ...(decided.curve ?? noCurve),
      levels: { kind: 'own' as const, rule: read.value },
    };
    actions.edit({ kind: 'set-sensitivity', sensitivity: { ...decided, curve } });
  }

  return (
    <SensitivitySteps
      choices={choices}
      decision={sensitivity}
      onDecision={(next) => void actions.edit({ kind: 'set-sensitivity', sensitivity: next })}
      result={sensitivity === null ? null : (evaluation?.sensitivity ?? null)}
      calibration={evaluation?.calibration?.calibration ?? null}
      isEvaluating={isEvaluating}
      problems={(evaluation?.problems ?? []).filter(({ place }) => places.has(place.file))}
      levelProblems={levelProblems}
      onLevelsFile={(file) => void takeLevels(file)}
      written={(figure: FigureAsked) => {
        if (evaluation === null || evaluationOf === null) return null;
        const origin = originOf(figure, evaluationOf, evaluation, style);
        return origin === null ? null : withUncertainty(origin.value, origin.uncertainty);
      }}
      asked={asked}
      onAsk={actions.ask}
      onSelect={actions.select}
      style={style}
    />
  );
}

const places: ReadonlySet<string> = new Set(['sensitivity', 'attenuation', 'readings']);

/** `12.3 dB/m` and `0.4 dB/m`: one figure with its uncertainty. */
function withUncertainty(value: string, uncertainty: string | null): string {
  const u = /\d+(?:[.,]\d+)?/.exec(uncertainty ?? '')?.[0];
  return u === undefined ? value : value.replace(/ (?=\S+$)/, ` ± ${u} `);
}
