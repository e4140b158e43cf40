import { arithmeticLines } from '../sensitivity/arithmetic.ts';
import type { CurvePoint } from '../sensitivity/distance-amplitude-curve.ts';
import { levelsInDb } from '../sensitivity/evaluation-levels.ts';
import { type HeldReading, highestAbove } from '../sensitivity/hold-against-curve.ts';
import { spreadingOf } from '../sensitivity/reflector-kind.ts';
import type { AttenuationResult, CurveResult, SensitivityResult } from '../steps/sensitivity.ts';
import { metricStyle } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import { type CaptureLookup, rounded } from './document.ts';

const orNull = (value: number | null | undefined): number | null => (value == null ? null : rounded(value));
const figureOf = (quantity: Quantity | null): number | null => orNull(quantity?.value);
const uOf = (quantity: Quantity | null): number | null => orNull(quantity?.standardUncertainty);

const placeOf = (captureId: string, captures: CaptureLookup) => {
  const capture = captures.get(captureId);
  return { file: capture?.file ?? captureId, trace: capture?.trace ?? null };
};

/** Attenuations are small by their unit: dB per mm of travel to twelve significant digits. */
const significant = (value: number | null | undefined): number | null =>
  value == null ? null : Number(value.toPrecision(12));

function pointDocument(point: CurvePoint, captures: CaptureLookup) {
  return {
    distance_mm: rounded(point.distanceMm),
    u_distance_mm: rounded(point.uDistanceMm),
    ...placeOf(point.captureId, captures),
    gain_db: orNull(point.gainDb),
    amplitude_percent: rounded(point.amplitudePercent),
    level_db: figureOf(point.levelDb),
    u_level_db: uOf(point.levelDb),
    height_at_reference_percent: figureOf(point.heightPercent),
    u_height_at_reference_percent: uOf(point.heightPercent),
    sound_path_mm: figureOf(point.soundPathMm),
    u_sound_path_mm: uOf(point.soundPathMm),
    in_near_field: point.inNearField,
    others: point.others.map(({ captureId, belowDb }) => ({
      ...placeOf(captureId, captures),
      below_db: rounded(belowDb),
    })),
    flags: point.flags,
  };
}

export function heldReadingDocument(reading: HeldReading, captures: CaptureLookup) {
  return {
    ...placeOf(reading.captureId, captures),
    gate: reading.gate,
    sound_path_mm: figureOf(reading.soundPathMm),
    u_sound_path_mm: uOf(reading.soundPathMm),
    amplitude_percent: orNull(reading.amplitudePercent),
    gain_db: orNull(reading.gainDb),
    level_db: figureOf(reading.levelDb),
    u_level_db: uOf(reading.levelDb),
    curve_db: figureOf(reading.curveDb),
    u_curve_db: uOf(reading.curveDb),
    to_curve_db: figureOf(reading.toCurveDb),
    u_to_curve_db: uOf(reading.toCurveDb),
    of_curve_percent: figureOf(reading.percentOfCurve),
    u_of_curve_percent: uOf(reading.percentOfCurve),
    is_lower_bound: reading.atLeast,
    levels: reading.levels.map(({ name, db, outcome }) => ({ name, db: rounded(db), outcome })),
    highest_level_above: highestAbove(reading)?.name ?? null,
    remarks: reading.remarks,
    flags: reading.flags,
  };
}

function curveDocument(result: CurveResult, captures: CaptureLookup) {
  const { reference, law, levels } = result;
  return {
    reference: reference && {
      height_percent: rounded(reference.percent),
      gain_db: orNull(reference.gainDb),
      by: reference.by,
    },
    kind: result.kind,
    kind_title: spreadingOf[result.kind].title,
    points: result.points.map((point) => pointDocument(point, captures)),
    is_curve: result.curve !== null,
    straight_in: result.straightIn,
    lines_above_logarithm_db: result.linesAboveLogarithmDb.map(rounded),
    time_corrected_gain: result.timeCorrectedGain.map((row) => ({
      distance_mm: rounded(row.distanceMm),
      is_point: row.isPoint,
      curve_db: figureOf(row.curveLevelDb),
      u_curve_db: uOf(row.curveLevelDb),
      added_gain_db: figureOf(row.addedGainDb),
      u_added_gain_db: uOf(row.addedGainDb),
    })),
    law: law && {
      spreading_exponent: law.exponent,
      from_mm: rounded(law.fromMm),
      to_mm: rounded(law.toMm),
      level_at_from_db: figureOf(law.levelAtFromDb),
      u_level_at_from_db: uOf(law.levelAtFromDb),
      attenuation_db_per_mm_of_travel: significant(law.attenuationDbPerMm.value),
      u_attenuation_db_per_mm_of_travel: significant(law.attenuationDbPerMm.standardUncertainty),
      attenuation_half_width_95_db_per_mm_of_travel: significant(law.attenuationHalfWidth95DbPerMm),
      attenuation_db_per_mm_of_sound_path: significant(2 * law.attenuationDbPerMm.value),
      degrees_of_freedom: law.degreesOfFreedom,
      residual_sd_db: rounded(law.residualSdDb),
      residuals_db: law.points.map(({ distanceMm, residualDb }) => ({
        distance_mm: rounded(distanceMm),
        residual_db: rounded(residualDb),
      })),
    },
    without_law: result.withoutLaw,
    levels: levels && {
      name: levels.name,
      title: levels.title,
      edition: levels.edition,
      clause: levels.clause,
      source: levels.source,
      list: levelsInDb(levels).map(({ name, db }) => ({ name, db: rounded(db) })),
    },
    transfer_correction_db: figureOf(result.transferDb),
    u_transfer_correction_db: uOf(result.transferDb),
    readings: result.readings.map((reading) => heldReadingDocument(reading, captures)),
    doubts: result.doubts.map(({ flag, sentence }) => ({ flag, sentence })),
    remarks: result.remarks,
  };
}

export function attenuationDocument(result: AttenuationResult, captures: CaptureLookup) {
  const echo = (read: AttenuationResult['near']) => ({
    distance_mm: rounded(read.distanceMm),
    ...placeOf(read.captureId, captures),
    gain_db: orNull(read.gainDb),
    amplitude_percent: rounded(read.amplitudePercent),
    time_us: orNull(read.timeUs),
    flags: read.flags,
  });
  return {
    near: echo(result.near),
    far: echo(result.far),
    drop_db: figureOf(result.dropDb),
    u_drop_db: uOf(result.dropDb),
    spreading_db: rounded(result.spreadingDb),
    travel_mm: rounded(result.travelMm),
    attenuation_db_per_mm_of_travel: significant(result.attenuationDbPerMm.value),
    u_attenuation_db_per_mm_of_travel: significant(result.attenuationDbPerMm.standardUncertainty),
    attenuation_db_per_mm_of_thickness: significant(2 * result.attenuationDbPerMm.value),
    doubts: result.doubts.map(({ flag, sentence }) => ({ flag, sentence })),
    remarks: result.remarks,
  };
}

export function sensitivityDocument(result: SensitivityResult, captures: CaptureLookup) {
  const { nearField, curve, attenuation } = result;
  return {
    near_field: nearField && {
      wavelength_mm: rounded(nearField.wavelengthMm),
      length_mm: rounded(nearField.lengthMm),
      exact_length_mm: rounded(nearField.exactMm),
      laws_from_mm: rounded(nearField.lawsFromMm),
    },
    curve: curve && curveDocument(curve, captures),
    attenuation: attenuation && attenuationDocument(attenuation, captures),
    arithmetic: arithmeticLines(result, result.probe?.elementMm ?? null, metricStyle).map(({ of, arithmetic }) => ({
      of,
      formula: arithmetic.text,
      with_numbers: arithmetic.withNumbers,
    })),
  };
}
