import type { ReactNode } from 'react';
import type { Desk } from './data/desk.ts';

/** The room that a component has on the page: a column at the side, the list of captures, the centre, a picture below it, the whole page, all of its width. */
export type Frame = 'part' | 'side' | 'list' | 'centre' | 'picture' | 'page' | 'wide' | 'dialog';

/** A component in one state. */
export interface Scene {
  /** Stands in the address: `gallery.html#trace/loading`. */
  readonly id: string;
  readonly title: string;
  /** A `dialog` takes the whole window and is shown alone. */
  readonly frame: Frame;
  readonly content: ReactNode;
}

export interface Section {
  readonly id: string;
  readonly title: string;
  scenes(desk: Desk): readonly Scene[];
}
