import { useEffect, useMemo, useState } from 'react';
import { type Problem, problem } from '../../core/outcome.ts';
import type { Engine } from '../engine/engine.ts';
import type { Drawing, TraceFacts } from '../engine/messages.ts';
import { newestWins } from '../engine/newest-wins.ts';
import { ProblemList } from '../parts/ProblemList.tsx';
import { TraceView } from './TraceView.tsx';
import { limitsOf, type Viewport, wholeOf } from './viewport.ts';

/** A trace with its viewport: asks the engine for what is to be drawn whenever either changes. */
export function Trace({ engine, trace }: { readonly engine: Engine; readonly trace: TraceFacts }) {
  const [view, setView] = useState<Viewport>(() => wholeOf(limitsOf(trace)));
  const [columns, setColumns] = useState<number | null>(null);
  const [drawing, setDrawing] = useState<Drawing | null>(null);
  const [mistake, setMistake] = useState<Problem | null>(null);
  const submit = useMemo(() => newestWins((error) => setMistake(drawingFailed(trace.file, error))), [trace]);

  useEffect(() => {
    if (columns === null) return;
    submit(async () => setDrawing(await engine.ask('draw', { capture: trace.id, ...view, columns })));
  }, [engine, trace, view, columns, submit]);

  if (mistake !== null) return <ProblemList title="The trace cannot be drawn" problems={[mistake]} />;
  return <TraceView trace={trace} drawing={drawing} view={view} onView={setView} onColumns={setColumns} />;
}

function drawingFailed(file: string, error: unknown): Problem {
  const sentence = error instanceof Error ? error.message : String(error);
  return problem('not-drawn', { file }, `${sentence} Load this page again; the file itself is unharmed.`);
}
