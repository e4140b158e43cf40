import type { CalibrationGiven } from '../../core/review/review.ts';
import type { CurveDecision, SensitivityDecision } from '../../core/review/sensitivity-decision.ts';
import type {
  CurvePoint,
  DistanceAmplitudeCurve,
  StraightIn,
} from '../../core/sensitivity/distance-amplitude-curve.ts';
import { trace } from './trace.ts';

/** A point of a curve; only what is given differs from a whole echo at its peak, read at 40 dB, of exact height. */
export function curvePoint(
  distanceMm: number,
  levelDb: number,
  given: Partial<CurvePoint> & { uDb?: number | null } = {},
): CurvePoint {
  const { uDb = 0, ...rest } = given;
  const heightPercent = 80 * 10 ** (levelDb / 20);
  return {
    distanceMm,
    uDistanceMm: 0,
    captureId: `hole-${distanceMm}.csv`,
    gainDb: 40,
    amplitudePercent: heightPercent,
    signalToNoiseDb: null,
    timeUs: null,
    soundPathMm: null,
    from: null,
    levelDb: { value: levelDb, standardUncertainty: uDb },
    heightPercent: { value: heightPercent, standardUncertainty: null },
    inNearField: null,
    others: [],
    flags: [],
    ...rest,
  };
}

export function curveOf(
  levels: readonly (readonly [distanceMm: number, levelDb: number])[],
  straightIn: StraightIn = 'db',
  uDb: number | null = 0,
): DistanceAmplitudeCurve {
  return { points: levels.map(([distanceMm, levelDb]) => curvePoint(distanceMm, levelDb, { uDb })), straightIn };
}

/** Longitudinal waves at 5920 m/s behind a zero offset of 0.5 µs. */
export const timeAtMm = (pathMm: number): number => 0.5 + pathMm / 2.96;

/** That, as a calibration taken over. */
export const calibrationGiven: CalibrationGiven = {
  kind: 'given',
  file: 'cal.json',
  sha256: null,
  velocityMPerS: 5920,
  uVelocityMPerS: 1,
  zeroOffsetUs: 0.5,
  uZeroOffsetUs: 0.002,
  covarianceUsUsPerMm: null,
  degreesOfFreedom: 1,
  timing: 'peak',
  points: [],
};

/** A reflector of the curve, looked for 4 mm about its place. */
export const reflectorAt = (distanceMm: number, capture: string | null = null) => ({
  distanceMm,
  toleranceMm: 0,
  fromUs: timeAtMm(distanceMm - 4),
  toUs: timeAtMm(distanceMm + 4),
  capture,
});

/** A capture with one echo of a side-drilled hole that loses `lossDbPerMm` per mm of travel beside spreading, 80 % from 20 mm at 40 dB. */
export function holeCapture(
  distanceMm: number,
  {
    gainDb = 40 as number | null,
    lossDbPerMm = 0.01,
    offPeakDb = 0,
    noise = 0.2,
    clip = null as number | null,
    seed = 1,
    exponent = 1.5,
    named = `hole-${distanceMm}.csv`,
  } = {},
) {
  const levelDb =
    -20 * exponent * Math.log10(distanceMm / 20) -
    2 * lossDbPerMm * (distanceMm - 20) -
    offPeakDb +
    ((gainDb ?? 40) - 40);
  const words = trace()
    .record(0, 6000)
    .burst({ timeUs: timeAtMm(distanceMm), amplitudePercent: 80 * 10 ** (levelDb / 20) })
    .noise(noise, seed)
    .named(named);
  const clipped = clip === null ? words : words.clippedAt(clip);
  return (gainDb === null ? clipped : clipped.gain(gainDb)).capture();
}

export const curveDecision = (distances: readonly number[], given: Partial<CurveDecision> = {}): CurveDecision => ({
  captures: distances.map((distanceMm) => `hole-${distanceMm}.csv`),
  kind: 'side-drilled-hole',
  reflectors: distances.map((distanceMm) => reflectorAt(distanceMm)),
  thresholdPercent: 5,
  straightIn: 'db',
  referencePercent: 80,
  referenceGainDb: null,
  levels: null,
  decision: 'with-uncertainty',
  transferCorrectionDb: 0,
  uTransferCorrectionDb: 0,
  ...given,
});

export const sensitivityOf = (
  curve: CurveDecision | null,
  given: Partial<SensitivityDecision> = {},
): SensitivityDecision => ({
  curve,
  attenuation: null,
  probe: null,
  uCouplingDb: 0,
  uGainDb: 0,
  ...given,
});
