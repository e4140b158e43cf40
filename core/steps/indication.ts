import type { DistanceCalibration } from '../calibration/distance.ts';
import type { CaptureId } from '../capture/capture.ts';
import type { Flag } from '../flag.ts';
import { type ReferredAmplitude, referAmplitude, type ScanReferences } from '../rating/amplitude.ts';
import { type IndicationRating, rateIndication } from '../rating/aws-d1.1.ts';
import type { Review } from '../review/review.ts';
import type { IndicationDecision, ScanDecision } from '../review/scan-decision.ts';
import { linesTouched } from '../scan/across-lines.ts';
import {
  type DynamicPoint,
  type EchoDynamic,
  echoDynamic,
  highestPoint,
  peakEnvelope,
  type StationReading,
} from '../scan/echo-dynamic.ts';
import type { Extent } from '../scan/extent.ts';
import type { ScanLines } from '../scan/scan-lines.ts';
import type { TracePicture } from '../signal/trace-picture.ts';
import { type LengthResult, lengthOf, type SizingBy } from '../sizing/length.ts';
import { lengthAcross, type OverLines } from '../sizing/length-across.ts';
import { percentAtGain } from '../units/decibel.ts';
import type { Quantity } from '../units/quantity.ts';
import type { CaptureFacts } from './examine.ts';
import { concludeLocation, type LocatedReading } from './locate.ts';
import type { Wanted } from './scan-proposals.ts';

/** One indication of a scan, with all that is known of it. What cannot be told is `null`, and a sentence beside it says why. */
export interface Indication extends Extent {
  readonly name: string;
  /** A person took it up; otherwise it is proposed from the level. */
  readonly decided: boolean;
  readonly taken: IndicationDecision['taken'];
  readonly notes: string;
  /** Where it stands highest; `null` where no capture shows it. */
  readonly peak: DynamicPoint | null;
  /** The trace of that capture over the sound paths looked at; `null` where it is not kept. */
  readonly picture: TracePicture | null;
  /** The crest is cut off: it stands at least so high. */
  readonly peakIsLowerBound: boolean;
  /** Heights along the scan at one gain: over a raster the highest across. */
  readonly along: EchoDynamic;
  /** Heights across a raster: the highest along. `null` on a single line. */
  readonly across: readonly DynamicPoint[] | null;
  readonly length: LengthResult;
  /** Across the lines of a raster, as the probe moved; where there is none it says why. */
  readonly lengthAcross: LengthResult;
  readonly soundPathMm: Quantity | null;
  readonly depthMm: Quantity | null;
  readonly surfaceDistanceMm: Quantity | null;
  readonly leg: number | null;
  /** In the part, with the echoes expected from its own shape; `null` without a part. */
  readonly location: LocatedReading | null;
  /** Against the reference level. */
  readonly amplitude: ReferredAmplitude;
  /** Against the curve and its levels; `null` without a curve. */
  readonly toCurve: ReferredAmplitude | null;
  readonly rating: IndicationRating | null;
  /** Why there is no rating; `null` where there is one, and where none was asked for. */
  readonly withoutRating: string | null;
  readonly flags: readonly Flag[];
  readonly remarks: readonly string[];
}

/** What an indication is concluded from, beside its own readings. */
export interface ScanContext {
  readonly review: Review;
  readonly decision: ScanDecision;
  readonly calibration: DistanceCalibration;
  readonly references: ScanReferences;
  readonly placed: ScanLines;
  readonly facts: ReadonlyMap<CaptureId, CaptureFacts>;
}

/** The readings of one indication: on the lines that show it, and where it would lie on those beside them. */
export interface ReadForOne {
  readonly shown: readonly StationReading[];
  readonly beside: readonly StationReading[];
}

/** All that follows from the readings of one indication. */
export function concludeIndication(one: Wanted, read: ReadForOne, context: ScanContext): Indication {
  const { decision, references, placed } = context;
  const { shown: readings } = read;
  const dynamic = echoDynamic(readings);
  const within = (placed.stepMm ?? 0) / 2;
  const along = placed.lines.length > 1 ? peakEnvelope(dynamic.points, 'along', within) : dynamic.points;
  const own = new Set(one.captures);
  const peak = highestPoint(dynamic.points, own);
  const ownAlong = spanOf(along, dynamic.points, own, within);
  const by: SizingBy = {
    sizing: decision.sizing,
    beamWidthMm: decision.beamWidthMm,
    uBeamWidthMm: decision.uBeamWidthMm,
    uPositionMm: decision.uPositionMm,
    curveDbAt: (point) => curveDbAt(point, references),
  };
  const length = lengthOf(along, ownAlong, by);
  const across = lengthAcross(overLines(one, read, context), by, within);
  const amplitude = peak === null ? noAmplitude : referAmplitude(peak.reading, peak.gainDb, references.level);
  const toCurve =
    peak === null || references.curve?.by.curve == null
      ? null
      : referAmplitude(peak.reading, peak.gainDb, references.curve);
  const location = peak === null ? null : locationOf(one, peak, context);
  const place = location?.place ?? null;
  const { rating, withoutRating } = ratingOf(peak, amplitude, context);
  const peakIsLowerBound = peak?.state === 'cut-off';
  return {
    ...one,
    peak,
    picture: null,
    peakIsLowerBound,
    along: { ...dynamic, points: along },
    across: acrossOf(dynamic.points.filter(({ captureId }) => own.has(captureId))),
    length,
    lengthAcross: across,
    soundPathMm: peak?.reading.soundPathMm ?? null,
    depthMm: place?.depthMm ?? peak?.reading.depthMm ?? null,
    surfaceDistanceMm: place?.surfaceDistanceMm ?? peak?.reading.surfaceDistanceMm ?? null,
    leg: place?.leg ?? peak?.reading.leg ?? null,
    location,
    amplitude,
    toCurve,
    rating,
    withoutRating,
    flags: [
      ...new Set<Flag>([
        ...(location?.flags ?? peak?.reading.flags ?? []),
        ...length.flags,
        ...across.flags,
        ...(peak === null ? (['no-echo'] as const) : []),
        ...amplitude.flags,
        ...(toCurve?.held?.flags ?? []),
      ]),
    ],
    remarks: [
      ...new Set([
        ...dynamic.remarks,
        ...length.remarks,
        ...across.remarks.map((sentence) => `Across the lines: ${sentence}`),
        ...amplitude.remarks,
        ...(toCurve?.held?.remarks ?? []),
        ...(rating?.remarks ?? []),
        ...(place?.remarks ?? []),
      ]),
    ],
  };
}

function overLines(one: Wanted, { shown, beside }: ReadForOne, { placed, review }: ScanContext): OverLines {
  const { lines } = placed;
  const touched = linesTouched(lines, one.captures);
  const nextTo = (i: number, other: number): number[] =>
    lines[i] === undefined || lines[other] === undefined ? [] : [Math.abs(lines[i].acrossMm! - lines[other].acrossMm!)];
  const gaps =
    touched === null ? [] : [...nextTo(touched.first - 1, touched.first), ...nextTo(touched.last + 1, touched.last)];
  return {
    shown,
    beside,
    own: one.captures,
    lines: lines.length,
    linesShown: touched?.count ?? 0,
    nextLineMm: gaps.length === 0 ? null : Math.min(...gaps),
    angleDeg: review.part?.probe.angleDeg ?? review.readings?.beam?.angleDeg ?? null,
  };
}

const noAmplitude: ReferredAmplitude = {
  held: null,
  takenOutDb: null,
  unreferenced: 'No capture of it shows an echo that stands out from the noise.',
  remarks: [],
  flags: [],
};

/** The curve across the lines that the indication stands on; `null` for one line. */
function acrossOf(points: readonly DynamicPoint[]): readonly DynamicPoint[] | null {
  const envelope = peakEnvelope(points, 'across', 1e-6);
  return envelope.length > 1 ? envelope : null;
}

/** First and last point of the curve at positions of the indication's own captures. */
function spanOf(
  along: readonly DynamicPoint[],
  all: readonly DynamicPoint[],
  own: ReadonlySet<CaptureId>,
  withinMm: number,
): { first: number; last: number } {
  const positions = all.filter(({ captureId }) => own.has(captureId)).map(({ positionMm }) => positionMm);
  const [from, to] = [Math.min(...positions) - withinMm, Math.max(...positions) + withinMm];
  const inside = along.flatMap((point, i) => {
    const isOwn =
      own.has(point.captureId) ||
      (point.positionMm > from + withinMm * 1e-6 && point.positionMm < to - withinMm * 1e-6);
    return isOwn ? [i] : [];
  });
  return { first: inside[0] ?? 0, last: inside.at(-1) ?? -1 };
}

/** The curve at a point, on the scale of the point's height. */
function curveDbAt({ reading, gainDb, levelDb }: DynamicPoint, { curve }: ScanReferences): number | null {
  const toCurveDb = referAmplitude(reading, gainDb, curve).held?.toCurveDb ?? null;
  return toCurveDb === null || levelDb === null ? null : levelDb - toCurveDb.value;
}

/** By the part where there is one; else by the beam in a plate that the readings take. */
function locationOf(
  one: Wanted,
  peak: DynamicPoint,
  { review, calibration, decision, facts }: ScanContext,
): LocatedReading | null {
  if (review.part === null) return null;
  const { readings } = concludeLocation(
    { ...review.part, checks: null, damping: [] },
    {
      calibration,
      readings: [{ ...peak.reading, gate: one.name }],
      captures: facts,
      damped: [],
      gatesToMm: [decision.toMm],
      beamOfReadings: null,
    },
  );
  return readings[0];
}

function ratingOf(
  peak: DynamicPoint | null,
  amplitude: ReferredAmplitude,
  { decision, references }: ScanContext,
): Pick<Indication, 'rating' | 'withoutRating'> {
  if (decision.rating === null) return { rating: null, withoutRating: null };
  const levelDb = amplitude.held?.levelDb ?? null;
  const soundPathMm = peak?.reading.soundPathMm ?? null;
  if (peak === null || levelDb === null || soundPathMm === null)
    return {
      rating: null,
      withoutRating: amplitude.unreferenced ?? 'There is no sound path to take the attenuation factor from.',
    };
  const referenceGainDb = references.level?.by.reference?.gainDb ?? null;
  return {
    rating: rateIndication(levelDb, peak.state === 'cut-off', soundPathMm, referenceGainDb, decision.rating),
    withoutRating: null,
  };
}

/** The height of a point as it would stand on the screen at the gain of its curve. */
export function percentOnCurve(
  { amplitudePercent, gainDb }: DynamicPoint,
  curve: Pick<EchoDynamic, 'gainDb'>,
): number | null {
  return amplitudePercent === null
    ? null
    : curve.gainDb === null
      ? amplitudePercent
      : percentAtGain(amplitudePercent, gainDb, curve.gainDb);
}
