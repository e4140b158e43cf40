import { pathFromTime } from '../calibration/distance.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { isDoubtfulEcho } from '../flag.ts';
import { type Problem, problem } from '../outcome.ts';
import { dbFromRatio, differenceDb, percentAtGain, ratioFromDb } from '../units/decibel.ts';
import type { Quantity } from '../units/quantity.ts';
import type { CheckCapture, CheckedReflector, DriftedReflector, DriftInput, ReferenceHeight } from './drift.ts';
import { amplitudeLimits, distanceLimits } from './rule.ts';
import { type SameBlock, sameReflectorMm, standsOn, uDistanceErrorMm } from './same-block.ts';
import { judge, type Verdict } from './verdict.ts';

export function judgeReflector(
  check: CheckCapture,
  reflector: CheckedReflector,
  input: DriftInput,
  same: SameBlock | null,
  warnings: Problem[],
): DriftedReflector {
  const { rule, rangeMm, calibration, decision = 'with-uncertainty' } = input;
  const { distanceMm, timeUs, flags } = reflector;
  const reference =
    input.reference.find((height) => Math.abs(height.distanceMm - distanceMm) < sameReflectorMm) ?? null;
  const soundPathMm = timeUs === null ? null : pathFromTime(calibration, timeUs.value, timeUs.standardUncertainty);
  const cancels = same !== null && standsOn(same, distanceMm) ? same : null;
  const distanceErrorMm = soundPathMm === null ? null : errorOf(reflector, soundPathMm, cancels);
  const amplitudeChangeDb = amplitudeChange(check, reflector, reference, warnings);
  const distanceLimitsMm = rule?.distance ? distanceLimits(rule.distance, distanceMm, rangeMm) : null;
  const amplitudeLimitsDb = rule?.amplitude ? amplitudeLimits(rule.amplitude) : null;
  const verdicts: Verdict[] = [];
  if (rule !== null && distanceLimitsMm !== null) {
    const by = { unit: 'mm', rule: rule.name, clause: rule.clause, decision } as const;
    verdicts.push(judge(distanceErrorMm, distanceLimitsMm, by));
  }
  if (rule !== null && amplitudeLimitsDb !== null && reference !== null && reference.amplitudePercent !== null) {
    const by = { unit: 'dB', rule: rule.name, clause: rule.clause, decision } as const;
    verdicts.push(judge(amplitudeChangeDb, amplitudeLimitsDb, by));
  }
  const doubtful = isDoubtfulEcho(flags);
  return {
    distanceMm,
    seen: reflector,
    soundPathMm,
    distanceErrorMm,
    sameBlock: cancels?.block ?? null,
    amplitudeChangeDb,
    reference,
    distanceLimitsMm,
    amplitudeLimitsDb,
    verdicts: doubtful ? verdicts.map(withoutPass) : verdicts,
    flags,
  };
}

function withoutPass(verdict: Verdict): Verdict {
  return verdict.outcome === 'pass' ? { ...verdict, outcome: 'inconclusive' } : verdict;
}

function errorOf(
  { distanceMm, uDistanceMm = 0, timeUs }: CheckedReflector,
  path: Quantity,
  same: SameBlock | null,
): Quantity {
  const value = path.value - distanceMm;
  if (same !== null && timeUs !== null)
    return {
      value,
      standardUncertainty: uDistanceErrorMm(same, distanceMm, path.value, timeUs.standardUncertainty),
    };
  const u = path.standardUncertainty;
  return { value, standardUncertainty: u === null ? null : hypot(u, uDistanceMm) };
}

/** `null` without an echo, without a reference, for a crest that is cut off, and where only one of the two gains is known. */
function amplitudeChange(
  check: CheckCapture,
  { amplitudePercent, signalToNoiseDb, flags }: CheckedReflector,
  reference: ReferenceHeight | null,
  warnings: Problem[],
): Quantity | null {
  if (
    amplitudePercent === null ||
    reference === null ||
    reference.amplitudePercent === null ||
    flags.includes('saturated')
  )
    return null;
  const warn = (code: string, sentence: string) => {
    if (!warnings.some((w) => w.code === code && w.place.file === check.captureId))
      warnings.push(problem(code, { file: check.captureId }, sentence));
  };
  if ((check.gainDb === null) !== (reference.gainDb === null)) {
    const unknown = check.gainDb === null ? 'of this check' : 'at calibration';
    warn('gain-partly-stated', `the gain ${unknown} is not stated, so no change of amplitude can be told; state it`);
    return null;
  }
  if (reference.gainDb === null)
    warn('gain-not-stated', 'no gain is stated, here or at calibration: it is taken as unchanged');
  const now =
    reference.gainDb === null ? amplitudePercent : percentAtGain(amplitudePercent, check.gainDb, reference.gainDb);
  return {
    value: differenceDb(now, reference.amplitudePercent),
    standardUncertainty: signalToNoiseDb === null ? null : dbFromRatio(Math.E) * ratioFromDb(-signalToNoiseDb),
  };
}
