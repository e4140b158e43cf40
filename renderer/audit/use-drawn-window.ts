import { useEffect } from 'react';
import { useWorkbench } from '../state/workbench.ts';
import type { WindowWanted } from '../state/workbench-state.ts';

/** A window that the next drag on the trace gives; whoever leaves the procedure no longer wants it. */
export function useDrawnWindow(): {
  readonly drawing: string | null;
  readonly onDraw: (wanted: WindowWanted | null) => void;
} {
  const wanted = useWorkbench((workbench) => workbench.windowWanted);
  const actions = useWorkbench((workbench) => workbench.actions);
  useEffect(() => () => actions.wantWindow(null), [actions]);
  return { drawing: wanted?.name ?? null, onDraw: actions.wantWindow };
}
