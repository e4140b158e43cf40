import { useEffect, useMemo, useState } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { Extrema } from '../../core/capture/extrema-pyramid.ts';
import type { ConditioningRecipe } from '../../core/signal/conditioning.ts';
import type { Engine } from '../engine/engine.ts';
import type { Drawing, Layer, TraceFacts } from '../engine/messages.ts';
import { newestWins } from '../engine/newest-wins.ts';
import { onScreen } from '../parts/on-screen.ts';
import type { TraceMode } from './trace-props.ts';
import { limitsOf, limitsOfAll, type Viewport, wholeOf, withMargins } from './viewport.ts';

/** What the worker has drawn of a capture. */
export interface Drawn {
  readonly wave: Drawing;
  readonly envelope: Drawing | null;
}

/** The whole of a capture, in both ways of drawing it. */
export interface WholeDrawn {
  readonly samples: Drawing;
  readonly rectified: Drawing;
  readonly extremaPercent: Extrema;
}

/** Columns of the drawing of a whole record: more than a strip has pixels. */
const overviewColumns = 2000;

/**
 * Keeps drawings of the captures shown up with the window: while one is awaited the newest window waits for its turn, and the drawing before stays.
 * A margin beside the window is drawn along, so that there is something to see while the trace is dragged.
 */
export function useDrawings(
  engine: Engine,
  captures: readonly TraceFacts[],
  conditioning: ConditioningRecipe,
  mode: TraceMode,
  envelope: boolean,
  view: Viewport,
  columns: number | null,
  onFailure: (error: unknown) => void,
): { readonly drawn: ReadonlyMap<CaptureId, Drawn>; readonly problems: readonly string[] } {
  const [drawn, setDrawn] = useState<ReadonlyMap<CaptureId, Drawn>>(new Map());
  const [problems, setProblems] = useState<readonly string[]>([]);
  const submit = useMemo(() => newestWins(onFailure), [onFailure]);

  useEffect(() => {
    if (columns === null || captures.length === 0) return;
    const window = withMargins(view, limitsOfAll(captures));
    const layers: Layer[] = [mode === 'rf' ? 'samples' : 'rectified', ...(envelope ? (['envelope'] as const) : [])];
    const wanted = Math.round((columns * (window.toUs - window.fromUs)) / (view.toUs - view.fromUs));
    submit(async () => {
      const answers = await Promise.all(
        captures.map(({ id }) =>
          engine.ask('draw', { capture: id, conditioning, layers, ...window, columns: Math.max(1, wanted) }),
        ),
      );
      const next = new Map<CaptureId, Drawn>();
      const sentences = new Set<string>();
      answers.forEach((answer, i) => {
        if (!answer.ok) for (const { sentence } of answer.problems) sentences.add(onScreen(sentence));
        else {
          const [wave, over] = answer.value.layers;
          if (wave !== undefined) next.set(captures[i]!.id, { wave: wave.drawing, envelope: over?.drawing ?? null });
        }
      });
      setDrawn(next);
      setProblems([...sentences]);
    });
  }, [engine, captures, conditioning, mode, envelope, view, columns, submit]);

  return { drawn, problems };
}

/** The captures whole: for the strip below the plot, and for the heights that the plot must show. */
export function useWholeDrawings(
  engine: Engine,
  captures: readonly TraceFacts[],
  conditioning: ConditioningRecipe,
  onFailure: (error: unknown) => void,
): ReadonlyMap<CaptureId, WholeDrawn> {
  const [whole, setWhole] = useState<ReadonlyMap<CaptureId, WholeDrawn>>(new Map());
  const submit = useMemo(() => newestWins(onFailure), [onFailure]);

  useEffect(() => {
    submit(async () => {
      const answers = await Promise.all(
        captures.map((capture) =>
          engine.ask('draw', {
            capture: capture.id,
            conditioning,
            layers: ['samples', 'rectified'],
            ...wholeOf(limitsOf(capture)),
            columns: overviewColumns,
          }),
        ),
      );
      setWhole(
        new Map(
          answers.flatMap((answer, i): [CaptureId, WholeDrawn][] => {
            const [samples, rectified] = answer.ok ? answer.value.layers : [];
            if (samples === undefined || rectified === undefined) return [];
            const { drawing, extremaPercent } = samples;
            return [[captures[i]!.id, { samples: drawing, rectified: rectified.drawing, extremaPercent }]];
          }),
        ),
      );
    });
  }, [engine, captures, conditioning, submit]);

  return whole;
}
