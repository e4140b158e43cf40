import { useCallback, useMemo, useState } from 'react';
import type { TimeFrequencyMethod, TimeFrequencyPicture } from '../../core/compare/time-frequency-picture.ts';
import { failure, type Outcome, problem } from '../../core/outcome.ts';
import type { ProbesResult } from '../../core/steps/probes.ts';
import type { Engine } from '../engine/engine.ts';
import { useWorkbench } from '../state/workbench.ts';
import { useAnswer } from '../trace/use-answer.ts';

/** One capture over time and frequency, as the worker answers; `null` until it has. */
export function useTimeFrequency(
  engine: Engine,
  captureId: string | null,
  result: ProbesResult,
  method: TimeFrequencyMethod,
): Outcome<TimeFrequencyPicture> | null {
  const decision = useWorkbench(({ evaluationOf, review }) => (evaluationOf ?? review).probes);
  const conditioning = useWorkbench(({ review }) => review.conditioning);
  const probe = result.probes.find(({ captureIds }) => captureId !== null && captureIds.includes(captureId))?.probe;
  const gate = decision?.probes.find(({ name }) => name === probe)?.gate ?? decision?.gate ?? null;
  const ask = useMemo(
    () =>
      captureId === null || gate === null
        ? null
        : (signal: AbortSignal) =>
            engine.ask('timeFrequency', { capture: captureId, conditioning, gate, method }, { signal }),
    [engine, captureId, gate, conditioning, method],
  );
  const [mistake, setMistake] = useState<string | null>(null);
  const onFailure = useCallback(
    (error: unknown) => setMistake(error instanceof Error ? error.message : String(error)),
    [],
  );
  const answer = useAnswer<Outcome<TimeFrequencyPicture> | null>(ask, null, onFailure);
  if (mistake !== null) return failure(problem('stopped', { file: 'probes' }, mistake));
  return answer;
}
