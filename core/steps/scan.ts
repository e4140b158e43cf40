import { type DistanceCalibration, pathFromTime, timeFromPath } from '../calibration/distance.ts';
import type { CaptureId } from '../capture/capture.ts';
import type { Flag } from '../flag.ts';
import type { Gate } from '../gate/gate.ts';
import type { Reading } from '../gate/reading.ts';
import { type Problem, problem } from '../outcome.ts';
import { type BeamInPlate, beamProblems } from '../part/sound-path.ts';
import { type ReferredAmplitude, referAmplitude, type ScanReferences, scanReferences } from '../rating/amplitude.ts';
import { type IndicationRating, rateIndication } from '../rating/aws-d1.1.ts';
import type { Review } from '../review/review.ts';
import type { IndicationDecision, ScanDecision } from '../review/scan-decision.ts';
import { type DynamicPoint, type EchoDynamic, echoDynamic, highestPoint, peakEnvelope } from '../scan/echo-dynamic.ts';
import type { Extent } from '../scan/extent.ts';
import { type Cell, connectedRegions, type Region } from '../scan/regions.ts';
import { type ScanLine, type ScanLines, scanLines } from '../scan/scan-lines.ts';
import { curveAt } from '../sensitivity/distance-amplitude-curve.ts';
import { medianInto } from '../signal/median.ts';
import { type LengthResult, lengthOf } from '../sizing/length.ts';
import { dbFromRatio, percentAtGain, ratioFromDb } from '../units/decibel.ts';
import type { Quantity } from '../units/quantity.ts';
import { refersTo } from './calibration-points.ts';
import type { CaptureFacts, Examination, Examined, Plan } from './examine.ts';
import { concludeLocation, type LocatedReading } from './locate.ts';
import { mixedTiming } from './mixed-timing.ts';
import type { CurveResult, SensitivityResult } from './sensitivity.ts';

/** One indication of a scan, with all that is known of it. What cannot be told is `null`, and a sentence beside it says why. */
export interface Indication extends Extent {
  readonly name: string;
  /** A person took it up; otherwise it is proposed from the level. */
  readonly decided: boolean;
  readonly taken: IndicationDecision['taken'];
  readonly notes: string;
  /** Where it stands highest; `null` where no capture shows it. */
  readonly peak: DynamicPoint | null;
  /** The crest is cut off: it stands at least so high. */
  readonly peakIsLowerBound: boolean;
  /** Heights along the scan at one gain: over a raster the highest across. */
  readonly along: EchoDynamic;
  /** Heights across a raster: the highest along. `null` on a single line. */
  readonly across: readonly DynamicPoint[] | null;
  readonly length: LengthResult;
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

export interface ScanResult {
  readonly lines: readonly ScanLine[];
  readonly stepMm: number | null;
  /** Decided ones first in their order, then the proposals that none of them covers, by position. */
  readonly indications: readonly Indication[];
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
  readonly remarks: readonly string[];
}

export interface ScanInput {
  readonly calibration: DistanceCalibration | null;
  readonly sensitivity: SensitivityResult | null;
}

/** A gate that reads whatever stands in it. */
const anyHeightPercent = 1e-9;

/**
 * From the captures of a scan to its indications:
 *
 *     1  captures by their positions on lines                         -> what cannot be placed is left out, with a sentence
 *     2  echoes above the level, neighbours in position and path      -> proposals, by name
 *     3  the person's indications in place of the proposals they cover
 *     4  each indication's window read in every capture of its lines  -> echo-dynamic, peak, length
 *     5  place in the part, amplitude against reference and curve     -> rating
 *
 * @param ask examines captures by a plan; answers come back as `Examined`
 */
export function* scanStep<Asked>(
  review: Review,
  decision: ScanDecision,
  input: ScanInput,
  ask: (references: readonly string[], plan: Plan) => Generator<Asked, readonly Examination[], Examined>,
): Generator<Asked, ScanResult, Examined> {
  const curve = input.sensitivity?.curve ?? null;
  const level = levelOf(decision, curve);
  const faults = [
    ...decisionProblems(decision, review, input.calibration),
    ...('problem' in level ? [level.problem] : []),
  ];
  const { calibration } = input;
  if (faults.length > 0 || calibration === null || 'problem' in level) return nothing(faults);

  const mixed = mixedTiming(review.calibration?.timing ?? null, 'peak');
  const warnings = mixed === null ? [] : [problem('mixed-timing', { file: 'scan' }, mixed)];
  const whole: Gate = {
    name: 'scan',
    span: { axis: 'path', fromMm: decision.fromMm, toMm: decision.toMm },
    thresholdPercent: anyHeightPercent,
  };
  const first = yield* ask(decision.captures, {
    ...planOf(review, calibration),
    echoes: {
      abovePercent: level.percent,
      atGainDb: level.gainDb,
      fromUs: timeFromPath(calibration, decision.fromMm),
      toUs: timeFromPath(calibration, decision.toMm),
    },
    gates: [whole],
  });
  const { inside, problems } = insideRecord(first);
  const placed = scanLines(inside.map(({ capture }) => capture));
  problems.push(...placed.problems);
  const references = scanReferences(decision, curve, review.sensitivity);
  const cells = withUsualWidth(
    inside.flatMap((examination) => cellsOf(examination, decision, calibration, references)),
  );
  const regions = connectedRegions(cells, placed.lines, placed.stepMm);
  const wanted = placed.lines.length === 0 ? [] : listed(decision, regions, placed, inside, problems);

  const facts = new Map(inside.map(({ capture }) => [capture.captureId, capture]));
  const readings = new Map<Wanted, DynamicReading[]>(wanted.map((one) => [one, []]));
  for (const line of placed.lines) {
    const here = wanted.flatMap((one) => {
      const window = windowOn(line, one, cells);
      return window === null ? [] : [{ one, window }];
    });
    if (here.length === 0) continue;
    const examinations = yield* ask(
      placed.lines.length === 1 ? decision.captures : line.stations.map(({ captureId }) => captureId),
      {
        ...planOf(review, calibration),
        gates: here.map(({ one, window }) => ({
          name: one.name,
          span: { axis: 'path', ...window },
          thresholdPercent: anyHeightPercent,
        })),
        beam: review.part === null ? beamOf(review) : null,
        uAngleDeg: review.readings?.uAngleDeg ?? null,
      },
    );
    const byId = new Map(examinations.map((examination) => [examination.capture.captureId, examination]));
    for (const station of line.stations) {
      const examination = byId.get(station.captureId);
      if (examination === undefined) continue;
      here.forEach(({ one }, g) => {
        readings.get(one)!.push({ station, reading: examination.readings[g], gainDb: examination.capture.gainDb });
      });
    }
  }
  const context = { review, decision, calibration, references, placed, facts };
  return {
    lines: placed.lines,
    stepMm: placed.stepMm,
    indications: wanted.map((one) => concluded(one, readings.get(one)!, context)),
    problems,
    warnings,
    remarks: remarksAbout(decision, inside),
  };
}

type DynamicReading = Parameters<typeof echoDynamic>[0][number];

function nothing(problems: readonly Problem[]): ScanResult {
  return { lines: [], stepMm: null, indications: [], problems, warnings: [], remarks: [] };
}

function planOf(review: Pick<Review, 'conditioning'>, calibration: DistanceCalibration): Plan {
  return {
    conditioning: review.conditioning,
    echoes: null,
    flankPercent: null,
    gates: [],
    timing: 'peak',
    calibration,
    beam: null,
    uAngleDeg: null,
  };
}

function decisionProblems(
  { fromMm, toMm, indications }: ScanDecision,
  review: Review,
  calibration: DistanceCalibration | null,
): Problem[] {
  const problems: Problem[] = [];
  const refuse = (code: string, sentence: string) => problems.push(problem(code, { file: 'scan' }, sentence));
  if (calibration === null)
    refuse(
      'scan-without-calibration',
      'a scan needs a distance calibration to turn its times into sound paths; calibrate first',
    );
  if (!(fromMm >= 0)) refuse('scan-path-negative', `a sound path cannot begin at ${fromMm} mm; begin at 0 mm or later`);
  if (!(toMm > fromMm))
    refuse(
      'scan-window-reversed',
      `the sound paths looked at end (${toMm} mm) before they begin (${fromMm} mm); exchange them, or give them a width`,
    );
  const seen = new Set<string>();
  for (const { name, fromMm: from, toMm: to } of indications) {
    if (seen.has(name)) refuse('indication-twice', `the name "${name}" stands at two indications; give each its own`);
    seen.add(name);
    if (!(from >= 0 && to > from))
      refuse(
        'indication-window',
        `indication "${name}" lies from ${from} to ${to} mm of sound path; it must begin at 0 or later and end behind that`,
      );
  }
  const beam = review.part === null ? beamOf(review) : null;
  if (beam !== null) problems.push(...beamProblems(beam, 'scan'));
  return problems;
}

function beamOf({ readings }: Review): BeamInPlate | null {
  return readings?.beam ?? null;
}

type Level = { readonly percent: number; readonly gainDb: number | null } | { readonly problem: Problem };

/** The lowest height at which an echo can stand on the level, and the gain at which that is meant (`null`: as captured). */
function levelOf({ level, fromMm, toMm, scanningGainDb }: ScanDecision, result: CurveResult | null): Level {
  if (level.kind === 'screen') return { percent: level.percent, gainDb: null };
  const curve = result?.curve ?? null;
  if (result === null || curve === null || result.reference === null) {
    const sentence =
      'the level is told above the distance-amplitude curve, and there is none; make the curve first, or give a level in % of full screen height';
    return { problem: problem('level-without-curve', { file: 'scan' }, sentence) };
  }
  const { points } = curve;
  const [nearest, farthest] = [points[0].distanceMm, points[points.length - 1].distanceMm];
  const within = (mm: number) => Math.min(farthest, Math.max(nearest, mm));
  const places = [
    within(fromMm),
    within(toMm),
    ...points.map(({ distanceMm }) => distanceMm).filter((mm) => mm > fromMm && mm < toMm),
  ];
  const lowest = Math.min(...places.map((mm) => curveAt(curve, mm)!.levelDb.value));
  const { percent, gainDb, raisedDb } = result.reference;
  const scanned = gainDb === null ? (scanningGainDb ?? 0) - raisedDb : 0;
  // Half a dB lower: what stands just above the level at its own path must not be missed by rounding here.
  const db = lowest + level.db - result.transferDb.value + scanned - 0.5;
  return { percent: percent * ratioFromDb(db), gainDb };
}

/** Captures whose record holds none of the paths looked at give nothing; of those that hold a part of them a problem says so. */
function insideRecord(examinations: readonly Examination[]): { inside: readonly Examination[]; problems: Problem[] } {
  const problems: Problem[] = [];
  const outside = examinations.filter(({ readings }) => readings[0].from === null);
  const partly = examinations.filter(
    ({ readings }) => readings[0].from !== null && readings[0].flags.includes('outside-record'),
  );
  const say = (code: string, some: readonly Examination[], words: string) => {
    if (some.length === 0) return;
    const who = some.length === 1 ? 'this capture' : `this capture (and ${some.length - 1} more like it)`;
    problems.push(problem(code, { file: some[0].capture.captureId }, `${who} ${words}`));
  };
  say(
    'scan-outside-record',
    outside,
    'holds none of the sound paths looked at, and is left out; move the scan’s window into the recorded time, or capture a longer range',
  );
  say(
    'scan-partly-outside-record',
    partly,
    'holds only a part of the sound paths looked at: nothing can be said of the rest; move the scan’s window, or capture a longer range',
  );
  return { inside: examinations.filter((examination) => !outside.includes(examination)), problems };
}

/** The echoes of one capture that stand on the level. */
function cellsOf(
  { capture, echoes }: Examination,
  { level }: ScanDecision,
  calibration: DistanceCalibration,
  references: ScanReferences,
): Cell[] {
  const { captureId, gainDb } = capture;
  return echoes.flatMap((echo): Cell[] => {
    const soundPathMm = pathFromTime(calibration, echo.timeUs, echo.uTimeUs);
    const pathMm = soundPathMm.value;
    if (level.kind === 'screen' && echo.amplitudePercent < level.percent) return [];
    if (level.kind === 'curve') {
      const reading = {
        ...blank(captureId),
        soundPathMm,
        amplitudePercent: echo.amplitudePercent,
        signalToNoiseDb: echo.signalToNoiseDb,
      };
      const toCurveDb = referAmplitude(reading, gainDb, references.curve).held?.toCurveDb ?? null;
      if (toCurveDb === null || toCurveDb.value < level.db) return [];
    }
    // The trailing flank is taken to be as long as the leading one.
    const halfMm = echo.onsetUs === null ? 0 : pathMm - pathFromTime(calibration, echo.onsetUs, null).value;
    return [
      {
        captureId,
        pathMm,
        fromMm: pathMm - halfMm,
        toMm: pathMm + halfMm,
        heightDb: dbFromRatio(echo.amplitudePercent) - (gainDb ?? 0),
      },
    ];
  });
}

/** An echo whose flank does not come down has no width of its own: it gets that of half of the others. */
function withUsualWidth(cells: readonly Cell[]): Cell[] {
  const widths = cells.map(({ fromMm, toMm }) => toMm - fromMm).filter((width) => width > 0);
  const usual = widths.length === 0 ? 0 : medianInto(Float64Array.from(widths), widths.length) / 2;
  return cells.map((cell) =>
    cell.toMm > cell.fromMm ? cell : { ...cell, fromMm: cell.pathMm - usual, toMm: cell.pathMm + usual },
  );
}

function blank(captureId: CaptureId): Reading {
  return {
    captureId,
    gate: 'scan',
    timeUs: null,
    crossingUs: null,
    peakUs: null,
    amplitudePercent: null,
    noisePercent: null,
    signalToNoiseDb: null,
    soundPathMm: null,
    depthMm: null,
    surfaceDistanceMm: null,
    leg: null,
    belowPeakDb: null,
    flags: [],
    from: null,
  };
}

/** An indication to be worked out: one that was decided on, or a proposal. */
interface Wanted extends Extent {
  readonly name: string;
  readonly decided: boolean;
  readonly taken: IndicationDecision['taken'];
  readonly notes: string;
}

function listed(
  { indications }: ScanDecision,
  regions: readonly Region[],
  { lines }: ScanLines,
  examinations: readonly Examination[],
  problems: Problem[],
): Wanted[] {
  const stations = lines.flatMap(({ stations }) => stations);
  const capture = new Map(examinations.map((examination) => [examination.capture.captureId, examination.capture]));
  const decided = indications.flatMap((one): Wanted[] => {
    const captures = stations
      .filter(({ captureId }) => one.captures.some((reference) => refersTo(reference, capture.get(captureId)!)))
      .map(({ captureId }) => captureId);
    if (captures.length > 0) return [{ ...one, captures, decided: true }];
    const sentence = `indication "${one.name}" names no capture that stands on the scan; take it out, or name captures of the scan`;
    problems.push(problem('indication-without-captures', { file: 'scan' }, sentence));
    return [];
  });
  const covered = ({ highest }: Region) =>
    decided.some(
      ({ captures, fromMm, toMm }) =>
        captures.includes(highest.captureId) && highest.pathMm >= fromMm && highest.pathMm <= toMm,
    );
  const taken = new Set(decided.map(({ name }) => name));
  const proposals = regions
    .filter((region) => !covered(region))
    .map(({ name, captures, fromMm, toMm }): Wanted => {
      const own = taken.has(name) ? `${name} (proposed)` : name;
      return { name: own, captures, fromMm: Math.max(0, fromMm), toMm, decided: false, taken: null, notes: '' };
    });
  return [...decided, ...proposals];
}

/** Where on one line an indication's echoes lie: about those above the level, else its whole window; `null` where it does not touch the line. */
function windowOn(
  { stations }: ScanLine,
  { captures, fromMm, toMm }: Extent,
  cells: readonly Cell[],
): { fromMm: number; toMm: number } | null {
  const own = new Set(captures);
  const here = new Set(stations.map(({ captureId }) => captureId).filter((captureId) => own.has(captureId)));
  if (here.size === 0) return null;
  const shown = cells.filter((cell) => here.has(cell.captureId) && cell.pathMm >= fromMm && cell.pathMm <= toMm);
  if (shown.length === 0) return { fromMm, toMm };
  return {
    fromMm: Math.max(fromMm, Math.min(...shown.map((cell) => cell.fromMm))),
    toMm: Math.min(toMm, Math.max(...shown.map((cell) => cell.toMm))),
  };
}

interface Context {
  readonly review: Review;
  readonly decision: ScanDecision;
  readonly calibration: DistanceCalibration;
  readonly references: ScanReferences;
  readonly placed: ScanLines;
  readonly facts: ReadonlyMap<CaptureId, CaptureFacts>;
}

function concluded(one: Wanted, readings: readonly DynamicReading[], context: Context): Indication {
  const { decision, references, placed } = context;
  const dynamic = echoDynamic(readings);
  const within = (placed.stepMm ?? 0) / 2;
  const along = placed.lines.length > 1 ? peakEnvelope(dynamic.points, 'along', within) : dynamic.points;
  const own = new Set(one.captures);
  const peak = highestPoint(dynamic.points, own);
  const ownAlong = spanOf(along, dynamic.points, own, within);
  const length = lengthOf(along, ownAlong, {
    sizing: decision.sizing,
    beamWidthMm: decision.beamWidthMm,
    uBeamWidthMm: decision.uBeamWidthMm,
    uPositionMm: decision.uPositionMm,
    curveDbAt: (point) => curveDbAt(point, references),
  });
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
    peakIsLowerBound,
    along: { ...dynamic, points: along },
    across: acrossOf(dynamic.points.filter(({ captureId }) => own.has(captureId))),
    length,
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
        ...(peak === null ? (['no-echo'] as const) : []),
        ...amplitude.flags,
        ...(toCurve?.held?.flags ?? []),
      ]),
    ],
    remarks: [
      ...new Set([
        ...dynamic.remarks,
        ...length.remarks,
        ...amplitude.remarks,
        ...(toCurve?.held?.remarks ?? []),
        ...(rating?.remarks ?? []),
        ...(place?.remarks ?? []),
      ]),
    ],
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
  { review, calibration, decision, facts }: Context,
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
  { decision, references }: Context,
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

function remarksAbout({ sizing, beamWidthMm, level }: ScanDecision, examinations: readonly Examination[]): string[] {
  const remarks: string[] = [];
  if (sizing.kind === 'drop-6-db' && beamWidthMm === null)
    remarks.push(
      'The beam’s width is not known: a reflector that is shorter than the beam is wide gives about the beam’s own width, and nothing here can say so.',
    );
  const gains = new Set(examinations.map(({ capture }) => capture.gainDb));
  if (level.kind === 'screen' && gains.size > 1)
    remarks.push(
      'The captures were taken at different gains: a level on the screen stands for different heights in them.',
    );
  return remarks;
}

/** Every flag that stands anywhere in the result. */
export function flagsOfScan({ indications }: ScanResult): Flag[] {
  return indications.flatMap(({ flags }) => flags);
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
