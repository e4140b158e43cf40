import type { DistanceCalibration } from './calibration/distance.ts';
import type { Capture } from './capture/capture.ts';
import type { DriftResult } from './check/drift.ts';
import type { DriftOverTime } from './check/drift-over-time.ts';
import type { CalibratedReflector } from './check/same-block.ts';
import { type Problem, problem } from './outcome.ts';
import { withFacts } from './review/facts.ts';
import type { Review } from './review/review.ts';
import {
  type CalibrationResult,
  calibrationAsGiven,
  concludeCalibration,
  planForCalibration,
} from './steps/calibrate.ts';
import { meantBy } from './steps/calibration-points.ts';
import { concludeDrift, planForDrift } from './steps/check-drift.ts';
import { type CaptureFacts, type Examination, type Examined, examine, type Plan, planFor } from './steps/examine.ts';
import { concludeLinearity, type LinearityResult, planForLinearity } from './steps/linearity.ts';
import { concludeLocation, gateEndsMm, type LocationResult, planForDamping } from './steps/locate.ts';
import { concludeMaterial, type MaterialResult, planForMaterial } from './steps/material.ts';
import { concludeOverTime } from './steps/over-time.ts';
import { concludeProbes, mostWithCurves, type ProbesResult, planForProbes } from './steps/probes.ts';
import { concludeReadings, planForReadings, type ReadingResult } from './steps/read.ts';
import { type ScanResult, scanStep } from './steps/scan.ts';
import { concludeSensitivity, type SensitivityResult } from './steps/sensitivity.ts';
import { planForHeights } from './steps/sensitivity-points.ts';

/** Everything that follows from a review and its captures. A part that was not asked for is `null`. */
export interface Evaluation {
  readonly echoes: readonly Examination[] | null;
  readonly calibration: CalibrationResult | null;
  readonly readings: ReadingResult | null;
  readonly drift: DriftResult | null;
  /** The same checks by instrument and probe: control charts, trends, intervals, and which readings to look at again. */
  readonly driftOverTime: DriftOverTime | null;
  readonly sensitivity: SensitivityResult | null;
  /** Where the readings lie in the part. */
  readonly location: LocationResult | null;
  /** Indications of a scan: proposed, placed, sized, rated. */
  readonly scan: ScanResult | null;
  /** Probes characterised and compared. */
  readonly probes: ProbesResult | null;
  /** Velocity and attenuation from echoes of a back wall. */
  readonly material: MaterialResult | null;
  /** Checks of the instrument; a part of it that was not asked for is `null`. */
  readonly linearity: LinearityResult;
  /** The captures that any part used, in the review's order. */
  readonly captures: readonly CaptureFacts[];
  readonly problems: readonly Problem[];
}

/** How a step's captures are examined: here, or in batches elsewhere with the same result. */
export type Examiner = (references: readonly string[], plan: Plan) => Examined;

/**
 * The one way from decisions and data to results. Pure: the same review and captures give the same evaluation.
 *
 *     1  the person's facts are laid over what the files say
 *     2  calibration captures: condition, find, match, fit              -> calibration
 *     3  captures of the part: condition, read each gate                -> readings
 *     4  each gate over its series: fitted peak, off-peak, walking      -> readings with their place in the series
 *     5  check captures: read the reflectors again, hold against 2      -> drift, verdicts; over time
 *     6  reference reflectors: heights, curve, attenuation; 3 held     -> sensitivity
 *     7  readings 3 in the part: place, what its own shape shows, damping -> location; the probe's checks
 *     8  captures of a scan: indications proposed, placed, sized, rated -> scan
 *     9  captures of the instrument's own checks: time base, height, gain -> linearity, verdicts
 *    10  captures of several probes on one reflector: figures, against the stated and the reference ones -> probes
 *    11  back-wall echoes at a known thickness -> material
 *    12  echoes, where a list was asked for
 *
 * A problem in one step leaves the results of the others standing.
 */
export function evaluate(review: Review, captures: readonly Capture[]): Evaluation {
  const known = captures.map((capture) => withFacts(capture, review.sources));
  return evaluateWith(review, (references, plan) => {
    const meant = meantBy(references);
    return examine(
      known.filter(({ id, file }) => meant({ captureId: id, file })),
      plan,
    );
  });
}

/** The same with another examiner: a host that reads captures as they are needed and keeps none. */
export function evaluateWith(review: Review, examiner: Examiner): Evaluation {
  const steps = evaluationSteps(review);
  let step = steps.next();
  while (!step.done) step = steps.next(examiner(step.value.references, step.value.plan));
  return step.value;
}

/** What a step of the evaluation asks: these captures, examined by this plan. */
export interface Question {
  readonly references: readonly string[];
  readonly plan: Plan;
}

type Steps<Result> = Generator<Question, Result, Examined>;

/** The same as questions and answers, for who must pause between captures: each question is answered with what was examined, the last `next` gives the evaluation. */
export function* evaluationSteps(review: Review): Steps<Evaluation> {
  const problems: Problem[] = [];
  const seen = new Map<string, CaptureFacts>();
  function* examined(references: readonly string[], plan: Plan): Steps<readonly Examination[]> {
    const { examinations, problems: found } = yield { references, plan };
    for (const { capture } of examinations) seen.set(capture.captureId, capture);
    problems.push(...found);
    return examinations;
  }

  const calibrated = yield* calibrationStep(review, examined);
  const calibration = calibrated.calibration;

  const readings =
    review.readings === null
      ? null
      : concludeReadings(
          review.readings,
          yield* examined(review.readings.captures, planForReadings(review, review.readings, calibration)),
        );

  let drift: DriftResult | null = null;
  if (review.drift !== null && calibration !== null) {
    const plan = planForDrift(review, review.drift, calibration);
    const outcome = concludeDrift(
      review.drift,
      calibration,
      calibrated.reflectors,
      yield* examined(review.drift.captures, plan),
    );
    if (outcome.ok) drift = outcome.value;
    else problems.push(...outcome.problems);
  } else if (review.drift !== null) {
    problems.push(
      problem(
        'drift-without-calibration',
        { file: 'drift' },
        'drift needs a calibration to hold the checks against; calibrate first',
      ),
    );
  }

  const sensitivity = yield* sensitivityStep(review, calibration, readings, seen, examined);
  problems.push(...(sensitivity?.problems ?? []));

  const location = yield* locationStep(review, calibration, readings, seen, examined);
  problems.push(...(location?.problems ?? []));

  const scan =
    review.scan === null ? null : yield* scanStep(review, review.scan, { calibration, sensitivity }, examined);
  problems.push(...(scan?.problems ?? []));

  const checks: Parameters<typeof concludeLinearity>[1] = {};
  for (const { part, references, plan } of planForLinearity(review)) checks[part] = yield* examined(references, plan);
  const { result: linearity, problems: hindrances } = concludeLinearity(review.linearity, checks);
  problems.push(...hindrances);

  let probes: ProbesResult | null = null;
  if (review.probes !== null) {
    const { captures } = review.probes;
    const plan = planForProbes(review, review.probes, captures.length <= mostWithCurves);
    probes = concludeProbes(review.probes, yield* examined(captures, plan), review.conditioning);
  }
  let material: MaterialResult | null = null;
  if (review.material !== null) {
    const plan = planForMaterial(review, review.material);
    material = concludeMaterial(review.material, yield* examined(review.material.captures, plan));
  }
  problems.push(...(probes?.problems ?? []), ...(material?.problems ?? []));

  const echoes =
    review.echoes === null ? null : yield* examined(review.echoes.captures, planFor(review, { echoes: review.echoes }));
  return {
    echoes,
    calibration: calibrated.result,
    readings,
    drift,
    driftOverTime: drift === null ? null : concludeOverTime(drift, seen, readings?.readings ?? []),
    sensitivity,
    location,
    scan,
    probes,
    material,
    linearity,
    captures: [...seen.values()],
    problems: [...(calibrated.result?.problems ?? []), ...problems],
  };
}

function* sensitivityStep(
  review: Review,
  calibration: DistanceCalibration | null,
  readings: ReadingResult | null,
  seen: ReadonlyMap<string, CaptureFacts>,
  examined: (references: readonly string[], plan: Plan) => Steps<readonly Examination[]>,
): Steps<SensitivityResult | null> {
  const { sensitivity: decision } = review;
  if (decision === null) return null;
  const { curve, attenuation } = decision;
  const ofCurve =
    curve === null
      ? []
      : yield* examined(curve.captures, planForHeights(review, curve.reflectors, curve.thresholdPercent, calibration));
  const ofAttenuation =
    attenuation === null
      ? []
      : yield* examined(
          attenuation.captures,
          planForHeights(review, [attenuation.near, attenuation.far], attenuation.thresholdPercent, calibration),
        );
  return concludeSensitivity(decision, {
    calibration,
    ofCurve,
    ofAttenuation,
    readings: readings?.readings ?? [],
    gainDbOf: (captureId) => seen.get(captureId)?.gainDb ?? null,
  });
}

function* locationStep(
  review: Review,
  calibration: DistanceCalibration | null,
  readings: ReadingResult | null,
  seen: ReadonlyMap<string, CaptureFacts>,
  examined: (references: readonly string[], plan: Plan) => Steps<readonly Examination[]>,
): Steps<LocationResult | null> {
  const { part } = review;
  if (part === null) return null;
  const damped: [readonly Examination[], readonly Examination[]][] = [];
  for (const { before, after, abovePercent } of part.damping) {
    const plan = planForDamping(review, abovePercent);
    damped.push([yield* examined([before], plan), yield* examined([after], plan)]);
  }
  return concludeLocation(part, {
    calibration,
    readings: readings?.readings ?? [],
    captures: seen,
    damped,
    gatesToMm: gateEndsMm(review.readings?.gates ?? [], calibration),
    beamOfReadings: review.readings?.beam ?? null,
  });
}

interface Calibrated {
  readonly result: CalibrationResult | null;
  readonly calibration: DistanceCalibration | null;
  readonly reflectors: readonly CalibratedReflector[];
}

function* calibrationStep(
  review: Review,
  examined: (references: readonly string[], plan: Plan) => Steps<readonly Examination[]>,
): Steps<Calibrated> {
  const decision = review.calibration;
  if (decision === null) return { result: null, calibration: null, reflectors: [] };
  if (decision.kind === 'given') {
    const calibration = calibrationAsGiven(decision);
    return {
      result: { calibration, points: [], unmatchedEchoes: [], doubts: [], problems: [] },
      calibration,
      reflectors: decision.points,
    };
  }
  const examinations = yield* examined(decision.captures, planForCalibration(review, decision));
  const result = concludeCalibration(decision, examinations);
  const captures = new Map(examinations.map((e) => [e.capture.captureId, e.capture]));
  const reflectors = (result.calibration?.points ?? []).map(
    ({ distanceMm, uDistanceMm, timeUs, uTimeUs, amplitudePercent, captureId }) => {
      const capture = captureId === null ? undefined : captures.get(captureId);
      const { gainDb = null, block = null } = capture ?? {};
      return { distanceMm, uDistanceMm, timeUs, uTimeUs, amplitudePercent, gainDb, block };
    },
  );
  return { result, calibration: result.calibration, reflectors };
}
