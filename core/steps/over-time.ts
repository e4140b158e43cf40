import type { CaptureId } from '../capture/capture.ts';
import type { DriftResult } from '../check/drift.ts';
import { type DriftOverTime, driftOverTime } from '../check/drift-over-time.ts';
import type { CaptureFacts } from './examine.ts';

/** The checks of a review over time, and the captures read that they bear on: each once, in the order read. */
export function concludeOverTime(
  { checks }: DriftResult,
  captures: ReadonlyMap<CaptureId, CaptureFacts>,
  readings: readonly { readonly captureId: CaptureId }[],
): DriftOverTime {
  const read = [...new Set(readings.map((reading) => reading.captureId))];
  return driftOverTime({
    checks,
    takenWith: captures,
    readings: read.map((captureId) => ({ captureId, takenAt: captures.get(captureId)?.takenAt ?? null })),
  });
}
