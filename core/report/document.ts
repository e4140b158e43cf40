import type { SampleRange } from '../capture/waveform.ts';
import type { DriftCheck, DriftResult } from '../check/drift.ts';
import type { Verdict } from '../check/verdict.ts';
import { verdictSummary } from '../check/verdict-summary.ts';
import type { Evaluation } from '../evaluate.ts';
import { type Flag, flagTexts } from '../flag.ts';
import { type FormulaKey, formulas } from '../formula.ts';
import type { Reading } from '../gate/reading.ts';
import { problemLine } from '../outcome.ts';
import type { Review } from '../review/review.ts';
import type { Echo } from '../signal/echoes.ts';
import type { CalibrationResult } from '../steps/calibrate.ts';
import type { CaptureFacts, Examination } from '../steps/examine.ts';
import type { ReadingResult, SeriesResult } from '../steps/read.ts';
import { flagsOfScan } from '../steps/scan.ts';
import { flagsOfSensitivity } from '../steps/sensitivity.ts';
import { metricStyle } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import { scanDocument } from './indication-document.ts';
import { linearityDocument } from './linearity-document.ts';
import { locationDocument } from './location-document.ts';
import { overTimeDocument } from './over-time-document.ts';
import { materialDocument, probesDocument } from './probe-document.ts';
import { sensitivityDocument } from './sensitivity-document.ts';
import { verdictSummaryDocument } from './verdict-summary-document.ts';

/**
 * Results as JSON documents: quantities carry their unit in the key, a standard uncertainty stands beside its quantity with `u_`
 * before the name, unknown is `null`. Figures are rounded to 1e-9 of their unit, far below any uncertainty, so that the
 * last bits of a processor's or an engine's mathematics do not show: the same input gives the same bytes.
 */
export function rounded(value: number): number {
  return Math.abs(value) < 1e6 ? Math.round(value * 1e9) / 1e9 + 0 : value;
}

/** For figures that are small by their unit: twelve significant digits. */
function significant(value: number | null): number | null {
  return value === null ? null : Number(value.toPrecision(12));
}

const orNull = (value: number | null | undefined): number | null =>
  value === null || value === undefined ? null : rounded(value);
const figureOf = (quantity: Quantity | null): number | null => orNull(quantity?.value);
const uOf = (quantity: Quantity | null): number | null => orNull(quantity?.standardUncertainty);
const samplesOf = (range: SampleRange | null): [number, number] | null =>
  range === null ? null : [range.first, range.last];

export type CaptureLookup = ReadonlyMap<string, CaptureFacts>;

export function captureLookup(captures: readonly CaptureFacts[]): CaptureLookup {
  return new Map(captures.map((capture) => [capture.captureId, capture]));
}

export const placeOf = (captureId: string | null, captures: CaptureLookup) => {
  const capture = captureId === null ? undefined : captures.get(captureId);
  return { file: capture?.file ?? captureId, trace: capture?.trace ?? null };
};

export function echoDocument(echo: Echo) {
  return {
    time_us: rounded(echo.timeUs),
    u_time_us: orNull(echo.uTimeUs),
    amplitude_percent: rounded(echo.amplitudePercent),
    prominence_percent: rounded(echo.prominencePercent),
    onset_us: orNull(echo.onsetUs),
    signal_to_noise_db: orNull(echo.signalToNoiseDb),
    flags: echo.flags,
    samples: samplesOf(echo.from),
  };
}

export function echoesDocument(examinations: readonly Examination[]) {
  return {
    captures: examinations.map(({ capture, noisePercent, echoes }) => ({
      file: capture.file,
      trace: capture.trace,
      noise_percent: orNull(noisePercent),
      echoes: echoes.map(echoDocument),
    })),
  };
}

export const calibrationFormat = 'ascan-calibration';

export function calibrationDocument(result: CalibrationResult, captures: CaptureLookup, settings: object) {
  const { calibration } = result;
  const timingDecides: FormulaKey = 'distance-fit';
  return {
    format: calibrationFormat,
    version: 1,
    velocity_m_per_s: figureOf(calibration?.velocityMPerS ?? null),
    u_velocity_m_per_s: uOf(calibration?.velocityMPerS ?? null),
    zero_offset_us: figureOf(calibration?.zeroOffsetUs ?? null),
    u_zero_offset_us: uOf(calibration?.zeroOffsetUs ?? null),
    covariance_us_us_per_mm: significant(calibration?.covarianceUsUsPerMm ?? null),
    velocity_half_width_95_m_per_s: orNull(calibration?.velocityHalfWidth95MPerS),
    zero_offset_half_width_95_us: orNull(calibration?.zeroOffsetHalfWidth95Us),
    degrees_of_freedom: calibration?.degreesOfFreedom ?? null,
    residual_sd_us: orNull(calibration?.residualSdUs),
    points: (calibration?.points ?? []).map((point) => ({
      distance_mm: rounded(point.distanceMm),
      u_distance_mm: rounded(point.uDistanceMm),
      time_us: rounded(point.timeUs),
      u_time_us: orNull(point.uTimeUs),
      amplitude_percent: orNull(point.amplitudePercent),
      gain_db: orNull(point.captureId === null ? null : captures.get(point.captureId)?.gainDb),
      block: (point.captureId === null ? null : captures.get(point.captureId)?.block) ?? null,
      residual_mm: rounded(point.residualMm),
      ...placeOf(point.captureId, captures),
      samples: samplesOf(point.from),
      flags: point.flags,
    })),
    unmatched_echoes: result.unmatchedEchoes.map((echo) => ({
      time_us: rounded(echo.timeUs),
      amplitude_percent: rounded(echo.amplitudePercent),
      name: echo.name,
      ...placeOf(echo.captureId, captures),
    })),
    flags: calibration?.flags ?? [],
    doubts: result.doubts.map((doubt) => ({ flag: doubt.flag, sentence: doubt.sentence })),
    formula: timingDecides,
    settings,
  };
}

export function readingDocument(reading: Reading, captures: CaptureLookup) {
  const { file, trace } = placeOf(reading.captureId, captures);
  return {
    file,
    trace,
    gate: reading.gate,
    time_us: figureOf(reading.timeUs),
    u_time_us: uOf(reading.timeUs),
    sound_path_mm: figureOf(reading.soundPathMm),
    u_sound_path_mm: uOf(reading.soundPathMm),
    amplitude_percent: orNull(reading.amplitudePercent),
    signal_to_noise_db: orNull(reading.signalToNoiseDb),
    crossing_us: orNull(reading.crossingUs),
    depth_mm: figureOf(reading.depthMm),
    u_depth_mm: uOf(reading.depthMm),
    surface_distance_mm: figureOf(reading.surfaceDistanceMm),
    u_surface_distance_mm: uOf(reading.surfaceDistanceMm),
    leg: reading.leg,
    below_peak_db: orNull(reading.belowPeakDb),
    flags: reading.flags,
    samples: samplesOf(reading.from),
  };
}

function seriesDocument(series: SeriesResult) {
  return {
    gate: series.gate,
    captures: series.captures.length,
    peak: series.peak && {
      position_mm: orNull(series.peak.positionMm),
      amplitude_percent: rounded(series.peak.amplitudePercent),
      reference_gain_db: orNull(series.peak.referenceGainDb),
      method: series.peak.method,
      is_lower_bound: series.peak.isLowerBound,
      from: series.peak.from,
    },
    path_range_mm: orNull(series.pathRangeMm),
    doubts: series.doubts,
  };
}

export function readingsDocument(result: ReadingResult, captures: CaptureLookup) {
  return {
    readings: result.readings.map((reading) => readingDocument(reading, captures)),
    series: result.series.map(seriesDocument),
  };
}

function verdictDocument(verdict: Verdict) {
  return {
    measured: figureOf(verdict.measured),
    u_measured: uOf(verdict.measured),
    limit: rounded(verdict.limit),
    unit: verdict.unit,
    rule: verdict.rule,
    clause: verdict.clause,
    decision: verdict.decision,
    outcome: verdict.outcome,
  };
}

function checkDocument(check: DriftCheck, captures: CaptureLookup) {
  return {
    ...placeOf(check.captureId, captures),
    taken_at: check.takenAt,
    reflectors: check.reflectors.map((reflector) => ({
      distance_mm: rounded(reflector.distanceMm),
      distance_error_mm: figureOf(reflector.distanceErrorMm),
      u_distance_error_mm: uOf(reflector.distanceErrorMm),
      same_block: reflector.sameBlock,
      amplitude_change_db: figureOf(reflector.amplitudeChangeDb),
      u_amplitude_change_db: uOf(reflector.amplitudeChangeDb),
      verdicts: reflector.verdicts.map(verdictDocument),
      flags: reflector.flags,
    })),
    velocity_change_percent: figureOf(check.velocityChangePercent),
    u_velocity_change_percent: uOf(check.velocityChangePercent),
    zero_offset_change_us: figureOf(check.zeroOffsetChangeUs),
    u_zero_offset_change_us: uOf(check.zeroOffsetChangeUs),
    same_block: check.sameBlock,
    cause: check.cause,
    cause_sentence: check.causeSentence,
    verdict: check.verdict,
    consequences: check.consequences,
    remarks: check.remarks,
    flags: check.flags,
  };
}

export function driftDocument(result: DriftResult, captures: CaptureLookup) {
  const fileOf = (captureId: string | null): string | null =>
    captureId === null ? null : placeOf(captureId, captures).file;
  return {
    checks: result.checks.map((check) => checkDocument(check, captures)),
    first_failing: fileOf(result.firstFailing),
    last_passing: fileOf(result.lastPassing),
    rule: result.rule && {
      name: result.rule.name,
      title: result.rule.title,
      edition: result.rule.edition,
      clause: result.rule.clause,
      source: result.rule.source,
    },
  };
}

/** Everything at once, with the texts of the flags and formulas that the results name. */
export function evaluationDocument(evaluation: Evaluation, review: Review, settings: object) {
  const captures = captureLookup(evaluation.captures);
  const {
    calibration,
    readings,
    drift,
    driftOverTime,
    sensitivity,
    location,
    scan,
    probes,
    material,
    linearity,
    echoes,
  } = evaluation;
  const parts = {
    calibration: calibration && calibrationDocument(calibration, captures, settings),
    ...(readings === null ? { readings: null, series: null } : readingsDocument(readings, captures)),
    drift: drift && driftDocument(drift, captures),
    drift_over_time: driftOverTime && overTimeDocument(driftOverTime, captures),
    sensitivity: sensitivity && sensitivityDocument(sensitivity, captures),
    location: location && locationDocument(location, captures),
    scan: scan && scanDocument(scan, captures),
    probes: probes && probesDocument(probes, captures),
    material: material && materialDocument(material, captures),
    linearity: linearityDocument(linearity, captures),
    echoes: echoes && echoesDocument(echoes).captures,
  };
  return {
    format: 'ascan-evaluation',
    review_version: review.version,
    title: review.title,
    captures: evaluation.captures.map((capture) => ({
      file: capture.file,
      trace: capture.trace,
      sha256: capture.sha256,
      samples: capture.samples,
      gain_db: orNull(capture.gainDb),
      position_mm: orNull(capture.positionMm),
      across_mm: orNull(capture.acrossMm),
      taken_at: capture.takenAt,
      probe: capture.probe,
      instrument: capture.instrument,
      block: capture.block,
      temperature_c: orNull(capture.temperatureC),
    })),
    ...parts,
    verdicts: verdictSummaryDocument(verdictSummary(review, evaluation, metricStyle), captures),
    problems: evaluation.problems.map(problemLine),
    flag_texts: textsOf(flagsIn(evaluation)),
    formulas,
  };
}

function flagsIn({
  calibration,
  readings,
  drift,
  sensitivity,
  location,
  scan,
  probes,
  linearity,
  echoes,
}: Evaluation): Set<Flag> {
  return new Set([
    ...(calibration?.calibration?.flags ?? []),
    ...(calibration?.calibration?.points ?? []).flatMap((point) => point.flags),
    ...(readings?.readings ?? []).flatMap((reading) => reading.flags),
    ...(drift?.checks ?? []).flatMap((check) => [
      ...check.flags,
      ...check.reflectors.flatMap((reflector) => reflector.flags),
    ]),
    ...(sensitivity === null ? [] : flagsOfSensitivity(sensitivity)),
    ...(location?.readings ?? []).flatMap((reading) => reading.flags),
    ...(scan === null ? [] : flagsOfScan(scan)),
    ...(probes?.captures ?? []).flatMap((pulse) => pulse.flags),
    ...[linearity.timeBase, linearity.screenHeight, linearity.gain].flatMap((part) => part?.flags ?? []),
    ...(echoes ?? []).flatMap((e) => e.echoes.flatMap((echo) => echo.flags)),
  ]);
}

function textsOf(flags: ReadonlySet<Flag>): Record<string, string> {
  const known = Object.keys(flagTexts) as Flag[];
  return Object.fromEntries(
    known
      .filter((flag) => flags.has(flag))
      .map((flag) => [flag, `${flagTexts[flag].sentence} ${flagTexts[flag].advice}`]),
  );
}
