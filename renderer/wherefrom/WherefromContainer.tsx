import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { timeAtUs } from '../../core/capture/waveform.ts';
import { type FigureAsked, type Origin, originOf } from '../../core/origin.ts';
import type { Review } from '../../core/review/review.ts';
import type { Engine } from '../engine/engine.ts';
import type { TraceFacts } from '../engine/messages.ts';
import { useProposal } from '../state/proposal.ts';
import { useWorkbench } from '../state/workbench.ts';
import { useAnswer } from '../trace/use-answer.ts';
import type { MiniTraceShown } from './MiniTrace.tsx';
import { backTo, deeper, type Trail, trailFor } from './trail.ts';
import { WherefromPanel } from './WherefromPanel.tsx';

/** Where the figure that is asked comes from, and the way that was taken through its inputs. */
export function WherefromContainer({ engine }: { readonly engine: Engine }) {
  const asked = useWorkbench((workbench) => workbench.asked);
  const actions = useWorkbench((workbench) => workbench.actions);
  const evaluation = useWorkbench((workbench) => workbench.evaluation);
  const evaluationOf = useWorkbench((workbench) => workbench.evaluationOf);
  const evaluating = useWorkbench((workbench) => workbench.evaluating);
  const current = useWorkbench((workbench) => workbench.review);
  const captures = useWorkbench((workbench) => workbench.captures);
  const style = useWorkbench((workbench) => workbench.style);
  const proposal = useProposal();
  const [kept, setKept] = useState<Trail>([]);
  const trail = asked === null ? [] : trailFor(kept, asked);
  const back = useFocusBack(asked !== null);

  const originAt = (step: FigureAsked): Origin | null => {
    const isProposed = 'proposed' in step && step.proposed === true;
    const review = evaluationOf ?? current;
    if (isProposed && proposal.result !== null && proposal.decision !== null) {
      const empty = {
        echoes: null,
        readings: null,
        drift: null,
        driftOverTime: null,
        sensitivity: null,
        location: null,
        scan: null,
        probes: null,
        material: null,
        linearity: { timeBase: null, screenHeight: null, gain: null },
        captures: [],
        problems: [],
      };
      const proposed = { ...(evaluation ?? empty), calibration: proposal.result };
      const told = originOf(step, { ...review, calibration: proposal.decision }, proposed, style);
      return told && { ...told, title: `${told.title}, proposed and not in force` };
    }
    return evaluation === null ? null : originOf(step, review, evaluation, style);
  };
  const origin = asked === null ? null : originAt(asked);
  const facts = origin?.capture == null ? undefined : captures.get(origin.capture.captureId);
  const samples = origin?.capture?.samples ?? null;
  const trace = useMiniTrace(engine, facts, samples, origin?.capture?.timeUs ?? null, current.conditioning);
  // The capture comes into sight with its figure; its samples are zoomed to only when a person wants it.
  const shownId = facts?.id ?? null;
  useEffect(() => {
    if (shownId !== null) actions.select(shownId);
  }, [shownId, actions]);

  if (asked === null) return null;
  const go = (next: Trail) => {
    setKept(next);
    actions.ask(next.at(-1) ?? null);
  };
  return (
    <WherefromPanel
      origin={origin}
      trail={trail.slice(0, -1).map((step) => {
        const before = originAt(step);
        return { title: before?.title ?? 'A figure that is gone', value: before?.value ?? '–' };
      })}
      onBack={(index) => go(backTo(trail, index))}
      onAsk={(step) => go(deeper(trail, stillProposed(step, asked)))}
      onClose={() => {
        actions.ask(null);
        actions.setHighlight(null);
        back();
      }}
      onShow={
        facts === undefined || samples === null
          ? null
          : () => actions.setHighlight({ captureId: facts.id, range: samples })
      }
      trace={trace}
      isStale={evaluating}
    />
  );
}

/** What a proposed calibration was made from belongs to the proposal, too. */
function stillProposed(step: FigureAsked, from: FigureAsked): FigureAsked {
  const isOfCalibration = step.kind === 'calibration' || step.kind === 'calibration-point';
  return isOfCalibration && 'proposed' in from && from.proposed === true ? { ...step, proposed: true } : step;
}

/** Remembers what had the focus when the panel opened, and gives it back. */
function useFocusBack(isOpen: boolean): () => void {
  const from = useRef<HTMLElement | null>(null);
  const wasOpen = useRef(false);
  if (isOpen && !wasOpen.current) from.current = document.activeElement as HTMLElement | null;
  useEffect(() => {
    wasOpen.current = isOpen;
  });
  return () => {
    const element = from.current;
    requestAnimationFrame(() => {
      if (element?.isConnected) element.focus();
    });
  };
}

const columns = 320;
/** On either side of the samples stands so much of their own width. */
const margin = 0.6;

function useMiniTrace(
  engine: Engine,
  facts: TraceFacts | undefined,
  samples: { readonly first: number; readonly last: number } | null,
  atUs: number | null,
  conditioning: Review['conditioning'],
): MiniTraceShown | null {
  const first = samples?.first ?? null;
  const last = samples?.last ?? null;
  const ask = useMemo(() => {
    if (facts === undefined || first === null || last === null) return null;
    const band = { fromUs: timeAtUs(facts, first), toUs: timeAtUs(facts, last) };
    const wide = Math.max(band.toUs - band.fromUs, 8 * facts.stepUs) * margin;
    const window = { fromUs: band.fromUs - wide, toUs: band.toUs + wide };
    return async (signal: AbortSignal): Promise<MiniTraceShown | null> => {
      const drawn = await engine.ask(
        'draw',
        { capture: facts.id, conditioning, layers: ['rectified', 'envelope'], ...window, columns },
        { signal },
      );
      const [wave, envelope] = drawn.ok ? drawn.value.layers : [];
      if (wave === undefined || envelope === undefined) return null;
      return { ...window, band, atUs, wave: wave.drawing, envelope: envelope.drawing };
    };
  }, [engine, facts, first, last, atUs, conditioning]);
  const ignore = useCallback(() => {}, []);
  return useAnswer<MiniTraceShown | null>(ask, null, ignore);
}
