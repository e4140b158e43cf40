import type { DampedEcho, DampingComparison } from '../compare/damping.ts';
import type { BeamEdges } from '../part/beam.ts';
import type { ExpectedEcho } from '../part/expected-echoes.ts';
import { locationFormulas } from '../part/formulas.ts';
import type { ProbePlace } from '../part/locate-in-part.ts';
import type { ProbeCheckResult, ProbeFigure } from '../probe-check/probe-checks.ts';
import type { BeamInNumbers, Expectation, LocatedReading, LocationResult } from '../steps/locate.ts';
import type { Quantity } from '../units/quantity.ts';
import { type CaptureLookup, placeOf, rounded } from './document.ts';

const orNull = (value: number | null | undefined): number | null => (value == null ? null : rounded(value));
const figureOf = (quantity: Quantity | null | undefined): number | null => orNull(quantity?.value);
const uOf = (quantity: Quantity | null | undefined): number | null => orNull(quantity?.standardUncertainty);

function beamDocument(beam: BeamInNumbers) {
  const edges = (of: BeamEdges | null) =>
    of && { steepest_deg: rounded(of.steepestDeg), flattest_deg: rounded(of.flattestDeg) };
  const { skips, nearField } = beam;
  return {
    angle_deg: figureOf(beam.angleDeg),
    u_angle_deg: uOf(beam.angleDeg),
    velocity_m_per_s: orNull(beam.velocityMPerS),
    incidence_deg: orNull(beam.incidenceDeg),
    leg_mm: orNull(skips?.legMm),
    half_skip_mm: orNull(skips?.halfSkipMm),
    skip_mm: orNull(skips?.skipMm),
    v_path_mm: orNull(skips?.vPathMm),
    edges_minus_6_db: edges(beam.edgesMinus6Db),
    edges_minus_20_db: edges(beam.edgesMinus20Db),
    near_field_mm: orNull(nearField?.lengthMm),
  };
}

function expectedDocument({ name, place, leg, pathMm, angleDeg }: ExpectedEcho) {
  return {
    name,
    leg,
    sound_path_mm: rounded(pathMm.value),
    u_sound_path_mm: uOf(pathMm),
    angle_deg: rounded(angleDeg),
    across_mm: orNull(place?.acrossMm),
    depth_mm: orNull(place?.depthMm),
  };
}

function probeDocument(probe: ProbePlace | null) {
  return probe && { side: probe.side, offset_mm: rounded(probe.offsetMm), u_offset_mm: rounded(probe.uOffsetMm) };
}

export function expectationDocument({ captures: ids, probe, echoes }: Expectation, captures: CaptureLookup) {
  return {
    captures: ids.map((id) => placeOf(id, captures)),
    probe: probeDocument(probe),
    echoes: echoes.map(expectedDocument),
  };
}

export function locatedDocument(located: LocatedReading, captures: CaptureLookup) {
  const { place, soundPathMm } = located;
  return {
    ...placeOf(located.captureId, captures),
    gate: located.gate,
    sound_path_mm: figureOf(soundPathMm),
    u_sound_path_mm: uOf(soundPathMm),
    amplitude_percent: orNull(located.amplitudePercent),
    leg: place?.leg ?? null,
    depth_mm: figureOf(place?.depthMm),
    u_depth_mm: uOf(place?.depthMm),
    surface_distance_mm: figureOf(place?.surfaceDistanceMm),
    u_surface_distance_mm: uOf(place?.surfaceDistanceMm),
    from_front_mm: figureOf(place?.fromFrontMm),
    u_from_front_mm: uOf(place?.fromFrontMm),
    across_mm: figureOf(place?.acrossMm),
    u_across_mm: uOf(place?.acrossMm),
    along_weld_mm: orNull(located.alongWeldMm),
    ellipse: place?.ellipse
      ? {
          coverage_factor: 2,
          semi_major_mm: rounded(place.ellipse.semiMajorMm),
          semi_minor_mm: rounded(place.ellipse.semiMinorMm),
          tilt_deg: rounded(place.ellipse.tiltDeg),
        }
      : null,
    probe: probeDocument(located.probe),
    geometry_expected: located.geometry.map(({ expected, differenceMm, toleranceMm, sentence }) => ({
      ...expectedDocument(expected),
      difference_mm: rounded(differenceMm),
      tolerance_mm: rounded(toleranceMm),
      sentence,
    })),
    taken: located.taken,
    without: located.without,
    remarks: place?.remarks ?? [],
    flags: located.flags,
  };
}

function dampedDocument({ before, after, changeDb, shiftUs, shiftMm, outcome, sentence }: DampedEcho) {
  return {
    before_us: orNull(before?.timeUs),
    before_percent: orNull(before?.amplitudePercent),
    after_us: orNull(after?.timeUs),
    after_percent: orNull(after?.amplitudePercent),
    change_db: figureOf(changeDb),
    u_change_db: uOf(changeDb),
    shift_us: figureOf(shiftUs),
    u_shift_us: uOf(shiftUs),
    shift_mm: figureOf(shiftMm),
    u_shift_mm: uOf(shiftMm),
    outcome,
    sentence,
  };
}

function dampingDocument(comparison: DampingComparison, captures: CaptureLookup) {
  return {
    before: placeOf(comparison.before, captures),
    after: placeOf(comparison.after, captures),
    common_shift_us: orNull(comparison.commonShiftUs),
    common_db: orNull(comparison.commonDb),
    echoes: comparison.echoes.map(dampedDocument),
    remarks: comparison.remarks,
  };
}

function checkDocument(figure: ProbeFigure | null, unit: 'mm' | 'deg') {
  return (
    figure && {
      [`measured_${unit}`]: rounded(figure.measured.value),
      [`u_measured_${unit}`]: uOf(figure.measured),
      [`stated_${unit}`]: orNull(figure.stated),
      [`deviation_${unit}`]: figureOf(figure.deviation),
      [`limit_${unit}`]: orNull(figure.limits?.upper),
      verdict: figure.verdict?.outcome ?? null,
    }
  );
}

export function probeChecksDocument({ rule, indexToFrontMm, angleDeg, elsewhere, remarks }: ProbeCheckResult) {
  return {
    rule: rule && {
      name: rule.name,
      title: rule.title,
      edition: rule.edition,
      clause: rule.clause,
      source: rule.source,
    },
    index_to_front: checkDocument(indexToFrontMm, 'mm'),
    angle: checkDocument(angleDeg, 'deg'),
    elsewhere:
      elsewhere &&
      (elsewhere.kind === 'none'
        ? { reason: elsewhere.reason }
        : { from_deg: rounded(elsewhere.fromDeg), ...checkDocument(elsewhere.against, 'deg') }),
    remarks,
  };
}

/** Where the readings lie in the part, and what its own shape sends back. */
export function locationDocument(result: LocationResult, captures: CaptureLookup) {
  return {
    beam: result.beam && beamDocument(result.beam),
    readings: result.readings.map((located) => locatedDocument(located, captures)),
    expected: result.expected.map((expectation) => expectationDocument(expectation, captures)),
    damping: result.damping.map((comparison) => dampingDocument(comparison, captures)),
    probe_checks: result.checks && probeChecksDocument(result.checks),
    formulas: locationFormulas,
  };
}
