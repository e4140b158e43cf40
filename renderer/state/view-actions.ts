import type { CaptureId } from '../../core/capture/capture.ts';
import { noCursors } from '../trace/cursors.ts';
import { keptFor, limitsOf, limitsOfAll, nullIfWhole, type Viewport } from '../trace/viewport.ts';
import type { Desk } from './desk.ts';
import { tried } from './desk.ts';
import type { Actions, State, ViewState } from './workbench-state.ts';

/** How a review is first seen. Style, theme and layout follow the person, not the review. */
export const freshView: Omit<ViewState, 'style' | 'theme' | 'layout'> = {
  selected: null,
  overlaid: [],
  view: null,
  selectedGate: null,
  drawingGate: false,
  windowWanted: null,
  cursors: noCursors,
  traceMode: 'rf',
  envelope: false,
  asked: null,
  highlight: null,
  indication: null,
  procedure: 'import',
};

type ViewActions = Pick<
  Actions,
  | 'select'
  | 'overlay'
  | 'show'
  | 'selectGate'
  | 'setDrawingGate'
  | 'wantWindow'
  | 'setCursors'
  | 'setTraceMode'
  | 'setEnvelope'
  | 'ask'
  | 'setHighlight'
  | 'chooseIndication'
  | 'setProcedure'
  | 'setStyle'
  | 'setTheme'
  | 'setLayout'
  | 'dismissNotices'
>;

/** What is shown, and never enters the history. */
export function viewActions(desk: Desk): ViewActions {
  const { store, host } = desk;
  const set = store.setState;
  const keepSettings = () => {
    const { style, theme } = store.getState();
    void tried(desk, undefined, () => host.keepSettings({ ...style, theme }));
  };
  function select(captureId: CaptureId | null): void {
    desk.fallback = null;
    const { selected, overlaid, highlight, captures, view, indication, evaluation } = store.getState();
    const facts = captureId === null ? null : captures.get(captureId);
    if (captureId === selected || facts === undefined) return;
    const shownBy = evaluation?.scan?.indications.find(({ name }) => name === indication)?.captures ?? [];
    set({
      // Walking along an indication's own captures one stays with it.
      indication: captureId !== null && shownBy.includes(captureId) ? indication : null,
      selected: captureId,
      view: facts === null ? view : keptFor(view, limitsOf(facts)),
      overlaid: overlaid.filter((id) => id !== captureId),
      highlight: highlight?.captureId === captureId ? highlight : null,
      live: null,
    });
  }

  return {
    select,
    overlay: (captureIds) =>
      set(({ selected, captures }) => ({ overlaid: captureIds.filter((id) => id !== selected && captures.has(id)) })),
    show: (view) => set((state) => ({ view: view === null ? null : keptView(view, state) })),
    selectGate: (selectedGate) => set({ selectedGate }),
    setDrawingGate: (drawingGate) => set({ drawingGate, windowWanted: null }),
    wantWindow: (windowWanted) => set({ windowWanted, drawingGate: windowWanted !== null }),
    setCursors: (cursors) => set({ cursors }),
    setTraceMode: (traceMode) => set({ traceMode }),
    setEnvelope: (envelope) => set({ envelope }),
    ask: (asked) => set({ asked }),
    setHighlight(highlight) {
      if (highlight !== null) select(highlight.captureId);
      set({ highlight });
    },
    chooseIndication(name) {
      const { evaluation } = store.getState();
      const peak = evaluation?.scan?.indications.find((one) => one.name === name)?.peak ?? null;
      if (peak !== null) {
        select(peak.captureId);
        const { from } = peak.reading;
        set({ highlight: from === null ? null : { captureId: peak.captureId, range: from } });
      }
      set(name === null ? { indication: null } : { indication: name, selectedGate: null });
    },
    setProcedure: (procedure) => set({ procedure }),
    setStyle(style) {
      set({ style });
      keepSettings();
    },
    setTheme(theme) {
      set({ theme });
      keepSettings();
    },
    setLayout(change) {
      set(({ layout }) => ({ layout: change(layout) }));
      desk.layouts.changed();
    },
    dismissNotices: () => set({ notices: [] }),
  };
}

function keptView(view: Viewport, { selected, overlaid, captures }: State): Viewport | null {
  const shown = [selected, ...overlaid].flatMap((id) => (id === null ? [] : (captures.get(id) ?? [])));
  return shown.length === 0 ? view : nullIfWhole(view, limitsOfAll(shown));
}
