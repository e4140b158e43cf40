import type { DepthGrid, DepthPicture } from '../../core/drawing/depth-picture.ts';
import type { DepthAcross, DepthScan } from '../../core/drawing/depth-scan.ts';
import type { DepthView } from './depth-view.ts';

/** What the picture needs of the worker. */
export interface DepthAsked {
  readonly scan: DepthScan;
  readonly across: DepthAcross;
  /** `null`: all. */
  readonly onlyLeg: number | null;
  readonly view: DepthView;
  readonly grid: DepthGrid;
}

/** What was last computed; it may lag behind what is asked and shown by a moment. */
export interface DepthShown {
  /** The very object it was asked with. */
  readonly asked: DepthAsked;
  readonly picture: DepthPicture;
}
