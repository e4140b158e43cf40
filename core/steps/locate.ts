import { type DistanceCalibration, pathFromTime } from '../calibration/distance.ts';
import type { CaptureId } from '../capture/capture.ts';
import { compareDamped, type DampingComparison } from '../compare/damping.ts';
import { asin, sin } from '../elementary/trigonometric.ts';
import type { Flag } from '../flag.ts';
import type { Gate } from '../gate/gate.ts';
import type { Reading } from '../gate/reading.ts';
import { type Problem, problem } from '../outcome.ts';
import { type BeamEdges, beamEdges } from '../part/beam.ts';
import {
  type ExpectedEcho,
  expectedBackWalls,
  expectedFromCorners,
  type GeometryMatch,
  matchGeometry,
  reflectingCorners,
} from '../part/expected-echoes.ts';
import { type BeamInPart, locateInPart, type PlaceInPart, type ProbePlace } from '../part/locate-in-part.ts';
import { partProblems } from '../part/part-problems.ts';
import { sectionOf } from '../part/section.ts';
import { type Skips, skips } from '../part/skips.ts';
import { concludeProbeChecks, type ProbeCheckResult } from '../probe-check/probe-checks.ts';
import type { PartDecision } from '../review/part-decision.ts';
import type { Review } from '../review/review.ts';
import { type NearField, nearField } from '../sensitivity/near-field.ts';
import type { Quantity } from '../units/quantity.ts';
import { refersTo } from './calibration-points.ts';
import { type CaptureFacts, type Examination, type Plan, planFor } from './examine.ts';
import { alongWeld, beamUnder, placeOfProbe } from './part-under-capture.ts';

/** One reading, and where it lies in the part. */
export interface LocatedReading {
  readonly captureId: CaptureId;
  readonly gate: string;
  readonly soundPathMm: Quantity | null;
  readonly amplitudePercent: number | null;
  /** `null` where `without` says why. */
  readonly place: PlaceInPart | null;
  readonly without: string | null;
  /** From the weld's middle back to the index point; `null` where it is not known. */
  readonly probe: ProbePlace | null;
  /** Along the weld, where the capture's own position counts that. */
  readonly alongWeldMm: number | null;
  /** Echoes of the part's own shape that this one may be, the nearest first. */
  readonly geometry: readonly GeometryMatch[];
  /** What a person took it for; `null`: nothing yet. */
  readonly taken: 'reflector' | 'geometry' | null;
  /** Those of the reading, and `geometry-expected`. */
  readonly flags: readonly Flag[];
}

/** What the beam does in the part. */
export interface BeamInNumbers {
  readonly angleDeg: Quantity;
  readonly velocityMPerS: number | null;
  /** `null` for a beam that misses the bore, and where the thickness differs from capture to capture. */
  readonly skips: Skips | null;
  /** At −6 and −20 dB of the echo of a small reflector; `null` where element, frequency or velocity is not known. */
  readonly edgesMinus6Db: BeamEdges | null;
  readonly edgesMinus20Db: BeamEdges | null;
  /** Counted from the element, in the part. */
  readonly nearField: NearField | null;
  /** In the wedge; `null` where the wedge's or the part's velocity is not known. */
  readonly incidenceDeg: number | null;
}

/** The echoes that the part's own shape sends to the probe at one place. */
export interface Expectation {
  readonly captures: readonly CaptureId[];
  readonly probe: ProbePlace | null;
  readonly echoes: readonly ExpectedEcho[];
}

export interface LocationResult {
  readonly beam: BeamInNumbers | null;
  readonly readings: readonly LocatedReading[];
  readonly expected: readonly Expectation[];
  readonly damping: readonly DampingComparison[];
  readonly checks: ProbeCheckResult | null;
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
}

/** What the location of readings is concluded from. */
export interface LocationInput {
  readonly calibration: DistanceCalibration | null;
  readonly readings: readonly Reading[];
  /** The captures that any part of the review used. */
  readonly captures: ReadonlyMap<CaptureId, CaptureFacts>;
  /** Of the captures of the damping tests, by `planForDamping`, in the order of the tests: before, after. */
  readonly damped: readonly (readonly [before: readonly Examination[], after: readonly Examination[]])[];
  /** The gates' far ends. */
  readonly gatesToMm: readonly number[];
  readonly beamOfReadings: { readonly angleDeg: number; readonly thicknessMm: number | null } | null;
}

/** What is to be found in the captures of a damping test. */
export function planForDamping(review: Pick<Review, 'conditioning'>, abovePercent: number): Plan {
  return planFor(review, { echoes: { abovePercent, fromUs: null, toUs: null } });
}

/** An echo that moved farther through damping is another one. */
const sameEchoWithinUs = 1;

/** Every reading in the part, with what the part's own shape would show there. */
export function concludeLocation(part: PartDecision, input: LocationInput): LocationResult {
  const velocity = part.probe.velocityMPerS ?? input.calibration?.velocityMPerS.value ?? null;
  const faults = partProblems(part, 'part', velocity);
  const problems = [...faults];
  const checks = part.checks === null ? null : concludeProbeChecks(part.checks, part.probe);
  const damping = part.damping.flatMap((test, i) => {
    const [[before, ...more], [after, ...others]] = input.damped[i];
    if (before !== undefined && after !== undefined && more.length + others.length === 0)
      return [
        compareDamped(dampedOf(before), dampedOf(after), {
          withinUs: sameEchoWithinUs,
          abovePercent: test.abovePercent,
          uCouplingDb: test.uCouplingDb,
          velocityMPerS: velocity,
        }),
      ];
    const sentence = `the damping test of ${test.before} and ${test.after} needs one capture before and one after; name a trace as FILE#TRACE where a file has several`;
    problems.push(problem('damping-not-a-pair', { file: 'part' }, sentence));
    return [];
  });
  const rest = { damping, checks, warnings: warningsAbout(part, input) };
  if (faults.length > 0)
    return {
      beam: null,
      readings: input.readings.map((reading) => notPlaced(reading, 'the part cannot be used; the problems say why')),
      expected: [],
      problems: [...problems, ...(checks?.problems ?? [])],
      ...rest,
    };

  const beam = beamInNumbers(part, velocity);
  const expected = expectations(part, beam, input);
  const echoesOf = new Map(expected.flatMap(({ captures, echoes }) => captures.map((id) => [id, echoes])));
  return {
    beam,
    readings: input.readings.map((reading) => located(part, reading, echoesOf.get(reading.captureId) ?? [], input)),
    expected,
    problems: [...problems, ...(checks?.problems ?? [])],
    ...rest,
  };
}

function dampedOf({ capture, echoes, uHeightPercent }: Examination) {
  return { captureId: capture.captureId, echoes, gainDb: capture.gainDb, uHeightPercent };
}

/** Above this share of it, a stated velocity is not the calibration's within its uncertainty and the material's scatter, but another material or mode. */
const sameVelocity = 0.03;

function warningsAbout({ probe, shape }: PartDecision, { beamOfReadings, calibration }: LocationInput): Problem[] {
  const warnings: Problem[] = [];
  const calibrated = calibration?.velocityMPerS.value ?? null;
  if (
    probe.velocityMPerS !== null &&
    calibrated !== null &&
    Math.abs(probe.velocityMPerS / calibrated - 1) > sameVelocity
  ) {
    const sentence = `the part’s velocity is stated as ${probe.velocityMPerS} m/s, and its sound paths come from a calibration at ${calibrated.toFixed(1)} m/s: check material and mode`;
    warnings.push(problem('velocity-differs', { file: 'part' }, sentence));
  }
  if (beamOfReadings === null || shape.kind === 'step-block') return warnings;
  const { angleDeg, thicknessMm } = beamOfReadings;
  const alike = angleDeg === probe.angleDeg && (thicknessMm === null || thicknessMm === shape.thicknessMm);
  if (alike && shape.kind === 'plate') return warnings;
  const sentence =
    shape.kind === 'pipe'
      ? 'the readings’ own depth and surface distance are those of a flat plate; those of the location follow the pipe’s curve'
      : `the readings take a beam of ${angleDeg}° in ${thicknessMm ?? 'unknown'} mm and the part one of ${probe.angleDeg}° in ${shape.thicknessMm} mm; set both alike`;
  return [...warnings, problem('beam-differs', { file: 'part' }, sentence)];
}

export function beamInNumbers({ shape, probe }: PartDecision, velocityMPerS: number | null): BeamInNumbers {
  const { angleDeg, uAngleDeg, elementMm, frequencyMHz, wedgeVelocityMPerS } = probe;
  const source =
    elementMm === null || frequencyMHz === null || velocityMPerS === null
      ? null
      : { angleDeg, elementMm, frequencyMHz, velocityMPerS, wedgeVelocityMPerS };
  const sine =
    wedgeVelocityMPerS === null || velocityMPerS === null
      ? null
      : (sin((angleDeg * Math.PI) / 180) * wedgeVelocityMPerS) / velocityMPerS;
  return {
    angleDeg: { value: angleDeg, standardUncertainty: uAngleDeg },
    velocityMPerS,
    skips: shape.kind === 'step-block' ? null : skips(angleDeg, sectionOf(shape)),
    edgesMinus6Db: source && beamEdges('pulse-echo-minus-6-db', source),
    edgesMinus20Db: source && beamEdges('pulse-echo-minus-20-db', source),
    nearField: source && nearField(source),
    incidenceDeg: sine === null || sine >= 1 ? null : (asin(sine) * 180) / Math.PI,
  };
}

/** Echoes are expected a little farther than the farthest reading, which may be one of them. */
const beyond = 1.02;

/** The sound paths at which gates end, those in time by the calibration. */
export function gateEndsMm(gates: readonly Gate[], calibration: DistanceCalibration | null): number[] {
  return gates.flatMap(({ span }) =>
    span.axis === 'path' ? [span.toMm] : calibration === null ? [] : [pathFromTime(calibration, span.toUs, null).value],
  );
}

/** What each place of the probe should show of the part itself: of captures in which nothing was read too, since that nothing stands where something should is to be seen. */
function expectations(part: PartDecision, beam: BeamInNumbers, input: LocationInput): Expectation[] {
  const captures = [...new Set(input.readings.map(({ captureId }) => captureId))];
  let toMm = 0;
  for (const gateToMm of input.gatesToMm) toMm = Math.max(toMm, gateToMm);
  for (const { soundPathMm } of input.readings) toMm = Math.max(toMm, beyond * (soundPathMm?.value ?? 0));
  return expectedAt(
    part,
    beam,
    captures.flatMap((captureId) => input.captures.get(captureId) ?? []),
    toMm,
  );
}

/** The same of captures in a part without problems, up to a sound path; places that are alike together. */
export function expectedAt(
  part: PartDecision,
  beam: BeamInNumbers,
  captures: readonly CaptureFacts[],
  toMm: number,
): Expectation[] {
  const byPlace = new Map<
    string,
    { captures: CaptureId[]; probe: ProbePlace | null; echoes: readonly ExpectedEcho[] }
  >();
  for (const capture of captures) {
    const { captureId } = capture;
    const inPart = beamUnder(part, capture);
    if (inPart === null) continue;
    const probe = placeOfProbe(part, capture);
    const key = JSON.stringify([probe, inPart.thicknessMm]);
    const found = byPlace.get(key);
    if (found === undefined)
      byPlace.set(key, { captures: [captureId], probe, echoes: echoesExpected(part, beam, inPart, probe, toMm) });
    else found.captures.push(captureId);
  }
  return [...byPlace.values()];
}

function echoesExpected(
  part: PartDecision,
  beam: BeamInNumbers,
  inPart: BeamInPart,
  probe: ProbePlace | null,
  toMm: number,
): ExpectedEcho[] {
  const { thicknessMm } = inPart;
  const walls =
    part.probe.angleDeg === 0 ? expectedBackWalls(inPart.sectionWith(thicknessMm.value), thicknessMm, toMm) : [];
  const edges = beam.edgesMinus20Db;
  if (probe === null || edges === null) return walls;
  const corners = [...(part.weld === null ? [] : reflectingCorners(part.weld, thicknessMm.value)), ...part.features];
  return [...walls, ...expectedFromCorners(corners, inPart, probe, { edges, toMm })].sort(
    (a, b) => a.pathMm.value - b.pathMm.value,
  );
}

function notPlaced(reading: Reading, without: string): LocatedReading {
  const { captureId, gate, soundPathMm, amplitudePercent, flags } = reading;
  return {
    captureId,
    gate,
    soundPathMm,
    amplitudePercent,
    place: null,
    without,
    probe: null,
    alongWeldMm: null,
    geometry: [],
    taken: null,
    flags,
  };
}

function located(
  part: PartDecision,
  reading: Reading,
  echoes: readonly ExpectedEcho[],
  input: LocationInput,
): LocatedReading {
  const { soundPathMm } = reading;
  const capture = input.captures.get(reading.captureId);
  if (soundPathMm === null)
    return notPlaced(reading, input.calibration === null ? 'there is no calibration' : 'no echo was read');
  if (soundPathMm.value < 0) return notPlaced(reading, 'the echo came before the sound entered the part');
  if (capture === undefined) return notPlaced(reading, 'nothing is known of this capture');
  const beam = beamUnder(part, capture);
  if (beam === null) return notPlaced(reading, 'no step of the block is named for this capture');
  const probe = placeOfProbe(part, capture);
  const geometry = matchGeometry(soundPathMm, echoes);
  const confirmed = part.confirmed.find((one) => one.gate === reading.gate && refersTo(one.capture, capture));
  return {
    ...notPlaced(reading, ''),
    place: locateInPart(soundPathMm, beam, probe),
    without: null,
    probe,
    alongWeldMm: alongWeld(part, capture),
    geometry,
    taken: confirmed?.taken ?? null,
    flags: geometry.length > 0 ? [...reading.flags, 'geometry-expected'] : reading.flags,
  };
}
