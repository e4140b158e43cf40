import type { DistanceCalibration } from '../calibration/distance.ts';
import { type DriftResult, judgeDrift } from '../check/drift.ts';
import { type DriftRule, publishedRules } from '../check/rule.ts';
import { failure, type Outcome, problem } from '../outcome.ts';
import type { DriftDecision, Review } from '../review/review.ts';
import { gateOfReflector } from './calibration-points.ts';
import type { Examination, Plan } from './examine.ts';

/** What is to be read in the check captures: each reflector of the calibration, in its window. */
export function planForDrift(review: Review, decision: DriftDecision, calibration: DistanceCalibration): Plan {
  return {
    conditioning: review.conditioning,
    echoes: null,
    flankPercent: null,
    gates: decision.reflectors.map((reflector) => gateOfReflector(reflector, decision.thresholdPercent)),
    timing: review.calibration?.timing ?? 'peak',
    calibration,
    beam: null,
    uAngleDeg: null,
  };
}

/** Height and gain of a reflector when the calibration was made. */
export interface CalibrationHeight {
  readonly distanceMm: number;
  readonly amplitudePercent: number | null;
  readonly gainDb: number | null;
}

/** Holds the checks against the calibration by the rule decided on. Problems: an unknown rule, a rule that needs the range. */
export function concludeDrift(
  decision: DriftDecision,
  calibration: DistanceCalibration,
  heights: readonly CalibrationHeight[],
  examinations: readonly Examination[],
): Outcome<DriftResult> {
  const rule = ruleOf(decision);
  if (rule === 'unknown') {
    const names = publishedRules.map((published) => published.name).join(', ');
    return failure(
      problem(
        'unknown-rule',
        { file: 'drift' },
        `no published rule has this name; there are ${names}, or give a rule file of your own`,
      ),
    );
  }
  return judgeDrift({
    checks: examinations.map(({ capture, readings }) => ({
      captureId: capture.captureId,
      takenAt: capture.takenAt,
      gainDb: capture.gainDb,
      reflectors: readings.map((reading, i) => ({
        distanceMm: decision.reflectors[i].distanceMm,
        timeUs: reading.timeUs,
        amplitudePercent: reading.amplitudePercent,
        signalToNoiseDb: reading.signalToNoiseDb,
        flags: reading.flags,
        from: reading.from,
      })),
    })),
    calibration,
    reference: referenceHeights(decision, heights),
    rule,
    rangeMm: decision.rangeMm,
    decision: decision.decision,
  });
}

function ruleOf(decision: DriftDecision): DriftRule | null | 'unknown' {
  const { rule } = decision;
  if (rule === null) return null;
  if (rule.kind === 'own') return rule.rule;
  return publishedRules.find((published) => published.name === rule.name) ?? 'unknown';
}

/**
 * The height stated by the person belongs to the highest of the reflectors; the others follow in the proportion the calibration had.
 * Without a stated height the calibration's own heights stand.
 */
function referenceHeights(decision: DriftDecision, heights: readonly CalibrationHeight[]): CalibrationHeight[] {
  const known = decision.reflectors.map(({ distanceMm }) => {
    const height = heights.find((entry) => Math.abs(entry.distanceMm - distanceMm) < 1e-6);
    return { distanceMm, amplitudePercent: height?.amplitudePercent ?? null, gainDb: height?.gainDb ?? null };
  });
  const stated = decision.amplitudePercent;
  if (stated === null) return known;
  const highest = Math.max(...known.map((entry) => entry.amplitudePercent ?? 0));
  return known.map((entry) => ({
    ...entry,
    amplitudePercent:
      entry.amplitudePercent === null || highest === 0 ? stated : (stated * entry.amplitudePercent) / highest,
  }));
}
