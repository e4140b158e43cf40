/** What is timed: the envelope's peak, or the first crossing of the threshold. One rule for the calibration and for what is read with it. */
export type Timing = 'peak' | 'crossing';

/** A window in time or in sound path, with a threshold in % FSH. Named by its purpose. */
export interface Gate {
  readonly name: string;
  readonly span:
    | { readonly axis: 'time'; readonly fromUs: number; readonly toUs: number }
    | { readonly axis: 'path'; readonly fromMm: number; readonly toMm: number };
  readonly thresholdPercent: number;
}
