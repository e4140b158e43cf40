import type { DistanceCalibration } from '../calibration/distance.ts';
import type { CaptureId } from '../capture/capture.ts';
import { judgeSeries, type SeriesJudgement } from '../gate/off-peak.ts';
import type { Reading } from '../gate/reading.ts';
import type { ReadingDecision, Review } from '../review/review.ts';
import type { Examination, Plan } from './examine.ts';

/** What is to be read in the captures of the part. */
export function planForReadings(
  review: Pick<Review, 'conditioning' | 'echoes'>,
  decision: ReadingDecision,
  calibration: DistanceCalibration | null,
): Plan {
  return {
    conditioning: review.conditioning,
    echoes: review.echoes,
    flankPercent: null,
    gates: decision.gates,
    timing: decision.timing,
    calibration,
    beam: decision.beam,
    uAngleDeg: decision.uAngleDeg,
  };
}

/** One gate over all captures of one reflector. */
export interface SeriesResult {
  readonly gate: string;
  readonly captures: readonly CaptureId[];
  readonly peak: SeriesJudgement['peak'];
  readonly pathRangeMm: number | null;
  readonly curve: SeriesJudgement['curve'];
  readonly doubts: readonly string[];
}

export interface ReadingResult {
  /** By capture, then by gate, as given. */
  readonly readings: readonly Reading[];
  readonly series: readonly SeriesResult[];
}

/** Holds the readings of each gate against one another where the captures are a series of one reflector. */
export function concludeReadings(decision: ReadingDecision, examinations: readonly Examination[]): ReadingResult {
  const { series: settings, gates } = decision;
  if (settings === null || examinations.length < 2) {
    return { readings: examinations.flatMap((e) => e.readings), series: [] };
  }
  const judgements = gates.map((_, g) =>
    judgeSeries(
      examinations.map(({ capture, readings }) => ({
        reading: readings[g],
        gainDb: capture.gainDb,
        positionMm: capture.positionMm,
        takenAt: capture.takenAt,
      })),
      settings,
    ),
  );
  return {
    readings: examinations.flatMap((_, i) => judgements.map((judgement) => judgement.members[i])),
    series: judgements.map(({ peak, pathRangeMm, curve, doubts }, g) => ({
      gate: gates[g].name,
      captures: examinations.map((e) => e.capture.captureId),
      peak,
      pathRangeMm,
      curve,
      doubts,
    })),
  };
}
