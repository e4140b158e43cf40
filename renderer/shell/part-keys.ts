import { viewportCommands } from '../trace/viewport-commands.ts';
import type { KeyGroup } from './ShortcutHelp.tsx';

/** The keys of the page's parts, each for while that part has the focus. Those of the trace's window come from its own list. */
export const partKeys: readonly KeyGroup[] = [
  {
    title: 'On the trace',
    keys: [
      ...viewportCommands.map(({ keyShown, label }) => ({ shown: keyShown, does: label })),
      { shown: 'G', does: 'Draw a gate; Enter places one' },
      { shown: 'C', does: 'Two cursors, or none' },
      { shown: 'Shift and drag', does: 'Zoom into a window' },
      { shown: 'Double-click', does: 'Whole record' },
    ],
  },
  {
    title: 'On the overview’s window',
    keys: [
      { shown: 'Tab', does: 'The window, its start, its end' },
      { shown: '← →', does: 'Move; an end alone: stretch' },
      { shown: 'Page Up, Page Down', does: 'Later and earlier by a whole window' },
      { shown: 'Home, End', does: 'To the ends of the record' },
      { shown: '+ −', does: 'Narrower and wider' },
    ],
  },
  {
    title: 'On a gate',
    keys: [
      { shown: 'Tab', does: 'Next gate' },
      { shown: '← →', does: 'Move; with Shift further, with Alt stretch' },
      { shown: '↑ ↓', does: 'Threshold' },
      { shown: 'Enter', does: 'Exact numbers' },
      { shown: 'Delete', does: 'Remove' },
    ],
  },
  {
    title: 'In the list of captures',
    keys: [
      { shown: '↑ ↓', does: 'Go through the list' },
      { shown: 'Letters', does: 'Go to the name that begins so' },
      { shown: 'Enter', does: 'Show on the trace' },
      { shown: 'Space', does: 'Lay over the trace' },
    ],
  },
  {
    title: 'On the series',
    keys: [
      { shown: '← →', does: 'Capture before and after' },
      { shown: 'Home, End', does: 'First and last capture' },
      { shown: '↑ ↓', does: 'Earlier and later' },
    ],
  },
  {
    title: 'On any figure',
    keys: [
      { shown: 'Enter', does: 'Where it comes from' },
      { shown: 'Escape', does: 'Back to the figure' },
    ],
  },
];
