import { ratingLines } from '../rating/arithmetic.ts';
import { ratingCaution, ratingClause } from '../rating/aws-d1.1.ts';
import type { DynamicPoint } from '../scan/echo-dynamic.ts';
import { highestAbove } from '../sensitivity/hold-against-curve.ts';
import { lengthArithmetic } from '../sizing/arithmetic.ts';
import type { End } from '../sizing/ends.ts';
import { type Indication, percentOnCurve } from '../steps/indication.ts';
import type { ScanResult } from '../steps/scan.ts';
import { metricStyle } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import { type CaptureLookup, placeOf, rounded } from './document.ts';
import { expectationDocument } from './location-document.ts';

const orNull = (value: number | null | undefined): number | null => (value == null ? null : rounded(value));
const figureOf = (quantity: Quantity | null | undefined): number | null => orNull(quantity?.value);
const uOf = (quantity: Quantity | null | undefined): number | null => orNull(quantity?.standardUncertainty);

function endDocument(end: End | null) {
  return (
    end && {
      position_mm: figureOf(end.positionMm),
      u_position_mm: uOf(end.positionMm),
      state: end.state,
      inside_mm: rounded(end.insideMm),
      outside_mm: orNull(end.outsideMm),
      bend_mm: orNull(end.bendMm),
    }
  );
}

function pointDocument(point: DynamicPoint, curve: Indication['along'], captures: CaptureLookup) {
  return {
    ...placeOf(point.captureId, captures),
    position_mm: rounded(point.positionMm),
    across_mm: orNull(point.acrossMm),
    gain_db: orNull(point.gainDb),
    amplitude_percent: orNull(point.amplitudePercent),
    at_one_gain_percent: orNull(percentOnCurve(point, curve)),
    sound_path_mm: figureOf(point.reading.soundPathMm),
    state: point.state,
  };
}

/** The length of an indication, with how it was made. */
export function lengthDocument({ name, length }: Pick<Indication, 'name' | 'length'>) {
  const made = lengthArithmetic(length, metricStyle);
  return {
    method: length.method,
    drop_db: orNull(length.dropDb),
    length_mm: figureOf(length.lengthMm),
    u_length_mm: uOf(length.lengthMm),
    is_at_least: length.atLeast,
    is_at_most: length.atMost,
    travel_mm: figureOf(length.travelMm),
    u_travel_mm: uOf(length.travelMm),
    beam_width_taken_off_mm: figureOf(length.takenOffMm),
    peak_level_db: figureOf(length.peak?.levelDb),
    end_level_db: orNull(length.endLevelDb),
    low_end: endDocument(length.low),
    high_end: endDocument(length.high),
    without_length: length.withoutLength,
    arithmetic: made === null ? [] : [{ of: name, formula: made.text, with_numbers: made.withNumbers }],
  };
}

export function indicationDocument(indication: Indication, captures: CaptureLookup) {
  const { peak, amplitude, toCurve, rating, location, along } = indication;
  const held = toCurve?.held ?? null;
  return {
    name: indication.name,
    decided: indication.decided,
    taken: indication.taken,
    notes: indication.notes,
    captures: indication.captures.length,
    from_mm: rounded(indication.fromMm),
    to_mm: rounded(indication.toMm),
    peak: peak && {
      ...placeOf(peak.captureId, captures),
      position_mm: rounded(peak.positionMm),
      across_mm: orNull(peak.acrossMm),
      gain_db: orNull(peak.gainDb),
      amplitude_percent: orNull(peak.amplitudePercent),
      is_lower_bound: indication.peakIsLowerBound,
    },
    length: lengthDocument(indication),
    length_across: lengthDocument({ name: indication.name, length: indication.lengthAcross }),
    sound_path_mm: figureOf(indication.soundPathMm),
    u_sound_path_mm: uOf(indication.soundPathMm),
    depth_mm: figureOf(indication.depthMm),
    u_depth_mm: uOf(indication.depthMm),
    surface_distance_mm: figureOf(indication.surfaceDistanceMm),
    u_surface_distance_mm: uOf(indication.surfaceDistanceMm),
    leg: indication.leg,
    across_weld_mm: figureOf(location?.place?.acrossMm),
    u_across_weld_mm: uOf(location?.place?.acrossMm),
    geometry_expected: (location?.geometry ?? []).map(({ sentence }) => sentence),
    level_db: figureOf(amplitude.held?.levelDb),
    u_level_db: uOf(amplitude.held?.levelDb),
    gain_taken_out_db: orNull(amplitude.takenOutDb),
    unreferenced: amplitude.unreferenced,
    to_curve_db: figureOf(held?.toCurveDb),
    u_to_curve_db: uOf(held?.toCurveDb),
    levels: (held?.levels ?? []).map(({ name, db, outcome }) => ({ name, db: rounded(db), outcome })),
    highest_level_above: held === null ? null : (highestAbove(held)?.name ?? null),
    rating: rating && {
      form: rating.form,
      indication_level_db: orNull(rating.indicationLevelDb),
      reference_level_db: orNull(rating.referenceLevelDb),
      attenuation_factor_db: rounded(rating.factor.factorDb),
      attenuation_factor_before_rounding_db: rounded(rating.factor.rawDb),
      rating_db: figureOf(rating.ratingDb),
      u_rating_db: uOf(rating.ratingDb),
      is_at_most: rating.atMost,
      clause: ratingClause,
      caution: ratingCaution,
      arithmetic: ratingLines(rating, metricStyle).map(({ text, withNumbers }) => ({
        formula: text,
        with_numbers: withNumbers,
      })),
    },
    without_rating: indication.withoutRating,
    echo_dynamic: along.points.map((point) => pointDocument(point, along, captures)),
    across: indication.across?.map((point) => pointDocument(point, along, captures)) ?? null,
    flags: indication.flags,
    remarks: indication.remarks,
  };
}

export function scanDocument(result: ScanResult, captures: CaptureLookup) {
  return {
    lines: result.lines.map(({ acrossMm, stations }) => ({
      across_mm: orNull(acrossMm),
      positions: stations.length,
      from_mm: orNull(stations[0]?.positionMm),
      to_mm: orNull(stations.at(-1)?.positionMm),
    })),
    step_mm: orNull(result.stepMm),
    indications: result.indications.map((indication) => indicationDocument(indication, captures)),
    expected: result.expected.map((expectation) => expectationDocument(expectation, captures)),
    remarks: result.remarks,
  };
}
