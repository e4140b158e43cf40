/** One series of echoes that a block gives in one direction. Distances are one-way sound paths. */
export interface BlockSeries {
  /** As asked for on the command line and on screen, in plain words: `iso-7963/25`. */
  readonly name: string;
  readonly title: string;
  readonly distancesMm: readonly number[];
  /** Half-width of the manufacturing tolerance on a distance. */
  readonly toleranceMm: number;
  /** Other directions' distances and known features (a slot, the other radius), to name an echo that belongs to no reflector of the series. */
  readonly features: readonly { readonly name: string; readonly distanceMm: number }[];
  readonly nominal: {
    readonly material: string;
    readonly mode: 'longitudinal' | 'transverse';
    readonly velocityMPerS: number;
    readonly toleranceMPerS: number;
  };
  readonly source: string;
}
