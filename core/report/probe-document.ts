import { bestIn, type ProbeFigureResult } from '../probe/characteristics.ts';
import { probeFigureNames, probeFigures } from '../probe/figures.ts';
import { hindranceTexts } from '../probe/hindrance.ts';
import type { CapturePulse } from '../probe/pulse.ts';
import type { AttenuationAt, MaterialResult } from '../steps/material.ts';
import type { ProbeComparison, ProbeResult, ProbesResult } from '../steps/probes.ts';
import type { CaptureLookup } from './document.ts';
import { placeOf, rounded } from './document.ts';
import type { TextCell, TextTable } from './table-text.ts';

const orNull = (value: number | null | undefined): number | null => (value == null ? null : rounded(value));
/** Samples of curves to five digits: finer than any converter. */
const curve = (values: Float64Array): (number | null)[] =>
  Array.from(values, (value) => (Number.isFinite(value) ? Number(value.toPrecision(5)) : null));
const significant = (value: number | null | undefined): number | null =>
  value == null ? null : Number(value.toPrecision(12));

/** One capture: every figure with its uncertainty, and what is not measurable with its reason. */
export function pulseDocument(pulse: CapturePulse, captures: CaptureLookup) {
  const figures: Record<string, number | null> = {};
  const missing: Record<string, string> = {};
  for (const name of probeFigureNames) {
    const { key } = probeFigures[name];
    const { quantity, hindrance } = pulse.figures[name];
    figures[key] = orNull(quantity?.value);
    figures[`u_${key}`] = orNull(quantity?.standardUncertainty);
    if (hindrance !== null) missing[key] = hindrance;
  }
  const capture = captures.get(pulse.captureId);
  return {
    ...placeOf(pulse.captureId, captures),
    probe: capture?.probe ?? null,
    gain_db: orNull(capture?.gainDb),
    reason: pulse.hindrance,
    time_us: orNull(pulse.peakUs?.value),
    u_time_us: orNull(pulse.peakUs?.standardUncertainty),
    ...figures,
    not_measurable: missing,
    multi_lobed_at_6db: pulse.multiLobed.at6Db,
    multi_lobed_at_20db: pulse.multiLobed.at20Db,
    samples: pulse.from === null ? null : [pulse.from.first, pulse.from.last],
    flags: pulse.flags,
  };
}

function figureDocument({ quantity, by, sample, uNoise, hindrances }: ProbeFigureResult) {
  return {
    value: orNull(quantity?.value),
    u: orNull(quantity?.standardUncertainty),
    u_from: by,
    captures: sample?.count ?? 0,
    spread: orNull(sample?.sd),
    u_one_capture_by_noise: orNull(uNoise),
    not_measurable: hindrances.map(({ hindrance, count }) => ({ reason: hindrance, captures: count })),
  };
}

function comparisonDocument({ reference, figures, time, frequency }: ProbeComparison) {
  return {
    reference,
    figures: Object.fromEntries(
      figures.map(({ figure, difference, test, differs, sentence }) => [
        probeFigures[figure].key,
        {
          difference: orNull(difference?.value),
          u_difference: orNull(difference?.standardUncertainty),
          welch_t: orNull(test?.t),
          degrees_of_freedom: orNull(test?.degreesOfFreedom),
          p: significant(test?.p),
          differs,
          sentence,
        },
      ]),
    ),
    time: time && {
      aligned_by: time.alignment.by,
      shift_us: rounded(time.alignment.shiftUs),
      correlation: orNull(time.alignment.correlation),
      relative_rms: rounded(time.relativeRms),
      start_us: rounded(time.startUs),
      step_us: rounded(time.stepUs),
      reference: curve(time.reference),
      probe: curve(time.other),
      difference: curve(time.difference),
    },
    frequency: frequency && {
      step_mhz: significant(frequency.stepMHz),
      from_mhz: orNull(frequency.band?.fromMHz),
      to_mhz: orNull(frequency.band?.toMHz),
      difference_db: curve(frequency.differenceDb),
    },
  };
}

function probeDocument(probe: ProbeResult, captures: CaptureLookup) {
  return {
    probe: probe.probe,
    captures: probe.captureIds.length,
    shown_by: probe.shownBy === null ? null : placeOf(probe.shownBy, captures),
    multi_lobed_captures: { at_6db: probe.multiLobed.at6Db, at_20db: probe.multiLobed.at20Db },
    figures: Object.fromEntries(
      probeFigureNames.map((name) => [probeFigures[name].key, figureDocument(probe.figures[name])]),
    ),
    stated: probe.stated.map(({ figure, stated, deviation, unit, verdict }) => ({
      figure: probeFigures[figure].key,
      stated: rounded(stated),
      [unit === '%' ? 'deviation_percent' : 'deviation_db']: orNull(deviation?.value),
      [unit === '%' ? 'u_deviation_percent' : 'u_deviation_db']: orNull(deviation?.standardUncertainty),
      limit: verdict === null ? null : rounded(verdict.limit),
      verdict: verdict?.outcome ?? null,
    })),
    verdict: probe.outcome,
    comparison: probe.comparison && comparisonDocument(probe.comparison),
  };
}

/** Everything about probes: capture by capture, by probe, and what could not be measured and why. */
export function probesDocument(result: ProbesResult, captures: CaptureLookup) {
  return {
    spectrum: result.spectrum,
    captures: result.captures.map((pulse) => pulseDocument(pulse, captures)),
    probes: result.probes.map((probe) => probeDocument(probe, captures)),
    best: Object.fromEntries(probeFigureNames.map((name) => [probeFigures[name].key, bestIn(name, result.probes)])),
    reference: result.reference,
    rule: result.rule && {
      name: result.rule.name,
      title: result.rule.title,
      edition: result.rule.edition,
      source: result.rule.source,
    },
    failed: result.captures.flatMap(({ captureId, hindrance }) =>
      hindrance === null
        ? []
        : [{ ...placeOf(captureId, captures), reason: hindrance, sentence: hindranceTexts[hindrance] }],
    ),
    remarks: result.remarks,
    definitions: Object.fromEntries(
      probeFigureNames.map((name) => {
        const { key, title, unit, definition, source } = probeFigures[name];
        return [key, { title, unit, definition, source }];
      }),
    ),
  };
}

/** A row for each capture, in files' order: for a spreadsheet. */
export function pulseTable(pulses: readonly CapturePulse[], captures: CaptureLookup): TextTable {
  const figure = (value: number | null | undefined): TextCell =>
    value == null ? null : { figure: String(Number(value.toPrecision(9))) };
  const words = (text: string | null | undefined): TextCell => (text == null || text === '' ? null : { words: text });
  return {
    head: [
      'file',
      'trace',
      'probe',
      'gain_db',
      'not_measurable',
      'flags',
      'multi_lobed_at_6db',
      'multi_lobed_at_20db',
      ...probeFigureNames.flatMap((name) => [probeFigures[name].key, `u_${probeFigures[name].key}`]),
    ],
    rows: pulses.map((pulse) => {
      const capture = captures.get(pulse.captureId);
      return [
        words(capture?.file ?? pulse.captureId),
        words(capture?.trace),
        words(capture?.probe),
        figure(capture?.gainDb),
        words(pulse.hindrance),
        words(pulse.flags.join(' ')),
        words(pulse.multiLobed.at6Db ? 'yes' : ''),
        words(pulse.multiLobed.at20Db ? 'yes' : ''),
        ...probeFigureNames.flatMap((name) => {
          const { quantity } = pulse.figures[name];
          return [figure(quantity?.value), figure(quantity?.standardUncertainty)];
        }),
      ];
    }),
  };
}

function attenuationLine({ frequencyMHz, dbPerMm, captures }: AttenuationAt) {
  return {
    frequency_mhz: rounded(frequencyMHz),
    attenuation_db_per_mm_of_travel: significant(dbPerMm.value),
    u_attenuation_db_per_mm_of_travel: significant(dbPerMm.standardUncertainty),
    captures,
  };
}

/** Velocity and attenuation of a material. */
export function materialDocument(result: MaterialResult, captures: CaptureLookup) {
  const { velocityMPerS, sample, band } = result;
  return {
    thickness_mm: rounded(result.thicknessMm),
    velocity_m_per_s: orNull(velocityMPerS?.value),
    u_velocity_m_per_s: orNull(velocityMPerS?.standardUncertainty),
    spread_velocity_m_per_s: orNull(sample?.sd),
    captures: result.captures.map((capture) => ({
      ...placeOf(capture.captureId, captures),
      velocity_m_per_s: orNull(capture.velocityMPerS?.value),
      u_velocity_m_per_s: orNull(capture.velocityMPerS?.standardUncertainty),
      echoes: capture.echoes.map((echo) => ({
        multiple: echo.multiple,
        time_us: rounded(echo.timeUs),
        u_time_us: orNull(echo.uTimeUs),
        amplitude_percent: rounded(echo.amplitudePercent),
        correlation: orNull(echo.correlation),
        doubts: echo.doubts,
      })),
      not_measurable: capture.hindrances.map(({ multiple, hindrance }) => ({ multiple, reason: hindrance })),
      without_attenuation: capture.withoutAttenuation,
    })),
    band: band && { from_mhz: rounded(band.fromMHz), to_mhz: rounded(band.toMHz) },
    attenuation: result.attenuation.map(attenuationLine),
    remarks: result.remarks,
  };
}

/** A row for each frequency. */
export function attenuationTable(lines: readonly AttenuationAt[]): TextTable {
  const figure = (value: number | null): TextCell =>
    value === null ? null : { figure: String(Number(value.toPrecision(9))) };
  return {
    head: ['frequency_mhz', 'attenuation_db_per_mm_of_travel', 'u_attenuation_db_per_mm_of_travel', 'captures'],
    rows: lines.map(({ frequencyMHz, dbPerMm, captures }) => [
      figure(frequencyMHz),
      figure(dbPerMm.value),
      figure(dbPerMm.standardUncertainty),
      figure(captures),
    ]),
  };
}
