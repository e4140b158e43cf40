import { pan, type Viewport, type ViewportLimits, wholeOf, zoomAbout } from './viewport.ts';

/** A move of the viewport that a person can ask for: the buttons below the trace and its keys read this one list. */
export interface ViewportCommand {
  readonly label: string;
  /** As `KeyboardEvent.key` has them; the first is shown. */
  readonly keys: readonly string[];
  readonly keyShown: string;
  /** What stands on its button; the label is said and shown when the pointer rests on it. */
  readonly sign: string;
  run(view: Viewport, limits: ViewportLimits): Viewport;
}

const zoomStep = 1.5;
/** Share of the shown time by which one key press moves on. */
const panStep = 0.2;

export const viewportCommands: readonly ViewportCommand[] = [
  {
    label: 'Zoom in',
    keys: ['+', '='],
    keyShown: '+',
    sign: '+',
    run: (view, limits) => zoomAbout(view, middleOf(view), 1 / zoomStep, limits),
  },
  {
    label: 'Zoom out',
    keys: ['-', '−'],
    keyShown: '−',
    sign: '−',
    run: (view, limits) => zoomAbout(view, middleOf(view), zoomStep, limits),
  },
  {
    label: 'Earlier',
    keys: ['ArrowLeft'],
    keyShown: 'Left',
    sign: '←',
    run: (view, limits) => pan(view, -panStep * lengthOf(view), limits),
  },
  {
    label: 'Later',
    keys: ['ArrowRight'],
    keyShown: 'Right',
    sign: '→',
    run: (view, limits) => pan(view, panStep * lengthOf(view), limits),
  },
  {
    label: 'Start of the record',
    keys: ['Home'],
    keyShown: 'Home',
    sign: '⇤',
    run: (view, limits) => pan(view, limits.fromUs - limits.toUs, limits),
  },
  {
    label: 'End of the record',
    keys: ['End'],
    keyShown: 'End',
    sign: '⇥',
    run: (view, limits) => pan(view, limits.toUs - limits.fromUs, limits),
  },
  { label: 'All of the record', keys: ['0'], keyShown: '0', sign: 'All', run: (_view, limits) => wholeOf(limits) },
];

function middleOf(view: Viewport): number {
  return (view.fromUs + view.toUs) / 2;
}

function lengthOf(view: Viewport): number {
  return view.toUs - view.fromUs;
}
