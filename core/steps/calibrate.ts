import { readBlock } from '../block/block-by-name.ts';
import { matchSeries } from '../block/match-series.ts';
import type { BlockSeries } from '../block/reference-block.ts';
import type { CalibrationPoint } from '../calibration/calibration-point.ts';
import { type DistanceCalibration, fitDistance } from '../calibration/distance.ts';
import { doubtsAbout } from '../calibration/plausibility.ts';
import type { CaptureId } from '../capture/capture.ts';
import type { Doubt } from '../doubt.ts';
import { flagTexts } from '../flag.ts';
import type { Gate } from '../gate/gate.ts';
import { type Nominal, nominalVelocity } from '../material/velocities.ts';
import { type Problem, problem } from '../outcome.ts';
import type { CalibrationFit, CalibrationGiven, Review } from '../review/review.ts';
import type { Echo } from '../signal/echoes.ts';
import { differenceDb, percentAtGain } from '../units/decibel.ts';
import { figure } from '../units/figure.ts';
import { rectangularUncertainty } from '../units/quantity.ts';
import { gainsByCapture, gateOfReflector, markHigherThanNearer, pointsFromWindows } from './calibration-points.ts';
import type { Examination, Plan } from './examine.ts';

/** Echoes of a block are looked for above this height (common practice: 5 % FSH is above the grass of a calibration capture). */
const blockEchoesAbovePercent = 5;

/** An echo of the calibration captures that was taken for no reflector, by name where its place tells what it is. */
export interface UnmatchedEcho {
  readonly captureId: CaptureId;
  readonly timeUs: number;
  readonly amplitudePercent: number;
  readonly name: string | null;
}

/** `calibration` is `null` where `problems` say why. */
export interface CalibrationResult {
  readonly calibration: DistanceCalibration | null;
  /** The reflectors that were found, whether or not they make a calibration. */
  readonly points: readonly CalibrationPoint[];
  readonly unmatchedEchoes: readonly UnmatchedEcho[];
  readonly doubts: readonly Doubt[];
  readonly problems: readonly Problem[];
}

/** What is to be found in the calibration captures. A block needs the echoes only; windows are read as gates. */
export function planForCalibration(review: Review, decision: CalibrationFit): Plan {
  const { reflectors } = decision;
  const gates: Gate[] =
    reflectors.kind === 'windows'
      ? reflectors.list.map((reflector) => gateOfReflector(reflector, decision.thresholdPercent))
      : [];
  return {
    conditioning: review.conditioning,
    echoes: {
      abovePercent: reflectors.kind === 'block' ? blockEchoesAbovePercent : decision.thresholdPercent,
      fromUs: null,
      toUs: null,
    },
    flankPercent: decision.timing === 'crossing' ? decision.thresholdPercent : null,
    gates,
    timing: decision.timing,
    calibration: null,
    beam: null,
    uAngleDeg: null,
  };
}

/** Points from the examined captures, the fit, and what is doubtful about it. */
export function concludeCalibration(decision: CalibrationFit, examinations: readonly Examination[]): CalibrationResult {
  const nominal = decision.nominal === null ? null : nominalVelocity(decision.nominal.material, decision.nominal.mode);
  const { reflectors } = decision;
  if (reflectors.kind === 'windows') {
    const { points, problems } = pointsFromWindows(examinations, reflectors.list);
    const doubts = decision.timing === 'crossing' ? unequalHeights(points) : [];
    return conclude(points, unmatchedBeside(points, examinations), doubts, problems, { nominal, block: null });
  }
  const read = readBlock(reflectors.name);
  if (!read.ok) return conclude([], [], [], read.problems, { nominal, block: null });
  const block = read.value;
  const { points, unmatched, doubts, problems } = pointsFromBlock(examinations, block, decision);
  if (decision.timing === 'crossing') doubts.push(...unequalHeights(points));
  return conclude(points, unmatched, doubts, problems, { nominal, block });
}

function conclude(
  points: readonly CalibrationPoint[],
  unmatchedEchoes: readonly UnmatchedEcho[],
  doubts: readonly Doubt[],
  problems: readonly Problem[],
  context: { readonly nominal: Nominal | null; readonly block: BlockSeries | null },
): CalibrationResult {
  if (problems.length > 0) return { calibration: null, points, unmatchedEchoes, doubts, problems };
  const fit = fitDistance(points, context.block?.shared);
  if (!fit.ok) return { calibration: null, points, unmatchedEchoes, doubts, problems: fit.problems };
  const allDoubts = [...doubts, ...doubtsAbout(fit.value, context)];
  const flags = [...new Set([...fit.value.flags, ...allDoubts.map((doubt) => doubt.flag)])];
  return { calibration: { ...fit.value, flags }, points, unmatchedEchoes, doubts: allDoubts, problems: [] };
}

/** From which difference on heights count as unequal: common practice brings both echoes to one height within 1 dB. */
const unequalHeightsDb = 1;

/** A fixed threshold crosses a high echo earlier than a low one: the shift goes into zero offset and velocity. */
export function unequalHeights(points: readonly Pick<CalibrationPoint, 'amplitudePercent'>[]): Doubt[] {
  const heights = points.map((point) => point.amplitudePercent).filter((height) => height !== null);
  if (heights.length < 2) return [];
  const spreadDb = differenceDb(Math.max(...heights), Math.min(...heights));
  if (!(spreadDb > unequalHeightsDb)) return [];
  const { sentence, advice } = flagTexts['unequal-heights'];
  return [{ flag: 'unequal-heights', sentence: `${sentence} They differ by ${figure(spreadDb, 1)} dB. ${advice}` }];
}

/** Echoes above the threshold that no point was made from, in the captures that gave points. The main bang is none. */
function unmatchedBeside(points: readonly CalibrationPoint[], examinations: readonly Examination[]): UnmatchedEcho[] {
  const used = new Set(points.map((point) => point.captureId));
  return examinations
    .filter((e) => used.has(e.capture.captureId))
    .flatMap((e) =>
      e.echoes
        .filter((echo) => !echo.flags.includes('in-dead-zone'))
        .filter((echo) => !points.some((point) => point.captureId === e.capture.captureId && overlap(point, echo)))
        .map((echo) => unmatched(e.capture.captureId, echo, null)),
    );
}

function overlap(point: CalibrationPoint, echo: Echo): boolean {
  return point.from !== null && echo.from.first <= point.from.last && point.from.first <= echo.from.last;
}

function unmatched(captureId: CaptureId, echo: Echo, name: string | null): UnmatchedEcho {
  return { captureId, timeUs: echo.timeUs, amplitudePercent: echo.amplitudePercent, name };
}

/**
 * The series is matched by the echoes' peaks in each capture; each reflector is then taken from the capture in which it stands highest, and timed
 * as was decided.
 */
function pointsFromBlock(
  examinations: readonly Examination[],
  block: BlockSeries,
  { timing, thresholdPercent }: Timed,
) {
  const gains = examinations.map((e) => e.capture.gainDb);
  const useGain = gains.every((gain) => gain !== null);
  const best = new Map<number, { point: CalibrationPoint; height: number }>();
  const left: UnmatchedEcho[] = [];
  const doubts: Doubt[] = [];
  for (const { capture, echoes } of examinations) {
    const match = matchSeries(echoes, block);
    doubts.push(...match.doubts);
    for (const { echo, name } of match.unmatched) {
      if (!echoes[echo].flags.includes('in-dead-zone')) left.push(unmatched(capture.captureId, echoes[echo], name));
    }
    for (const { distanceMm, echo } of match.matches) {
      const timed = timing === 'peak' ? echoes[echo] : timedByFlank(echoes[echo]);
      if (timed === null) {
        const name = `reflector at ${distanceMm} mm, whose flank does not rise through ${thresholdPercent} % by itself`;
        left.push(unmatched(capture.captureId, echoes[echo], name));
        continue;
      }
      const point = pointFromEcho(timed, capture.captureId, distanceMm, rectangularUncertainty(block.toleranceMm));
      const height = percentAtGain(echoes[echo].amplitudePercent, useGain ? capture.gainDb : null, 0);
      const other = best.get(distanceMm);
      if (other === undefined || height > other.height) best.set(distanceMm, { point, height });
    }
  }
  const points = [...best.values()].map((entry) => entry.point).sort((a, b) => a.distanceMm - b.distanceMm);
  const problems: Problem[] = [];
  if (points.length < 2) {
    const file = examinations[0]?.capture.file ?? 'calibration';
    const why = doubts.map((doubt) => `; ${doubt.sentence}`).join('');
    const sentence = `fewer than two echoes of ${block.title} were found; check block and direction, or give the reflectors by their windows${why}`;
    problems.push(problem('series-not-found', { file }, sentence));
  }
  return { points: markHigherThanNearer(points, gainsByCapture(examinations)), unmatched: left, doubts, problems };
}

type Timed = Pick<CalibrationFit, 'timing' | 'thresholdPercent'>;

/** The echo at the time at which its own flank rises through the threshold; `null` where it does not. */
function timedByFlank(echo: Echo): Echo | null {
  const { flank, from } = echo;
  if (flank === null) return null;
  const { timeUs, uTimeUs, sample } = flank;
  return { ...echo, timeUs, uTimeUs, from: { first: Math.min(from.first, sample - 1), last: from.last } };
}

function pointFromEcho(echo: Echo, captureId: CaptureId, distanceMm: number, uDistanceMm: number): CalibrationPoint {
  const { timeUs, uTimeUs, amplitudePercent, flags, from } = echo;
  return { distanceMm, uDistanceMm, timeUs, uTimeUs, amplitudePercent, captureId, from, flags };
}

/** A calibration made earlier, as its document states it: its points carry no residuals of this review. */
export function calibrationAsGiven(given: CalibrationGiven): DistanceCalibration {
  return {
    velocityMPerS: { value: given.velocityMPerS, standardUncertainty: given.uVelocityMPerS },
    zeroOffsetUs: { value: given.zeroOffsetUs, standardUncertainty: given.uZeroOffsetUs },
    covarianceUsUsPerMm: given.covarianceUsUsPerMm,
    velocityHalfWidth95MPerS: null,
    zeroOffsetHalfWidth95Us: null,
    degreesOfFreedom: given.degreesOfFreedom,
    residualSdUs: null,
    points: [],
    flags: [],
  };
}
