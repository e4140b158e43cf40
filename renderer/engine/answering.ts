import { timeFrequencyPicture } from '../../core/compare/time-frequency-picture.ts';
import { invariant } from '../../core/invariant.ts';
import { type Outcome, type Problem, success } from '../../core/outcome.ts';
import { openReview, reviewText } from '../../core/review/open-review.ts';
import { emptyReview, type Review } from '../../core/review/review.ts';
import { findEchoes } from '../../core/signal/echoes.ts';
import { examineTrace, factsOf } from '../../core/steps/examine.ts';
import { depthImageOf } from './depth-image.ts';
import { drawLayers, heightAt } from './drawing-asked.ts';
import { ExaminationStore, evaluatePaused, type Readable } from './evaluating.ts';
import { Holdings } from './holdings.ts';
import type { Answer, CallName, Calls, Decisions, Drawing, Progress, Request } from './messages.ts';
import { Cancelled, type Control, pausing } from './pauses.ts';
import { piecesOf } from './pieces.ts';
import { previewOf } from './previewing.ts';
import { CellStore, pictureOf } from './series-image.ts';
import { type StoredTrace, TraceStore } from './trace-store.ts';

type Handlers = {
  readonly [Name in CallName]: (
    ask: Calls[Name]['ask'],
    control: Control,
  ) => Calls[Name]['answer'] | Promise<Calls[Name]['answer']>;
};

export type Post = (answer: Answer, transfer: readonly Transferable[]) => void;

/** Answers requests as they come, several at a time where one of them pauses. Runs in the worker, and in tests without one. */
export function answering(post: Post): (request: Request) => void {
  const handlers = handlersOver();
  const cancelled = new Map<number, boolean>();

  return (request) => {
    if (request.call === 'cancel') {
      if (cancelled.has(request.id)) cancelled.set(request.id, true);
      return;
    }
    cancelled.set(request.id, false);
    void answer(request).finally(() => cancelled.delete(request.id));
  };

  async function answer(request: Exclude<Request, { call: 'cancel' }>): Promise<void> {
    const { id, call } = request;
    const isCancelled = () => cancelled.get(id) === true;
    const control: Control = {
      progress: throttled((progress) => post({ id, kind: 'progress', progress }, [])),
      pause: pausing(isCancelled),
    };
    try {
      const handler = handlers[call] as (ask: unknown, control: Control) => unknown;
      const answered = await handler(request.ask, control);
      const { pieces, rest } = piecesOf(call, answered);
      for (const { list, items } of pieces) post({ id, kind: 'piece', list, items }, []);
      post({ id, kind: 'done', answer: rest }, transfersOf(call, rest));
    } catch (error) {
      if (error instanceof Cancelled) post({ id, kind: 'cancelled' }, []);
      else post({ id, kind: 'mistake', mistake: error instanceof Error ? error.message : String(error) }, []);
    }
  }
}

function handlersOver(): Handlers {
  const holdings = new Holdings();
  const traces = new TraceStore();
  const examinations = new ExaminationStore();
  const cells = new CellStore();
  const readable = (): Readable => ({
    sources: holdings.current(),
    manifestProblems: holdings.problemsOfManifests(),
    traces,
    examinations,
  });
  const whole = (decisions: Decisions): Review => ({ ...decisions, ...holdings.review() });

  return {
    import: ({ files }, control) => holdings.takeIn(files, control),
    preview: async (asked, control) => previewOf(asked, await holdings.bytes(asked.sha256), control),
    async sources(told, control) {
      const known = await holdings.tell(told, control);
      traces.keepOnly(holdings.waveforms());
      return known;
    },
    evaluate: ({ decisions }, control) => evaluatePaused(whole(decisions), readable(), control),
    readOne({ capture: id, plan }) {
      const capture = holdings.capture(id);
      return onTrace(
        traces.getForScreen(capture.waveform, plan.conditioning),
        id,
        ({ trace }) => examineTrace(factsOf(capture), trace, { ...plan, echoes: null }).readings,
      );
    },
    async fitPreview({ decision, conditioning }, control) {
      const review: Review = { ...whole({ ...emptyReview, conditioning }), calibration: decision };
      const evaluation = await evaluatePaused(review, readable(), control);
      invariant(evaluation.calibration !== null, 'a calibration that was asked for is answered');
      return evaluation.calibration;
    },
    draw: (asked) =>
      onTrace(
        traces.getForScreen(holdings.capture(asked.capture).waveform, asked.conditioning),
        asked.capture,
        (stored) => drawLayers(stored, asked),
      ),
    echoes: (asked) =>
      onTrace(
        traces.getForScreen(holdings.capture(asked.capture).waveform, asked.conditioning),
        asked.capture,
        ({ trace }) => ({
          echoes: findEchoes(trace, asked),
          noisePercent: trace.noisePercent,
          deadZoneEndUs: trace.deadZoneEndUs,
          saturated: trace.saturated,
        }),
      ),
    heights: ({ capture, conditioning, timesUs }) =>
      onTrace(traces.getForScreen(holdings.capture(capture).waveform, conditioning), capture, ({ trace }) =>
        timesUs.map((timeUs) => heightAt(trace.envelope, trace, timeUs)),
      ),
    timeFrequency({ capture: id, conditioning, gate, method }) {
      const stored = traces.getForScreen(holdings.capture(id).waveform, { ...conditioning, bandPass: null });
      const shown = onTrace(stored, id, ({ trace }) => timeFrequencyPicture(id, trace, gate, method));
      return shown.ok ? shown.value : shown;
    },
    picture: (asked, control) => pictureOf(asked, (id) => holdings.capture(id), traces, cells, control),
    depthImage: (asked, control) => depthImageOf(asked, (id) => holdings.capture(id), traces, control),
    metadata: ({ capture }) => holdings.capture(capture).metadata,
    openReview: ({ file, text }) => openReview(file, text),
    reviewText: ({ decisions }) => reviewText(whole(decisions)),
    // What is wanted now and then comes when it is.
    async report({ decisions, ...asked }) {
      const { reportOf } = await import('./reporting.ts');
      return reportOf(whole(decisions), await holdings.held(), asked);
    },
    async package({ decisions, ...asked }, control) {
      const { packageOf } = await import('./reporting.ts');
      return packageOf(whole(decisions), await holdings.held(), asked, control);
    },
    async verify({ file, content, version }, control) {
      const { verificationOf } = await import('./reporting.ts');
      return verificationOf(file, content, version, control);
    },
    forget() {
      holdings.forget();
      traces.keepOnly(new Set());
      examinations.clear();
      return null;
    },
  };
}

/** What a stored trace shows; where there is none, its problems at the capture they belong to. */
function onTrace<T>(stored: Outcome<StoredTrace>, captureId: string, look: (stored: StoredTrace) => T): Outcome<T> {
  if (stored.ok) return success(look(stored.value));
  const at = (p: Problem): Problem => ({ ...p, place: { ...p.place, file: captureId } });
  return { ok: false, problems: stored.problems.map(at) };
}

/** Not more often than the screen can show. */
const progressMs = 50;

function throttled(tell: (progress: Progress) => void): (progress: Progress) => void {
  let toldAt = performance.now();
  return (progress) => {
    const now = performance.now();
    if (now - toldAt < progressMs) return;
    toldAt = now;
    tell(progress);
  };
}

/** The arrays of an answer that move to the page instead of being copied. */
export function transfersOf(call: CallName, answer: unknown): Transferable[] {
  switch (call) {
    case 'draw': {
      const drawn = answer as Calls['draw']['answer'];
      return drawn.ok ? drawn.value.layers.flatMap(({ drawing }) => buffersOf(drawing)) : [];
    }
    case 'picture':
      return [(answer as Calls['picture']['answer']).percent.buffer];
    case 'depthImage': {
      const { percent, leg, capture, sample } = answer as Calls['depthImage']['answer'];
      return [percent.buffer, leg.buffer, capture.buffer, sample.buffer];
    }
    case 'preview':
      return (answer as Calls['preview']['answer']).thumbnails.flatMap(({ minima, maxima }) => [
        minima.buffer as ArrayBuffer,
        maxima.buffer as ArrayBuffer,
      ]);
    default:
      return [];
  }
}

function buffersOf(drawing: Drawing): ArrayBuffer[] {
  const arrays = drawing.kind === 'samples' ? [drawing.heights] : [drawing.minima, drawing.maxima];
  return arrays.map((array) => array.buffer as ArrayBuffer);
}
