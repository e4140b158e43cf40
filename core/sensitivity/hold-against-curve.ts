import type { CaptureId } from '../capture/capture.ts';
import { coverageFactor, type DecisionRule } from '../check/verdict.ts';
import type { Flag } from '../flag.ts';
import { propagate, type Quantity, rectangularUncertainty } from '../units/quantity.ts';
import { aboveLogarithmDb, curveAt, type DistanceAmplitudeCurve } from './distance-amplitude-curve.ts';
import type { Level } from './evaluation-levels.ts';
import { type HeightErrors, levelAboveReference, type ReferenceLevel, ratioQuantity } from './reference-level.ts';

/** What is held against the curve: a gate's reading, and the gain of its capture. */
export interface ReadingToHold {
  readonly captureId: CaptureId;
  readonly gate: string;
  readonly soundPathMm: Quantity | null;
  readonly amplitudePercent: number | null;
  readonly signalToNoiseDb: number | null;
  readonly gainDb: number | null;
  readonly flags: readonly Flag[];
}

/** `inconclusive`: the level lies within the expanded uncertainty. `not-assessed`: no height to hold against it, or only a lower bound that stays below it. */
export type LevelOutcome = 'above' | 'below' | 'inconclusive' | 'not-assessed';

export interface HeldLevel extends Level {
  readonly outcome: LevelOutcome;
}

/** A reading against the curve. */
export interface HeldReading extends ReadingToHold {
  /** Above the reference level, gain taken out, the transfer correction added. */
  readonly levelDb: Quantity | null;
  /** The curve at its sound path; `null` outside the curve's span. */
  readonly curveDb: Quantity | null;
  /** The distance at which the curve was read: the sound path, or the curve's end where the path passes it by no more than its own uncertainty or 1 %. */
  readonly curveAtMm: number | null;
  readonly curveSlopeDbPerMm: number | null;
  /** Share of the uncertainty that comes from not knowing how the echoes run between two points of the curve. */
  readonly uBetweenPointsDb: number | null;
  /** Positive: above the curve. */
  readonly toCurveDb: Quantity | null;
  readonly percentOfCurve: Quantity | null;
  /** The true figures are as high or higher: the crest is cut off, or the reading stands off its peak. */
  readonly atLeast: boolean;
  readonly levels: readonly HeldLevel[];
  /** In a sentence, why a figure is missing or bounded. */
  readonly remarks: readonly string[];
}

export interface HoldingBy {
  /** `null` where none could be made: the level above the reference stands by itself. */
  readonly curve: DistanceAmplitudeCurve | null;
  readonly reference: ReferenceLevel | null;
  readonly levels: readonly Level[];
  readonly decision: DecisionRule;
  readonly transferDb: Quantity;
  readonly errors: HeightErrors;
}

/** Past an end of the curve by so small a part of its distance, the curve's own end stands: side-drilled holes fall by 0.13 dB over it. */
const endShare = 0.01;

/** A height with one of these is a lower bound of the reflector's own. */
const lowerBounds: readonly Flag[] = ['saturated', 'cut-by-gate', 'off-peak'];

/**
 * Holds a reading against the curve:
 *
 *     level            = 20 · log10(height / reference height) + reference gain − gain + transfer correction
 *     dB to the curve  = level − curve at the sound path
 *     % of the curve   = 100 · 10^(dB / 20)
 *
 * u² = u²(height) + u²(transfer correction) + u²(curve) + u²(between points) + (slope · u(sound path))²; heights of two captures count as independent. Between two
 * points the line's departure from one over the logarithm of the distance is taken as the half-width of a rectangle.
 * A reading outside the curve's span, without a gain where the curve has one (or the other way round), or without a sound path gets no figure, and says why.
 * A lower bound can be above a level, never below it.
 *
 * Flags added: `outside-curve`, `no-gain`. Sources: definition of the decibel; JCGM 100:2008 (GUM), 5.1.2; reasoning of ISO 14253-1 (from memory).
 */
export function holdAgainstCurve(reading: ReadingToHold, by: HoldingBy): HeldReading {
  const remarks: string[] = [];
  const flags: Flag[] = [...reading.flags];
  const levelDb = levelOf(reading, by, flags, remarks);
  const place = placeOnCurve(reading, by.curve, flags, remarks);
  const bounds = lowerBounds.filter((flag) => flags.includes(flag));
  if (levelDb !== null) for (const flag of bounds) remarks.push(boundRemarks[flag] ?? '');
  const there = place === null || by.curve === null ? null : curveAt(by.curve, place);
  const uBetweenPointsDb =
    place === null || by.curve === null ? null : rectangularUncertainty(Math.abs(aboveLogarithmDb(by.curve, place)));
  const toCurveDb =
    levelDb === null || there === null
      ? null
      : propagate(levelDb.value - there.levelDb.value, [
          { sensitivity: 1, standardUncertainty: levelDb.standardUncertainty },
          { sensitivity: 1, standardUncertainty: there.levelDb.standardUncertainty },
          { sensitivity: 1, standardUncertainty: uBetweenPointsDb },
          { sensitivity: there.slopeDbPerMm, standardUncertainty: reading.soundPathMm?.standardUncertainty ?? null },
        ]);
  return {
    ...reading,
    levelDb,
    curveDb: there?.levelDb ?? null,
    curveAtMm: place,
    curveSlopeDbPerMm: there?.slopeDbPerMm ?? null,
    uBetweenPointsDb,
    toCurveDb,
    percentOfCurve: toCurveDb === null ? null : ratioQuantity(toCurveDb, 100),
    atLeast: bounds.length > 0,
    levels: by.levels.map((level) => ({
      ...level,
      outcome: outcomeAt(toCurveDb, level.db, bounds.length > 0, by.decision),
    })),
    flags,
    remarks,
  };
}

const boundRemarks: Readonly<Partial<Record<Flag, string>>> = {
  saturated: 'The crest is cut off: the echo stands at least so high.',
  'cut-by-gate': 'The gate cuts the echo: it stands at least so high.',
  'off-peak': 'The reading stands off the peak of its series: the reflector’s own echo stands higher.',
};

function levelOf(
  reading: ReadingToHold,
  { reference, transferDb, errors }: HoldingBy,
  flags: Flag[],
  remarks: string[],
): Quantity | null {
  const { amplitudePercent, gainDb, signalToNoiseDb } = reading;
  if (amplitudePercent === null || reference === null) return null;
  if ((gainDb === null) !== (reference.gainDb === null)) {
    flags.push('no-gain');
    remarks.push(
      gainDb === null
        ? 'The gain of this capture is not stated, so its height cannot be referred to the curve’s gain; state it.'
        : 'The gains of the curve’s captures are not stated, so this height cannot be referred to them; state them.',
    );
    return null;
  }
  const level = levelAboveReference({ amplitudePercent, gainDb, signalToNoiseDb }, reference, errors);
  return propagate(level.value + transferDb.value, [
    { sensitivity: 1, standardUncertainty: level.standardUncertainty },
    { sensitivity: 1, standardUncertainty: transferDb.standardUncertainty },
  ]);
}

/** Where on the curve a reading is held; `null` where there is no curve for it. */
function placeOnCurve(
  { soundPathMm, amplitudePercent }: ReadingToHold,
  curve: DistanceAmplitudeCurve | null,
  flags: Flag[],
  remarks: string[],
): number | null {
  if (curve === null) {
    if (amplitudePercent !== null) remarks.push('There is no curve to hold this reading against.');
    return null;
  }
  const { points } = curve;
  if (soundPathMm === null) {
    if (amplitudePercent !== null)
      remarks.push('There is no sound path, so its place on the curve is not known; calibrate first.');
    return null;
  }
  const { value, standardUncertainty } = soundPathMm;
  const [first, last] = [points[0].distanceMm, points[points.length - 1].distanceMm];
  if (value >= first && value <= last) return value;
  const [end, side, other] = value < first ? [first, 'before', 'first'] : [last, 'behind', 'last'];
  const pastMm = Math.abs(value - end);
  if (pastMm <= Math.max(endShare * end, coverageFactor * (standardUncertainty ?? 0))) {
    remarks.push(
      `The sound path lies just ${side} the ${other} point of the curve, within its own uncertainty or 1 %: the level of that point was taken.`,
    );
    return end;
  }
  flags.push('outside-curve');
  remarks.push(
    `The sound path lies ${side} the ${other} point of the curve: the curve is not carried on beyond its points; add a reflector there.`,
  );
  return null;
}

/** Rounding of the arithmetic alone must not push a reading off a level on which it stands. */
const roundingDb = 1e-9;

function outcomeAt(toCurveDb: Quantity | null, db: number, atLeast: boolean, decision: DecisionRule): LevelOutcome {
  if (toCurveDb === null) return 'not-assessed';
  const above = toCurveDb.value - db;
  const u = toCurveDb.standardUncertainty;
  const expanded = decision === 'simple-acceptance' ? 0 : coverageFactor * (u ?? 0);
  const unsure = u === null && decision !== 'simple-acceptance';
  if (above - expanded > roundingDb) return 'above';
  if (atLeast) return 'not-assessed';
  if (above + expanded <= roundingDb && !unsure) return 'below';
  return 'inconclusive';
}

/** Of several levels the highest that a reading stands above for certain; `null` where there is none. */
export function highestAbove({ levels }: Pick<HeldReading, 'levels'>): HeldLevel | null {
  return levels
    .filter((level) => level.outcome === 'above')
    .reduce<HeldLevel | null>((best, level) => (best === null || level.db > best.db ? level : best), null);
}
