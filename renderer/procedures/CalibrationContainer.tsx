import { useCallback, useDeferredValue, useEffect, useMemo, useState } from 'react';
import { compareCalibrations } from '../../core/calibration/compare.ts';
import { openCalibration } from '../../core/calibration/open-calibration.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { type Problem, problem } from '../../core/outcome.ts';
import type { CalibrationFit } from '../../core/review/review.ts';
import type { ConditioningRecipe } from '../../core/signal/conditioning.ts';
import type { Engine } from '../engine/engine.ts';
import { Cancelled } from '../engine/pauses.ts';
import { proposalFitted, propose, useProposal, withdrawProposal } from '../state/proposal.ts';
import { useWorkbench } from '../state/workbench.ts';
import { CalibrationSteps } from './CalibrationSteps.tsx';
import { nothingDecided } from './calibration-decision.ts';
import { captureChoices } from './capture-choices.ts';
import { readSmallFile } from './small-file.ts';

/** The distance calibration as the workbench has it. What is changed is a proposal until it is accepted. */
export function CalibrationContainer({ engine }: { readonly engine: Engine }) {
  const review = useWorkbench((workbench) => workbench.review);
  // What comes from the worker is drawn between two frames: the trace does not wait for it.
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluating = useDeferredValue(useWorkbench((workbench) => workbench.evaluating));
  const captures = useDeferredValue(useWorkbench((workbench) => workbench.captures));
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const proposal = useProposal();
  const inForce = review.calibration;
  const proposed = proposal.decision !== null && proposal.base === inForce ? proposal.decision : null;
  const decision = proposed ?? (inForce?.kind === 'fit' ? inForce : nothingDecided);

  const { conditioning } = review;
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const isFitting = useFit(engine, proposed, conditioning, setProblems);

  const result = proposed === null ? (evaluation?.calibration ?? null) : proposal.result;
  const calibrationInForce = inForce === null ? null : (evaluation?.calibration?.calibration ?? null);
  const now = proposed === null ? null : (proposal.result?.calibration ?? null);
  const difference = useMemo(
    () =>
      now === null || calibrationInForce === null ? null : compareCalibrations(calibrationInForce, now, [pathCompared]),
    [now, calibrationInForce],
  );
  const choices = useMemo(() => captureChoices(captures.values()), [captures]);

  const onAsk = useCallback(
    (figure: FigureAsked) => {
      const isOfFit = figure.kind === 'calibration' || figure.kind === 'calibration-point';
      actions.ask(proposed !== null && isOfFit ? { ...figure, proposed: true } : figure);
    },
    [actions, proposed],
  );

  async function takeOver(file: File): Promise<void> {
    const { name, text, sha256 } = await readSmallFile(file);
    const opened = openCalibration(name, text, sha256);
    setProblems(opened.ok ? [] : opened.problems);
    if (!opened.ok) return;
    withdrawProposal();
    actions.edit({ kind: 'set-calibration', calibration: opened.value });
  }

  return (
    <CalibrationSteps
      choices={choices}
      decision={decision}
      onDecision={(next) => propose(inForce, next)}
      result={isNothing(decision) && inForce?.kind !== 'given' ? null : result}
      isFitting={proposed === null ? evaluating : isFitting}
      inForce={
        inForce === null ? null : { calibration: calibrationInForce, given: inForce.kind === 'given' ? inForce : null }
      }
      difference={difference}
      isChanged={proposed !== null}
      onAccept={() => {
        if (proposed === null) return;
        actions.edit({ kind: 'set-calibration', calibration: proposed });
        withdrawProposal();
      }}
      onDiscard={withdrawProposal}
      problems={problems}
      onSavedCalibration={(file) => void takeOver(file)}
      onAsk={onAsk}
      asked={asked}
      onShowEcho={(captureId, timeUs) => {
        const facts = captures.get(captureId);
        if (facts === undefined) return;
        const at = Math.round((timeUs - facts.startUs) / facts.stepUs);
        actions.setHighlight({ captureId, range: { first: Math.max(0, at - 20), last: at + 20 } });
      }}
      style={style}
    />
  );
}

/** Where two calibrations are compared: a path of ordinary length. */
const pathCompared = 100;

function isNothing({ captures, reflectors }: CalibrationFit): boolean {
  return captures.length === 0 || (reflectors.kind === 'windows' && reflectors.list.length === 0);
}

/** Fits a proposal whenever it changes; says whether the fit is still awaited. */
function useFit(
  engine: Engine,
  proposed: CalibrationFit | null,
  conditioning: ConditioningRecipe,
  onProblems: (problems: readonly Problem[]) => void,
): boolean {
  const fitted = useProposal((proposal) => proposal.fitted);
  useEffect(() => {
    if (proposed === null || isNothing(proposed)) return;
    const until = new AbortController();
    engine.ask('fitPreview', { decision: proposed, conditioning }, { signal: until.signal }).then(
      (result) => proposalFitted(proposed, result),
      (error: unknown) => {
        if (error instanceof Cancelled) return;
        onProblems([
          problem('not-fitted', { file: 'calibration' }, error instanceof Error ? error.message : String(error)),
        ]);
      },
    );
    return () => until.abort();
  }, [engine, proposed, conditioning, onProblems]);
  return proposed !== null && !isNothing(proposed) && fitted !== proposed;
}
