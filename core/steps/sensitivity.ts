import type { DistanceCalibration } from '../calibration/distance.ts';
import type { CaptureId } from '../capture/capture.ts';
import { coverageFactor } from '../check/verdict.ts';
import type { Doubt } from '../doubt.ts';
import type { Flag } from '../flag.ts';
import type { Reading } from '../gate/reading.ts';
import { type Problem, problem } from '../outcome.ts';
import type { CurveDecision, SensitivityDecision } from '../review/sensitivity-decision.ts';
import { type AttenuationLaw, fewestForLaw, fitAttenuationLaw } from '../sensitivity/attenuation-law.ts';
import {
  errorRemarks,
  implausibleAttenuation,
  lineRemarks,
  nearPointsRemark,
  referenceRemarks,
  risingRemarks,
  unknownNearField,
} from '../sensitivity/curve-remarks.ts';
import {
  type CurvePoint,
  type DistanceAmplitudeCurve,
  linesAboveLogarithmDb,
} from '../sensitivity/distance-amplitude-curve.ts';
import { type LevelSet, levelsInDb, publishedLevels } from '../sensitivity/evaluation-levels.ts';
import { type HeldReading, holdAgainstCurve } from '../sensitivity/hold-against-curve.ts';
import { type NearField, nearField } from '../sensitivity/near-field.ts';
import {
  type HeightErrors,
  heightAtReference,
  levelAboveReference,
  type ReferenceLevel,
  referenceLevel,
} from '../sensitivity/reference-level.ts';
import { spreadingOf } from '../sensitivity/reflector-kind.ts';
import { type GainAtDistance, highestDistanceMm, timeCorrectedGain } from '../sensitivity/time-corrected-gain.ts';
import { type Quantity, rectangularUncertainty } from '../units/quantity.ts';
import { type AttenuationResult, concludeAttenuation } from './attenuation.ts';
import type { Examination } from './examine.ts';
import { type ServingEcho, servingEchoes } from './sensitivity-points.ts';

export type { AttenuationResult };

/** Reference level, curve and what follows from it. */
export interface CurveResult {
  readonly kind: CurveDecision['kind'];
  readonly straightIn: CurveDecision['straightIn'];
  readonly decision: CurveDecision['decision'];
  /** `null` where no reflector was found. */
  readonly reference: ReferenceLevel | null;
  /** The reflectors that make points, in order of distance, whether or not they make a curve. */
  readonly points: readonly CurvePoint[];
  /** `null` where `problems` say why. */
  readonly curve: DistanceAmplitudeCurve | null;
  /** The greatest departure of each line of the curve from one over the logarithm of the distance, with its sign. */
  readonly linesAboveLogarithmDb: readonly number[];
  /** Held to the highest point. Empty without a curve. */
  readonly timeCorrectedGain: readonly GainAtDistance[];
  readonly law: AttenuationLaw | null;
  /** Why there is no law, in a sentence; `null` where there is one. */
  readonly withoutLaw: string | null;
  readonly levels: LevelSet | null;
  readonly transferDb: Quantity;
  /** Every reading of the review, against the curve. */
  readonly readings: readonly HeldReading[];
  readonly doubts: readonly Doubt[];
  /** What is to be known about the curve without being doubtful. */
  readonly remarks: readonly string[];
}

export interface SensitivityResult {
  readonly probe: SensitivityDecision['probe'];
  /** `null` where probe or velocity are not known. */
  readonly nearField: NearField | null;
  readonly curve: CurveResult | null;
  readonly attenuation: AttenuationResult | null;
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
}

/** What the curve is concluded from. */
export interface SensitivityInput {
  readonly calibration: DistanceCalibration | null;
  readonly ofCurve: readonly Examination[];
  readonly ofAttenuation: readonly Examination[];
  readonly readings: readonly Reading[];
  /** Gains of the captures that the readings are from. */
  readonly gainDbOf: (captureId: CaptureId) => number | null;
}

/** Three points or more make a curve (common practice; ASME V, Article 4 asks for three, from memory). */
const fewestForCurve = 3;

/** From the examined captures to the curve, the attenuation, and the readings held against the curve. A part that cannot be made leaves the others standing. */
export function concludeSensitivity(decision: SensitivityDecision, input: SensitivityInput): SensitivityResult {
  const field = nearFieldOf(decision, input.calibration);
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const say: Say = { problems, warnings };
  return {
    probe: decision.probe,
    nearField: field,
    curve: decision.curve === null ? null : curveResult(decision.curve, decision, field, input, say),
    attenuation:
      decision.attenuation === null
        ? null
        : concludeAttenuation(decision.attenuation, decision, field, input.ofAttenuation, say),
    problems,
    warnings,
  };
}

interface Say {
  readonly problems: Problem[];
  readonly warnings: Problem[];
}

function nearFieldOf({ probe }: SensitivityDecision, calibration: DistanceCalibration | null): NearField | null {
  const velocityMPerS = probe?.velocityMPerS ?? calibration?.velocityMPerS.value ?? null;
  return probe === null || velocityMPerS === null ? null : nearField({ ...probe, velocityMPerS });
}

function curveResult(
  decision: CurveDecision,
  errors: HeightErrors,
  field: NearField | null,
  input: SensitivityInput,
  say: Say,
): CurveResult {
  const levels = levelsOf(decision, say);
  const transferDb = { value: decision.transferCorrectionDb, standardUncertainty: decision.uTransferCorrectionDb };
  const heights = servingEchoes(input.ofCurve, decision.reflectors, 'sensitivity');
  say.problems.push(...distanceProblems(decision), ...heights.problems);
  say.warnings.push(...heights.warnings);
  const served = decision.reflectors.flatMap((reflector, i) => {
    const echo = heights.echoes[i];
    return echo === null ? [] : [{ reflector, echo }];
  });
  const reference =
    served.length === 0
      ? null
      : referenceLevel(
          served.map(({ echo }) => ({ ...echo.serving, amplitudePercent: echo.serving.reading.amplitudePercent })),
          { percent: decision.referencePercent, gainDb: decision.referenceGainDb },
        );
  const points =
    reference === null
      ? []
      : served
          .map(({ reflector, echo }) => pointOf(reflector, echo, reference, errors, field))
          .sort((a, b) => a.distanceMm - b.distanceMm);
  const curve = curveOf(points, decision, say);
  const doubts: Doubt[] = [];
  const remarks = reference === null ? [] : referenceRemarks(reference, points);
  const { law, withoutLaw } = lawOf(curve, decision, field, doubts, remarks);
  const above = curve === null ? [] : linesAboveLogarithmDb(curve);
  if (reference !== null && reference.gainDb === null) say.warnings.push(...gainlessReadings(input));
  const by = {
    curve,
    reference,
    levels: levels === null ? [] : levelsInDb(levels),
    decision: decision.decision,
    transferDb,
    errors,
  };
  const readings = input.readings.map((reading) =>
    holdAgainstCurve({ ...reading, gainDb: input.gainDbOf(reading.captureId) }, by),
  );
  return {
    kind: decision.kind,
    straightIn: decision.straightIn,
    decision: decision.decision,
    reference,
    points,
    curve,
    linesAboveLogarithmDb: above,
    timeCorrectedGain: curve === null ? [] : timeCorrectedGain(curve, highestDistanceMm(curve)),
    law,
    withoutLaw,
    levels,
    transferDb,
    readings,
    doubts,
    remarks: [
      ...remarks,
      ...lineRemarks(curve, above),
      ...risingRemarks(points),
      ...errorRemarks(points, errors, transferDb),
    ],
  };
}

function gainlessReadings({ readings, gainDbOf }: SensitivityInput): Problem[] {
  if (!readings.some(({ amplitudePercent, captureId }) => amplitudePercent !== null && gainDbOf(captureId) === null))
    return [];
  const sentence =
    'neither the captures of the curve nor those of the readings state their gain: all are taken to be at one gain; state the gains if they are not';
  return [problem('gain-not-stated', { file: 'readings' }, sentence)];
}

function levelsOf({ levels }: CurveDecision, { problems }: Say): LevelSet | null {
  if (levels === null) return null;
  if (levels.kind === 'own') return levels.rule;
  const known = publishedLevels.find(({ name }) => name === levels.name) ?? null;
  if (known === null) {
    const names = publishedLevels.map(({ name }) => name).join(', ');
    const sentence = `no published set of levels has the name "${levels.name}"; there are ${names}, or give a file of your own`;
    problems.push(problem('unknown-levels', { file: 'sensitivity' }, sentence));
  }
  return known;
}

function distanceProblems({ reflectors }: CurveDecision): Problem[] {
  const seen = new Set<number>();
  return reflectors.flatMap(({ distanceMm }) => {
    const twice = seen.has(distanceMm);
    seen.add(distanceMm);
    return twice
      ? [
          problem(
            'distance-twice',
            { file: 'sensitivity' },
            `two reflectors are given at ${distanceMm} mm; give each distance once, with all its captures`,
          ),
        ]
      : [];
  });
}

function pointOf(
  { distanceMm, toleranceMm }: CurveDecision['reflectors'][number],
  { serving, others }: ServingEcho,
  reference: ReferenceLevel,
  errors: HeightErrors,
  field: NearField | null,
): CurvePoint {
  const { reading, captureId, gainDb } = serving;
  const { amplitudePercent, signalToNoiseDb, timeUs, soundPathMm, from } = reading;
  const levelDb = levelAboveReference({ amplitudePercent, gainDb, signalToNoiseDb }, reference, errors);
  return {
    distanceMm,
    uDistanceMm: rectangularUncertainty(toleranceMm),
    captureId,
    gainDb,
    amplitudePercent,
    signalToNoiseDb,
    timeUs: timeUs?.value ?? null,
    soundPathMm,
    from,
    levelDb,
    heightPercent: heightAtReference(levelDb, reference),
    inNearField: field === null ? null : distanceMm < field.lawsFromMm,
    others: others.map((other) => ({ captureId: other.captureId, belowDb: serving.gainFreeDb - other.gainFreeDb })),
    flags: isElsewhere(distanceMm, toleranceMm, soundPathMm)
      ? [...reading.flags, 'distance-implausible']
      : reading.flags,
  };
}

/** So far may the sound path lie from the distance stated before it is doubted: the radius of a side-drilled hole, and 2 % of the way (common practice). */
const elsewhereMm = 2;
const elsewhereShare = 0.02;

function isElsewhere(distanceMm: number, toleranceMm: number, path: Quantity | null): boolean {
  if (path === null) return false;
  const allowed = Math.max(elsewhereMm, elsewhereShare * distanceMm) + toleranceMm;
  return Math.abs(path.value - distanceMm) > allowed + coverageFactor * (path.standardUncertainty ?? 0);
}

function curveOf(
  points: readonly CurvePoint[],
  decision: CurveDecision,
  { problems }: Say,
): DistanceAmplitudeCurve | null {
  if (new Set(points.map(({ distanceMm }) => distanceMm)).size < points.length) return null;
  if (points.length >= fewestForCurve) return { points, straightIn: decision.straightIn };
  const found = points.length === 0 ? 'none was' : points.length === 1 ? 'one was' : 'two were';
  const sentence = `a distance-amplitude curve needs three reflectors at different distances, and ${found} found: there is no curve; add reflectors of the same kind`;
  problems.push(problem('too-few-reflectors', { file: 'sensitivity' }, sentence));
  return null;
}

function lawOf(
  curve: DistanceAmplitudeCurve | null,
  { kind }: CurveDecision,
  field: NearField | null,
  doubts: Doubt[],
  remarks: string[],
): Pick<CurveResult, 'law' | 'withoutLaw'> {
  const without = (withoutLaw: string) => ({ law: null, withoutLaw });
  if (curve === null) return without('There is no curve to fit a law to.');
  const { exponent, title } = spreadingOf[kind];
  if (exponent === null) return without('No law of spreading is known for this kind of reflector.');
  const far = curve.points.filter((point) => point.inNearField !== true);
  if (field === null) remarks.push(unknownNearField);
  else if (far.length < curve.points.length) remarks.push(nearPointsRemark(curve.points, field));
  if (far.length < fewestForLaw)
    return without(
      `Fewer than three points lie at three near-field lengths or beyond, where a ${title} follows its law: no attenuation can be fitted.`,
    );
  const law = fitAttenuationLaw(far, exponent);
  doubts.push(...implausibleAttenuation(law.attenuationDbPerMm));
  return { law, withoutLaw: null };
}

/** Every flag that stands anywhere in the result. */
export function flagsOfSensitivity({ curve, attenuation }: SensitivityResult): Flag[] {
  return [
    ...(curve?.points ?? []).flatMap((point) => point.flags),
    ...(curve?.readings ?? []).flatMap((reading) => reading.flags),
    ...(curve?.doubts ?? []).map((doubt) => doubt.flag),
    ...(attenuation === null ? [] : [...attenuation.near.flags, ...attenuation.far.flags]),
    ...(attenuation?.doubts ?? []).map((doubt) => doubt.flag),
  ];
}
