import type { DistanceCalibration } from '../calibration/distance.ts';
import type { CaptureId } from '../capture/capture.ts';
import { coverageFactor } from '../check/verdict.ts';
import type { Doubt } from '../doubt.ts';
import { type Flag, flagTexts } from '../flag.ts';
import type { Reading } from '../gate/reading.ts';
import { type Problem, problem } from '../outcome.ts';
import type { AttenuationDecision, CurveDecision, SensitivityDecision } from '../review/sensitivity-decision.ts';
import { type ApparentAttenuation, apparentAttenuation } from '../sensitivity/apparent-attenuation.ts';
import { type AttenuationLaw, fewestForLaw, fitAttenuationLaw } from '../sensitivity/attenuation-law.ts';
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
  heightUncertaintyDb,
  levelAboveReference,
  type ReferenceLevel,
  referenceLevel,
} from '../sensitivity/reference-level.ts';
import { spreadingOf } from '../sensitivity/reflector-kind.ts';
import { type GainAtDistance, highestDistanceMm, timeCorrectedGain } from '../sensitivity/time-corrected-gain.ts';
import { figure } from '../units/figure.ts';
import { type Quantity, rectangularUncertainty } from '../units/quantity.ts';
import type { Examination } from './examine.ts';
import { type EchoOfReflector, type ServingEcho, servingEchoes } from './sensitivity-points.ts';

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

export interface AttenuationResult extends ApparentAttenuation {
  readonly near: BackWallRead;
  readonly far: BackWallRead;
  readonly doubts: readonly Doubt[];
  readonly remarks: readonly string[];
}

/** One of the two back-wall echoes as it was read. */
export interface BackWallRead {
  readonly distanceMm: number;
  readonly captureId: CaptureId;
  readonly gainDb: number | null;
  readonly amplitudePercent: number;
  readonly timeUs: number | null;
  readonly from: Reading['from'];
  readonly flags: readonly Flag[];
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
        : attenuationResult(decision.attenuation, decision, field, input.ofAttenuation, say),
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

const unknownField =
  'Whether these echoes lie beyond the near field is not known, and the law of spreading holds only beyond it: give element, frequency and velocity of the probe.';

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
  const remarks = reference === null ? [] : referenceRemarks(reference, points, decision);
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
    remarks: [...remarks, ...lineRemarks(curve, above), ...risingRemarks(points), ...errorRemarks(points, errors)],
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

/** The reference height is set within 5 % FSH (ASME V, Article 4, from memory; common practice). */
const settingPercent = 5;

function referenceRemarks(reference: ReferenceLevel, points: readonly CurvePoint[], decision: CurveDecision): string[] {
  if (reference.by !== 'stated') return [];
  if (reference.gainDb === null)
    return ['No capture states its gain: all are taken to be at the reference gain that was given.'];
  const highest = Math.max(...points.map(({ heightPercent }) => heightPercent.value));
  const off = highest - decision.referencePercent;
  if (Math.abs(off) <= settingPercent) return [];
  return [
    `At the reference gain given the highest point of the curve stands at ${figure(highest, 1)} % FSH, not within ${settingPercent} % of ${decision.referencePercent} %.`,
  ];
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
  if (field === null) remarks.push(unknownField);
  else if (far.length < curve.points.length) remarks.push(nearPointsRemark(curve.points, field));
  if (far.length < fewestForLaw)
    return without(
      `Fewer than three points lie at three near-field lengths or beyond, where a ${title} follows its law: no attenuation can be fitted.`,
    );
  const law = fitAttenuationLaw(far, exponent);
  doubts.push(...implausible(law.attenuationDbPerMm));
  return { law, withoutLaw: null };
}

function nearPointsRemark(points: readonly CurvePoint[], field: NearField): string {
  const near = points
    .filter((point) => point.inNearField === true)
    .map(({ distanceMm }) => `${figure(distanceMm, 2)} mm`);
  return `Nearer than three near-field lengths (${figure(field.lawsFromMm, 1)} mm): ${near.join(', ')}. The curve stands there as it was measured, the law of spreading does not hold, and the attenuation is fitted without.`;
}

function implausible(attenuationDbPerMm: Quantity): Doubt[] {
  const { value, standardUncertainty } = attenuationDbPerMm;
  if (!(value + coverageFactor * (standardUncertainty ?? 0) < 0)) return [];
  const { sentence, advice } = flagTexts['attenuation-implausible'];
  return [
    { flag: 'attenuation-implausible', sentence: `${sentence} It is ${figure(1000 * value, 1)} dB/m. ${advice}` },
  ];
}

/** From so many dB on it is said that a line of the curve hides something; half a step of the usual 1 dB gain control. */
const worthSayingDb = 0.5;

function lineRemarks(curve: DistanceAmplitudeCurve | null, above: readonly number[]): string[] {
  return above.flatMap((db, i) => {
    if (curve === null || Math.abs(db) < worthSayingDb) return [];
    const [a, b] = [curve.points[i].distanceMm, curve.points[i + 1].distanceMm];
    return [
      `Between ${figure(a, 2)} and ${figure(b, 2)} mm the line lies up to ${figure(Math.abs(db), 1)} dB ${db > 0 ? 'above' : 'below'} one over the logarithm of the distance, on which echoes that spread lie: readings there may be told ${db > 0 ? 'lower' : 'higher'} by so much, which their uncertainty takes in. Add a reflector between.`,
    ];
  });
}

/** Echoes fall with distance beyond the near field. */
function risingRemarks(points: readonly CurvePoint[]): string[] {
  return points.slice(1).flatMap((point, i) => {
    const before = points[i];
    if (before.inNearField === true) return [];
    const rise = point.levelDb.value - before.levelDb.value;
    const u = Math.hypot(point.levelDb.standardUncertainty ?? 0, before.levelDb.standardUncertainty ?? 0);
    if (rise <= coverageFactor * u) return [];
    return [
      `The echo at ${figure(point.distanceMm, 2)} mm stands ${figure(rise, 1)} dB above the one at ${figure(before.distanceMm, 2)} mm: outside the near field echoes fall with distance. Check that both are at their peak, and the reflectors meant.`,
    ];
  });
}

/** A small uncertainty must not hide what was left out of it. */
function errorRemarks(points: readonly CurvePoint[], { uCouplingDb, uGainDb }: HeightErrors): string[] {
  const gains = new Set(points.map(({ gainDb }) => gainDb));
  const leftOut = [
    ...(uCouplingDb === 0 && points.length > 0 ? ['the coupling'] : []),
    ...(uGainDb === 0 && gains.size > 1 ? ['the steps of the gain'] : []),
  ];
  if (leftOut.length === 0) return [];
  return [
    `The uncertainties of heights come from the noise alone and take ${leftOut.join(' and ')} as exact: state what is known of them.`,
  ];
}

function attenuationResult(
  decision: AttenuationDecision,
  errors: HeightErrors,
  field: NearField | null,
  examinations: readonly Examination[],
  say: Say,
): AttenuationResult | null {
  const { near, far } = decision;
  const place = 'attenuation';
  if (far.distanceMm <= near.distanceMm) {
    const sentence = `the far echo is given at ${far.distanceMm} mm and the near one at ${near.distanceMm} mm; give the nearer first`;
    say.problems.push(problem('distances-reversed', { file: place }, sentence));
    return null;
  }
  const heights = servingEchoes(examinations, [near, far], place);
  say.problems.push(...heights.problems);
  say.warnings.push(...heights.warnings);
  const [first, second] = inOneCapture(heights.echoes);
  if (first === null || second === null) return null;
  const between = {
    uCouplingDb: first.captureId === second.captureId ? 0 : errors.uCouplingDb,
    uGainDb: first.gainDb === second.gainDb ? 0 : errors.uGainDb / Math.SQRT2,
  };
  const backWall = (echo: EchoOfReflector, { distanceMm, toleranceMm }: AttenuationDecision['near']) => ({
    distanceMm,
    uDistanceMm: rectangularUncertainty(toleranceMm),
    levelDb: {
      value: echo.gainFreeDb,
      standardUncertainty: heightUncertaintyDb(echo.reading.signalToNoiseDb, between),
    },
  });
  const apparent = apparentAttenuation(backWall(first, near), backWall(second, far));
  const doubts = implausible(apparent.attenuationDbPerMm);
  if (field !== null && near.distanceMm < field.lawsFromMm) {
    const { sentence, advice } = flagTexts['in-near-field'];
    const figures = `The near echo comes from ${figure(near.distanceMm, 2)} mm; three near-field lengths are ${figure(field.lawsFromMm, 1)} mm.`;
    doubts.push({ flag: 'in-near-field', sentence: `${sentence} ${figures} ${advice}` });
  }
  return {
    ...apparent,
    near: backWallRead(near.distanceMm, first),
    far: backWallRead(far.distanceMm, second),
    doubts,
    remarks: field === null ? [unknownField] : [],
  };
}

/** Both echoes from one capture, where one shows both whole: then no gain and no coupling stands between them. Of several, the one with the highest near echo. */
function inOneCapture(
  echoes: readonly (ServingEcho | null)[],
): readonly [EchoOfReflector | null, EchoOfReflector | null] {
  const [near, far] = echoes;
  if (near == null || far == null) return [near?.serving ?? null, far?.serving ?? null];
  const all = ({ serving, others }: ServingEcho) => [serving, ...others].filter((echo) => !echo.bounded);
  const pairs = all(near).flatMap((a) =>
    all(far)
      .filter((b) => b.captureId === a.captureId)
      .map((b) => [a, b] as const),
  );
  const [best] = pairs.sort(([a], [b]) => b.gainFreeDb - a.gainFreeDb);
  return best ?? [near.serving, far.serving];
}

function backWallRead(distanceMm: number, { reading, captureId, gainDb }: EchoOfReflector): BackWallRead {
  const { amplitudePercent, timeUs, from, flags } = reading;
  return { distanceMm, captureId, gainDb, amplitudePercent, timeUs: timeUs?.value ?? null, from, flags };
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
