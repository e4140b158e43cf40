import type { CaptureId } from '../../core/capture/capture.ts';
import { columnSpans, type ExtremaPyramid, extremaIn, extremaPyramid } from '../../core/capture/extrema-pyramid.ts';
import { importBytes } from '../../core/import/import-file.ts';
import { inferEverything } from '../../core/import/import-recipe.ts';
import { invariant } from '../../core/invariant.ts';
import { failure, type Outcome, success } from '../../core/outcome.ts';
import { type ConditioningRecipe, condition } from '../../core/signal/conditioning.ts';
import type { Answer, Calls, Drawing, DrawingAsked, OpenedFile, Request, TraceFacts } from './messages.ts';

/** The record as it was captured, in % of full screen height: nothing filtered, nothing taken out. */
const asCaptured: ConditioningRecipe = { baseline: 'none', bandPass: null, padding: 'none', peak: 'log-parabola' };

interface Shown {
  readonly startUs: number;
  readonly stepUs: number;
  readonly pyramid: ExtremaPyramid;
}

/** Answers requests as they come; keeps the captures that were opened. Runs in the worker, and in tests without one. */
export function answering(): (request: Request) => Answer {
  const shown = new Map<CaptureId, Shown>();
  return (request) => {
    try {
      return {
        id: request.id,
        ok: true,
        answer: request.call === 'open' ? open(shown, request.ask) : draw(shown, request.ask),
      };
    } catch (error) {
      return { id: request.id, ok: false, mistake: error instanceof Error ? error.message : String(error) };
    }
  };
}

function open(shown: Map<CaptureId, Shown>, { file, bytes }: Calls['open']['ask']): Outcome<OpenedFile> {
  const imported = importBytes(file, bytes, inferEverything, null);
  if (!imported.ok) return imported;
  const traces: TraceFacts[] = [];
  for (const { waveform, metadata: _, ...known } of imported.value.captures) {
    const trace = condition(waveform, asCaptured);
    if (!trace.ok) return failure(...trace.problems.map((p) => ({ ...p, place: { ...p.place, file } })));
    const { startUs, stepUs, samples } = trace.value;
    const pyramid = extremaPyramid(samples);
    shown.set(known.id, { startUs, stepUs, pyramid });
    const extremaPercent = extremaIn(pyramid, { first: 0, last: samples.length - 1 });
    traces.push({
      ...known,
      startUs,
      stepUs,
      sampleCount: samples.length,
      rectification: waveform.rectification,
      extremaPercent,
    });
  }
  return success({ file, traces, asks: imported.value.asks }, imported.warnings);
}

function draw(shown: Map<CaptureId, Shown>, { capture, fromUs, toUs, columns }: DrawingAsked): Drawing {
  const of = shown.get(capture);
  invariant(of !== undefined, 'a drawing asked of a capture that was never opened');
  const { startUs, stepUs, pyramid } = of;
  const [from, to] = [(fromUs - startUs) / stepUs, (toUs - startUs) / stepUs];
  if (to - from < columns) {
    const first = Math.min(pyramid.samples.length, Math.max(0, Math.floor(from)));
    const heights = pyramid.samples.slice(first, Math.max(first, Math.ceil(to) + 1));
    return { kind: 'samples', startUs: startUs + first * stepUs, stepUs, heights };
  }
  const { firstColumn, minima, maxima } = columnSpans(pyramid, from, to, columns);
  const columnUs = (toUs - fromUs) / columns;
  return { kind: 'spans', startUs: fromUs + firstColumn * columnUs, columnUs, minima, maxima };
}

/** The arrays of an answer that move to the page instead of being copied. */
export function transfers(answer: Answer): ArrayBufferLike[] {
  if (!answer.ok || !('kind' in answer.answer)) return [];
  const drawing = answer.answer;
  return drawing.kind === 'samples' ? [drawing.heights.buffer] : [drawing.minima.buffer, drawing.maxima.buffer];
}
