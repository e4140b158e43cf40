import type { ReactNode } from 'react';
import type { Desk } from './data/desk.ts';

/**
 * The room that a component has on the page: a column at the side (`side` as high as it needs to be, `column` as high as the window), the list of captures,
 * the centre, a picture below it, the whole page, all of its width.
 */
export type Frame = 'part' | 'side' | 'column' | 'list' | 'centre' | 'picture' | 'page' | 'wide' | 'dialog' | 'window';

/** A component in one state. */
export interface Scene {
  /** Stands in the address: `gallery.html#trace/loading`. */
  readonly id: string;
  readonly title: string;
  /** A `dialog` over the window and a whole `window` are shown alone. */
  readonly frame: Frame;
  readonly content: ReactNode;
}

export interface Section {
  readonly id: string;
  readonly title: string;
  scenes(desk: Desk): readonly Scene[];
}
