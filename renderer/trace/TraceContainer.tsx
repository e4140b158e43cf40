import { useCallback, useEffect, useMemo, useState } from 'react';
import { windowAbout } from '../../core/calibration/window-about.ts';
import type { CaptureId } from '../../core/capture/capture.ts';
import { type GateWindow, gateWindowUs } from '../../core/gate/gate.ts';
import type { Reading } from '../../core/gate/reading.ts';
import { problem } from '../../core/outcome.ts';
import type { Edit } from '../../core/review/edit.ts';
import type { Review } from '../../core/review/review.ts';
import type { Echo } from '../../core/signal/echoes.ts';
import { planForReadings } from '../../core/steps/read.ts';
import type { Engine } from '../engine/engine.ts';
import type { TraceFacts } from '../engine/messages.ts';
import { EmptyState } from '../parts/EmptyState.tsx';
import { ProblemList } from '../parts/ProblemList.tsx';
import { useWorkbench } from '../state/workbench.ts';
import type { Manner } from '../state/workbench-state.ts';
import { CaptureFacts } from './CaptureFacts.tsx';
import { withReflector } from './chosen-reflector.ts';
import { shownReflectors } from './shown-reflectors.ts';
import { shownWindows } from './shown-windows.ts';
import { TraceStage } from './TraceStage.tsx';
import type { ShownTrace } from './trace-props.ts';
import { useAnswer } from './use-answer.ts';
import { useDrawings, useWholeDrawings } from './use-drawings.ts';
import { limitsOfAll, wholeOf } from './viewport.ts';

/** The selected capture, and those laid over it, as the workbench has them. */
export function TraceContainer({ engine }: { readonly engine: Engine }) {
  const captures = useWorkbench((workbench) => workbench.captures);
  const selected = useWorkbench((workbench) => workbench.selected);
  const overlaid = useWorkbench((workbench) => workbench.overlaid);
  const shown = useMemo(
    () => [selected, ...overlaid].flatMap((id) => (id === null ? [] : (captures.get(id) ?? []))),
    [captures, selected, overlaid],
  );
  if (selected === null || !captures.has(selected)) {
    return (
      <EmptyState title="No capture is shown">Choose one from the list of captures, or drop files here.</EmptyState>
    );
  }
  return <ShownCaptures engine={engine} shown={shown} captures={captures} />;
}

const noEchoes: readonly Echo[] = [];
const noReadings: readonly Reading[] = [];
const noHeights: readonly (number | null)[] = [null, null];
/** Common practice: 5 % of full screen height is above the grass of most captures. */
const echoesAbovePercent = 5;

function ShownCaptures({
  engine,
  shown,
  captures,
}: {
  readonly engine: Engine;
  readonly shown: readonly TraceFacts[];
  readonly captures: ReadonlyMap<CaptureId, TraceFacts>;
}) {
  const first = shown[0]!;
  const review = useWorkbench((workbench) => workbench.review);
  const evaluation = useWorkbench((workbench) => workbench.evaluation);
  const live = useWorkbench((workbench) => workbench.live);
  const storedView = useWorkbench((workbench) => workbench.view);
  const selectedGate = useWorkbench((workbench) => workbench.selectedGate);
  const drawingGate = useWorkbench((workbench) => workbench.drawingGate);
  const windowWanted = useWorkbench((workbench) => workbench.windowWanted);
  const procedure = useWorkbench((workbench) => workbench.procedure);
  const cursors = useWorkbench((workbench) => workbench.cursors);
  const mode = useWorkbench((workbench) => workbench.traceMode);
  const envelope = useWorkbench((workbench) => workbench.envelope);
  const highlight = useWorkbench((workbench) => workbench.highlight);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);

  const { conditioning } = review;
  const [columns, setColumns] = useState<number | null>(null);
  const [mistake, setMistake] = useState<string | null>(null);
  const onFailure = useCallback(
    (error: unknown) => setMistake(error instanceof Error ? error.message : String(error)),
    [],
  );
  const view = useMemo(() => storedView ?? wholeOf(limitsOfAll(shown)), [storedView, shown]);
  const { drawn, problems } = useDrawings(engine, shown, conditioning, mode, envelope, view, columns, onFailure);
  // What could not be drawn a moment ago, of a capture that is gone by now, say, is of no concern once something is drawn.
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new drawing is what it waits for
  useEffect(() => setMistake(null), [drawn]);
  const whole = useWholeDrawings(engine, shown, conditioning, onFailure);
  // The trace comes first to the eye: what stands on it is not asked for before there is one.
  const isDrawn = drawn.size > 0;
  const traces = useMemo(
    () =>
      shown.map((facts): ShownTrace => {
        const { id, startUs, stepUs, sampleCount, rectification } = facts;
        const extremaPercent = whole.get(id)?.extremaPercent ?? {
          minimum: rectification === 'rf' ? -1 : 0,
          maximum: 1,
        };
        const drawing = drawn.get(id)?.wave ?? null;
        const over = drawn.get(id)?.envelope ?? null;
        const title = titleOf(facts, captures);
        return {
          captureId: id,
          title,
          startUs,
          stepUs,
          sampleCount,
          rectification,
          extremaPercent,
          drawing,
          envelope: over,
        };
      }),
    [shown, drawn, whole, captures],
  );
  const strip = whole.get(first.id);
  const overview = strip === undefined ? null : mode === 'rf' ? strip.samples : strip.rectified;

  const abovePercent = review.echoes?.abovePercent ?? echoesAbovePercent;
  const askEchoes = useCallback(
    async (signal: AbortSignal) => {
      const ask = { capture: first.id, conditioning, abovePercent, fromUs: null, toUs: null };
      const answer = await engine.ask('echoes', ask, { signal });
      return answer.ok ? answer.value.echoes.filter(({ flags }) => !flags.includes('in-dead-zone')) : noEchoes;
    },
    [engine, first, conditioning, abovePercent],
  );
  const echoes = useAnswer(isDrawn ? askEchoes : null, noEchoes, onFailure);

  const calibration = evaluation?.calibration?.calibration ?? null;
  const evaluated = useMemo(
    () => evaluation?.readings?.readings.filter(({ captureId }) => captureId === first.id) ?? noReadings,
    [evaluation, first],
  );
  // A capture that is not among those to be read is read for its own sake while it is looked at.
  const isBeside = evaluated.length === 0 && review.readings !== null && review.readings.gates.length > 0;
  const askReadings = useCallback(
    async (signal: AbortSignal) => {
      const plan = planForReadings(review, review.readings!, calibration);
      const answer = await engine.ask('readOne', { capture: first.id, plan }, { signal });
      return answer.ok ? answer.value : noReadings;
    },
    [engine, first, review, calibration],
  );
  const beside = useAnswer(isBeside && isDrawn ? askReadings : null, noReadings, onFailure);
  const readings = live?.captureId === first.id ? live.readings : isBeside ? beside : evaluated;

  const { firstUs, secondUs } = cursors;
  const askHeights = useCallback(
    async (signal: AbortSignal) => {
      const timesUs = [firstUs, secondUs].filter((timeUs) => timeUs !== null);
      const answer = await engine.ask('heights', { capture: first.id, conditioning, timesUs }, { signal });
      const heights = answer.ok ? [...answer.value] : [];
      return [firstUs, secondUs].map((timeUs) => (timeUs === null ? null : (heights.shift() ?? null)));
    },
    [engine, first, conditioning, firstUs, secondUs],
  );
  const hasCursors = firstUs !== null || secondUs !== null;
  const heights = useAnswer(hasCursors ? askHeights : null, noHeights, onFailure);
  const cursorPercents = useMemo(() => ({ first: heights[0] ?? null, second: heights[1] ?? null }), [heights]);

  const reflectors = useMemo(
    () =>
      shownWindows(review, procedure, first) ??
      shownReflectors(review.calibration, evaluation?.calibration ?? null, first),
    [review, procedure, evaluation, first],
  );
  const change = (edit: Edit, manner: Manner) => {
    actions.edit(edit, manner);
  };

  if (mistake !== null) {
    const sentence = `${mistake} Load this page again; the file itself is unharmed.`;
    return (
      <ProblemList
        title="The trace cannot be drawn"
        problems={[problem('not-drawn', { file: first.file }, sentence)]}
      />
    );
  }
  return (
    <TraceStage
      traces={traces}
      overview={overview}
      view={view}
      onView={actions.show}
      onColumns={setColumns}
      calibration={calibration}
      style={style}
      mode={mode}
      onMode={actions.setTraceMode}
      envelope={envelope}
      onEnvelope={actions.setEnvelope}
      gates={review.readings?.gates ?? []}
      readings={readings}
      selectedGate={selectedGate}
      onSelectGate={actions.selectGate}
      onGateEdit={change}
      onGateDrawn={(gate) => {
        if (windowWanted !== null) {
          const window = gateWindowUs(gate, calibration);
          if (window !== null) windowWanted.take(inNanoseconds(window));
          return;
        }
        actions.edit({ kind: 'add-gate', gate, at: null });
        actions.selectGate(gate.name);
      }}
      drawingGate={drawingGate}
      onDrawingGate={actions.setDrawingGate}
      onAsk={actions.ask}
      echoes={echoes}
      reflectors={reflectors}
      cursors={cursors}
      onCursors={actions.setCursors}
      cursorPercents={cursorPercents}
      highlight={highlight?.captureId === first.id ? highlight.range : null}
      recipe={conditioning}
      recipeProblems={problems}
      onRecipe={(recipe, manner) => change({ kind: 'set-conditioning', conditioning: recipe }, manner)}
      reflectorReplaces={reflectorReplaces(review.calibration)}
      onReflector={(index, distanceMm, toleranceMm) => {
        const reflector = { distanceMm, toleranceMm, ...windowAbout(echoes, index), capture: first.id };
        const height = echoes[index]!.amplitudePercent;
        const next = withReflector(review.calibration, first.id, reflector, height);
        change({ kind: 'set-calibration', calibration: next }, 'now');
        actions.setProcedure('calibration');
      }}
      facts={<CaptureFacts trace={first} style={style} />}
    />
  );
}

/** Drawn by hand, a window needs no more digits. */
function inNanoseconds({ fromUs, toUs }: GateWindow): GateWindow {
  const rounded = (timeUs: number) => Math.round(timeUs * 1000) / 1000;
  return { fromUs: rounded(fromUs), toUs: rounded(toUs) };
}

/** The file; where it has several traces, the trace before it, since that is what tells them apart. */
function titleOf({ file, trace }: TraceFacts, captures: ReadonlyMap<CaptureId, TraceFacts>): string {
  let ofFile = 0;
  for (const other of captures.values()) if (other.file === file) ofFile++;
  return ofFile > 1 ? `${trace} · ${file}` : file;
}

function reflectorReplaces(calibration: Review['calibration']): string | null {
  if (calibration === null) return null;
  if (calibration.kind === 'given')
    return 'The calibration in force was taken over as it stands. This begins a new one in its place; Undo brings it back.';
  return calibration.reflectors.kind === 'block'
    ? 'The calibration in force takes its reflectors from a block. This begins a new one, by windows, in its place; Undo brings it back.'
    : null;
}
