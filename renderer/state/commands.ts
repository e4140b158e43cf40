import type { Command, CommandState } from './command.ts';
import type { State, Workbench } from './workbench-state.ts';

const hasCaptures = (state: CommandState): boolean => state.captures.size > 0;
const hasSelection = (state: CommandState): boolean => state.selected !== null;
const mostRecent = 5;

/** **The one list**: menus, palette, shortcuts, their help and the desktop window's own menu all read it. */
export const commands: readonly Command[] = [
  {
    id: 'open-captures',
    label: 'Open captures …',
    menu: 'File',
    shortcuts: ['$mod+o'],
    inTextFields: true,
    run: ({ workbench }) => void workbench.actions.openFiles(),
  },
  {
    id: 'open-folder',
    label: 'Open a folder of captures …',
    menu: 'File',
    shortcuts: ['$mod+Shift+o'],
    inTextFields: true,
    run: ({ workbench }) => void workbench.actions.openFolder(),
  },
  {
    id: 'new-review',
    label: 'New review',
    menu: 'File',
    apart: true,
    shortcuts: ['$mod+Alt+KeyN'],
    run: ({ workbench, shell }) => shell.leave(() => void workbench.actions.newReview()),
  },
  {
    id: 'open-review',
    label: 'Open a review …',
    menu: 'File',
    shortcuts: ['$mod+Alt+KeyO'],
    run: ({ workbench, shell }) => shell.leave(() => void workbench.actions.openReview()),
  },
  {
    id: 'open-sample',
    label: 'Open the sample of a shift',
    menu: 'File',
    run: ({ workbench, shell }) => shell.leave(() => void workbench.actions.openSample()),
  },
  {
    id: 'open-sample-instrument',
    label: 'Open the sample of an instrument’s yearly check',
    menu: 'File',
    run: ({ workbench, shell }) => shell.leave(() => void workbench.actions.openSample('instrument')),
  },
  {
    id: 'open-sample-probes',
    label: 'Open the sample of three probes',
    menu: 'File',
    run: ({ workbench, shell }) => shell.leave(() => void workbench.actions.openSample('probes')),
  },
  {
    id: 'save',
    label: 'Save',
    menu: 'File',
    apart: true,
    shortcuts: ['$mod+s'],
    inTextFields: true,
    enabled: (state) => !state.saving,
    run: ({ workbench }) => void workbench.actions.save(),
  },
  {
    id: 'save-as',
    label: 'Save as …',
    menu: 'File',
    shortcuts: ['$mod+Shift+s'],
    inTextFields: true,
    enabled: (state) => !state.saving,
    run: ({ workbench }) => void workbench.actions.saveAs(),
  },
  ...Array.from({ length: mostRecent }, (_, i) => openRecent(i)),

  {
    id: 'undo',
    label: (state) => named('Undo', state.undoName),
    menu: 'Edit',
    shortcuts: ['$mod+z'],
    enabled: (state) => state.undoName !== null,
    run: ({ workbench }) => workbench.actions.undo(),
  },
  {
    id: 'redo',
    label: (state) => named('Redo', state.redoName),
    menu: 'Edit',
    shortcuts: ['$mod+Shift+z', '$mod+y'],
    enabled: (state) => state.redoName !== null,
    run: ({ workbench }) => workbench.actions.redo(),
  },
  {
    id: 'draw-gate',
    label: (state) => (state.drawingGate ? 'Stop drawing a gate' : 'Draw a gate'),
    menu: 'Edit',
    apart: true,
    shortcuts: ['$mod+g'],
    enabled: hasSelection,
    run: ({ workbench }) => workbench.actions.setDrawingGate(!workbench.drawingGate),
  },
  {
    id: 'remove-gate',
    label: ({ selectedGate }) => (selectedGate === null ? 'Remove the gate' : `Remove gate '${selectedGate}'`),
    menu: 'Edit',
    enabled: ({ selectedGate }) => selectedGate !== null,
    run({ workbench }) {
      if (workbench.selectedGate !== null) {
        workbench.actions.edit({ kind: 'remove-gate', name: workbench.selectedGate });
      }
    },
  },
  {
    id: 'settings',
    label: 'Settings …',
    menu: 'Edit',
    apart: true,
    shortcuts: ['$mod+,'],
    inTextFields: true,
    run: ({ shell }) => shell.show('settings'),
  },

  {
    id: 'palette',
    label: 'All commands …',
    menu: 'View',
    shortcuts: ['$mod+k'],
    inTextFields: true,
    run: ({ shell }) => shell.show('palette'),
  },
  {
    id: 'captures-panel',
    label: 'Captures: show or hide',
    menu: 'View',
    apart: true,
    shortcuts: ['$mod+Alt+Digit1'],
    run: ({ shell }) => shell.toggle('captures'),
  },
  {
    id: 'procedures-panel',
    label: 'Procedures: show or hide',
    menu: 'View',
    shortcuts: ['$mod+Alt+Digit2'],
    run: ({ shell }) => shell.toggle('procedures'),
  },
  {
    id: 'series-panel',
    label: 'Series: show or hide',
    menu: 'View',
    shortcuts: ['$mod+Alt+Digit3'],
    run: ({ shell }) => shell.toggle('series'),
  },
  procedure('import', 'Go to import', 'Alt+Digit1', true),
  procedure('calibration', 'Go to distance calibration', 'Alt+Digit2'),
  procedure('readings', 'Go to readings', 'Alt+Digit3'),
  procedure('drift', 'Go to drift checks', 'Alt+Digit4'),
  procedure('time-base', 'Go to time-base linearity', 'Alt+Digit5'),
  procedure('screen-height', 'Go to screen-height linearity', 'Alt+Digit6'),
  procedure('gain', 'Go to gain linearity', 'Alt+Digit7'),
  procedure('sensitivity', 'Go to sensitivity', 'Alt+Digit8'),
  procedure('verdicts', 'Go to all verdicts', 'Alt+Digit9'),
  procedure('report', 'Go to the report', 'Alt+KeyR'),
  procedure('part', 'Go to part and probe', 'Alt+KeyP'),
  procedure('location', 'Go to location', 'Alt+KeyL'),
  procedure('indications', 'Go to indications', 'Alt+KeyI'),
  procedure('probes', 'Go to probes', 'Alt+KeyB'),
  procedure('comparison', 'Go to the comparison of probes', 'Alt+KeyC'),
  procedure('material', 'Go to the material', 'Alt+KeyM'),
  {
    id: 'next-capture',
    label: 'Next capture',
    menu: 'View',
    apart: true,
    shortcuts: ['Alt+ArrowDown'],
    enabled: hasCaptures,
    run: ({ workbench }) => selectBeside(workbench, 1),
  },
  {
    id: 'previous-capture',
    label: 'Previous capture',
    menu: 'View',
    shortcuts: ['Alt+ArrowUp'],
    enabled: hasCaptures,
    run: ({ workbench }) => selectBeside(workbench, -1),
  },
  {
    id: 'overlay-none',
    label: 'Take the overlaid captures off',
    menu: 'View',
    enabled: (state) => state.overlaid.length > 0,
    run: ({ workbench }) => workbench.actions.overlay([]),
  },
  {
    id: 'whole-record',
    label: 'Show the whole record',
    menu: 'View',
    apart: true,
    shortcuts: ['Alt+Digit0'],
    enabled: hasSelection,
    run: ({ workbench }) => workbench.actions.show(null),
  },
  {
    id: 'trace-mode',
    label: ({ traceMode }) => (traceMode === 'rf' ? 'Show the trace rectified' : 'Show the trace as RF'),
    menu: 'View',
    enabled: hasSelection,
    run: ({ workbench }) => workbench.actions.setTraceMode(workbench.traceMode === 'rf' ? 'rectified' : 'rf'),
  },
  {
    id: 'envelope',
    label: ({ envelope }) => (envelope ? 'Hide the envelope' : 'Show the envelope'),
    menu: 'View',
    enabled: hasSelection,
    run: ({ workbench }) => workbench.actions.setEnvelope(!workbench.envelope),
  },
  {
    id: 'cancel-import',
    label: 'Stop taking in files',
    menu: 'View',
    apart: true,
    shown: (state) => state.importing !== null,
    run: ({ workbench }) => workbench.actions.cancelImport(),
  },
  {
    id: 'cancel-evaluation',
    label: 'Stop evaluating',
    menu: 'View',
    shown: (state) => state.evaluating,
    run: ({ workbench }) => workbench.actions.cancelEvaluation(),
  },

  {
    id: 'shortcuts',
    label: 'Keys and shortcuts',
    menu: 'Help',
    shortcuts: ['F1'],
    inTextFields: true,
    run: ({ shell }) => shell.show('shortcuts'),
  },
  { id: 'about', label: 'About and cautions', menu: 'Help', run: ({ shell }) => shell.show('about') },
];

function named(verb: string, what: string | null): string {
  return what === null ? verb : `${verb}: ${what}`;
}

function procedure(id: State['procedure'], label: string, shortcut: string, apart = false): Command {
  return {
    id: `go-to-${id}`,
    label,
    menu: 'View',
    ...(apart ? { apart } : {}),
    shortcuts: [shortcut],
    run({ workbench, shell }) {
      workbench.actions.setProcedure(id);
      shell.openProcedures();
    },
  };
}

function openRecent(i: number): Command {
  return {
    id: `open-recent-${i + 1}`,
    label: ({ recent }) => `Open ${recent[i]?.name ?? ''}`,
    menu: 'File',
    ...(i === 0 ? { apart: true as const } : {}),
    shown: ({ recent }) => i < recent.length,
    run({ workbench, shell }) {
      const id = workbench.recent[i]?.id;
      if (id !== undefined) shell.leave(() => void workbench.actions.openRecent(id));
    },
  };
}

function selectBeside({ captures, selected, actions }: Workbench, step: 1 | -1): void {
  const ids = [...captures.keys()];
  const at = selected === null ? -1 : ids.indexOf(selected);
  const next = at < 0 ? ids[0] : ids[Math.min(ids.length - 1, Math.max(0, at + step))];
  if (next !== undefined && next !== selected) actions.select(next);
}
