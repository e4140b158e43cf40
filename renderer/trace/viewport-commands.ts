import { pan, type Viewport, type ViewportLimits, wholeOf, zoomAbout } from './viewport.ts';

/** A move of the viewport that a person can ask for: the buttons below the trace and its keys read this one list. */
export interface ViewportCommand {
  readonly label: string;
  /** As `KeyboardEvent.key` has them; the first is shown. */
  readonly keys: readonly string[];
  readonly keyShown: string;
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
    run: (view, limits) => zoomAbout(view, middleOf(view), 1 / zoomStep, limits),
  },
  {
    label: 'Zoom out',
    keys: ['-', '−'],
    keyShown: '−',
    run: (view, limits) => zoomAbout(view, middleOf(view), zoomStep, limits),
  },
  {
    label: 'Earlier',
    keys: ['ArrowLeft'],
    keyShown: 'Left',
    run: (view, limits) => pan(view, -panStep * lengthOf(view), limits),
  },
  {
    label: 'Later',
    keys: ['ArrowRight'],
    keyShown: 'Right',
    run: (view, limits) => pan(view, panStep * lengthOf(view), limits),
  },
  { label: 'Whole record', keys: ['0'], keyShown: '0', run: (_view, limits) => wholeOf(limits) },
];

function middleOf(view: Viewport): number {
  return (view.fromUs + view.toUs) / 2;
}

function lengthOf(view: Viewport): number {
  return view.toUs - view.fromUs;
}
