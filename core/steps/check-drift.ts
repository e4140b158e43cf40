import type { DistanceCalibration } from '../calibration/distance.ts';
import { type DriftResult, judgeDrift, type ReferenceHeight } from '../check/drift.ts';
import { type DriftRule, publishedRules } from '../check/rule.ts';
import { type CalibratedReflector, sameReflectorMm } from '../check/same-block.ts';
import { failure, type Outcome, problem } from '../outcome.ts';
import type { DriftDecision, Review } from '../review/review.ts';
import { rectangularUncertainty } from '../units/quantity.ts';
import { gateOfReflector } from './calibration-points.ts';
import { type Examination, type Plan, planFor } from './examine.ts';

/** What is to be read in the check captures: each reflector of the calibration, in its window. */
export function planForDrift(review: Review, decision: DriftDecision, calibration: DistanceCalibration): Plan {
  return planFor(review, {
    gates: decision.reflectors.map((reflector) => gateOfReflector(reflector, decision.thresholdPercent)),
    timing: review.calibration?.timing ?? 'peak',
    calibration,
  });
}

/** Holds the checks against the calibration by the rule decided on. Problems: an unknown rule, a rule that needs the range. */
export function concludeDrift(
  decision: DriftDecision,
  calibration: DistanceCalibration,
  calibrated: readonly CalibratedReflector[],
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
      block: capture.block,
      reflectors: readings.map((reading, i) => ({
        distanceMm: decision.reflectors[i].distanceMm,
        uDistanceMm: rectangularUncertainty(decision.reflectors[i].toleranceMm),
        timeUs: reading.timeUs,
        amplitudePercent: reading.amplitudePercent,
        signalToNoiseDb: reading.signalToNoiseDb,
        flags: reading.flags,
        from: reading.from,
      })),
    })),
    calibration,
    reference: referenceHeights(decision, calibrated),
    calibrated,
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
function referenceHeights(decision: DriftDecision, calibrated: readonly CalibratedReflector[]): ReferenceHeight[] {
  const known = decision.reflectors.map(({ distanceMm }) => {
    const height = calibrated.find((entry) => Math.abs(entry.distanceMm - distanceMm) < sameReflectorMm);
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
