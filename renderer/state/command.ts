import type { State, Workbench } from './workbench-state.ts';

/** What labels and states of commands depend on: not what is shown of a trace, so that panning does not draw the menus anew. */
export type CommandState = Pick<
  State,
  | 'review'
  | 'name'
  | 'unsaved'
  | 'saving'
  | 'undoName'
  | 'redoName'
  | 'captures'
  | 'selected'
  | 'overlaid'
  | 'selectedGate'
  | 'drawingGate'
  | 'traceMode'
  | 'envelope'
  | 'importing'
  | 'evaluating'
  | 'recent'
>;

export function commandState(state: CommandState): CommandState {
  const { review, name, unsaved, saving, undoName, redoName, captures, selected } = state;
  const { overlaid, selectedGate, drawingGate, traceMode, envelope, importing, evaluating, recent } = state;
  const document = { review, name, unsaved, saving, undoName, redoName, recent };
  return {
    ...document,
    captures,
    selected,
    overlaid,
    selectedGate,
    drawingGate,
    traceMode,
    envelope,
    importing: importing === null ? null : underWay,
    evaluating,
  };
}

/** That files are read, and not how far: neither menus nor head are to be drawn anew with every file. */
const underWay: NonNullable<State['importing']> = { what: '', done: 0, total: 0 };

/** What a command can do beside the workbench's own actions: the page around it. */
export interface Shell {
  show(dialog: 'palette' | 'settings' | 'shortcuts' | 'about'): void;
  toggle(panel: 'captures' | 'procedures' | 'series'): void;
  /** Brings a procedure into sight, also where its panel is closed. */
  openProcedures(): void;
  /** Asks first where work is unsaved, and goes on unless the person stays. */
  leave(goOn: () => void): void;
}

export interface Doing {
  readonly workbench: Workbench;
  readonly shell: Shell;
}

export const menus = ['File', 'Edit', 'View', 'Help'] as const;
export type MenuName = (typeof menus)[number];

export interface Command {
  readonly id: string;
  /** May depend on what it would do: `Undo: move gate 'root'`. */
  readonly label: string | ((state: CommandState) => string);
  readonly menu: MenuName;
  /** Begins a new group within its menu. */
  readonly apart?: true;
  /** `$mod` is Ctrl, on a Mac ⌘; the first is the one shown. */
  readonly shortcuts?: readonly string[];
  /** Works in a text field too, where the field itself has no use for the keys. */
  readonly inTextFields?: true;
  readonly enabled?: (state: CommandState) => boolean;
  /** Left out of menu and palette where there is nothing that it could be about. */
  readonly shown?: (state: CommandState) => boolean;
  run(doing: Doing): void;
}

export function labelOf(command: Command, state: CommandState): string {
  return typeof command.label === 'string' ? command.label : command.label(state);
}

export function isEnabled(command: Command, state: CommandState): boolean {
  return isShown(command, state) && (command.enabled?.(state) ?? true);
}

export function isShown(command: Command, state: CommandState): boolean {
  return command.shown?.(state) ?? true;
}

/** Carries a command out where it can be; says whether it was. */
export function carryOut(command: Command, doing: Doing): boolean {
  if (!isEnabled(command, doing.workbench)) return false;
  command.run(doing);
  return true;
}
