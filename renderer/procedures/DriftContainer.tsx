import { useDeferredValue, useMemo, useState } from 'react';
import { readRule } from '../../core/check/rule.ts';
import type { Problem } from '../../core/outcome.ts';
import { useWorkbench } from '../state/workbench.ts';
import { captureChoices } from './capture-choices.ts';
import { DriftSteps } from './DriftSteps.tsx';
import { nothingToCheck } from './drift-decision.ts';
import { readSmallFile } from './small-file.ts';

/** The drift checks as the workbench has them. */
export function DriftContainer() {
  const review = useWorkbench((workbench) => workbench.review);
  // What comes from the worker is drawn between two frames: the trace does not wait for it.
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluating = useDeferredValue(useWorkbench((workbench) => workbench.evaluating));
  const captures = useDeferredValue(useWorkbench((workbench) => workbench.captures));
  const selected = useWorkbench((workbench) => workbench.selected);
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const [ruleProblems, setRuleProblems] = useState<readonly Problem[]>([]);
  const choices = useMemo(() => captureChoices(captures.values()), [captures]);
  const decision = review.drift ?? nothingToCheck;

  async function takeRule(file: File): Promise<void> {
    const { name, text } = await readSmallFile(file);
    const rule = readRule(name, text);
    setRuleProblems(rule.ok ? [] : rule.problems);
    if (rule.ok) actions.edit({ kind: 'set-drift', drift: { ...decision, rule: { kind: 'own', rule: rule.value } } });
  }

  const isAsked = decision.captures.length > 0 && decision.reflectors.length > 0;
  return (
    <DriftSteps
      choices={choices}
      decision={decision}
      onDecision={(drift) => void actions.edit({ kind: 'set-drift', drift })}
      calibration={evaluation?.calibration?.calibration ?? null}
      result={isAsked ? (evaluation?.drift ?? null) : null}
      overTime={isAsked ? (evaluation?.driftOverTime ?? null) : null}
      problems={isAsked ? (evaluation?.problems ?? []).filter(isAboutDrift) : []}
      isEvaluating={evaluating}
      ruleProblems={ruleProblems}
      onRuleFile={(file) => void takeRule(file)}
      onAsk={actions.ask}
      asked={asked}
      selected={selected}
      onSelect={actions.select}
      style={style}
    />
  );
}

function isAboutDrift({ place }: Problem): boolean {
  return place.file === 'drift';
}
