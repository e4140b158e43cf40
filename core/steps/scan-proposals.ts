import { type DistanceCalibration, pathFromTime } from '../calibration/distance.ts';
import { nothingRead } from '../gate/reading.ts';
import { type Problem, problem } from '../outcome.ts';
import { referAmplitude, type ScanReferences } from '../rating/amplitude.ts';
import type { IndicationDecision, ScanDecision } from '../review/scan-decision.ts';
import type { Extent } from '../scan/extent.ts';
import type { Cell, Region } from '../scan/regions.ts';
import type { ScanLine, ScanLines } from '../scan/scan-lines.ts';
import { curveAt } from '../sensitivity/distance-amplitude-curve.ts';
import { medianInto } from '../signal/median.ts';
import { dbFromRatio, ratioFromDb } from '../units/decibel.ts';
import { meantBy } from './calibration-points.ts';
import type { Examination } from './examine.ts';
import type { CurveResult } from './sensitivity.ts';

export type Level = { readonly percent: number; readonly gainDb: number | null } | { readonly problem: Problem };

/** The lowest height at which an echo can stand on the level, and the gain at which that is meant (`null`: as captured). */
export function levelOf({ level, fromMm, toMm, scanningGainDb }: ScanDecision, result: CurveResult | null): Level {
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

/** The echoes of one capture that stand on the level. */
export function cellsOf(
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
        ...nothingRead(captureId, 'scan'),
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
export function withUsualWidth(cells: readonly Cell[]): Cell[] {
  const widths = cells.map(({ fromMm, toMm }) => toMm - fromMm).filter((width) => width > 0);
  const usual = widths.length === 0 ? 0 : medianInto(Float64Array.from(widths), widths.length) / 2;
  return cells.map((cell) =>
    cell.toMm > cell.fromMm ? cell : { ...cell, fromMm: cell.pathMm - usual, toMm: cell.pathMm + usual },
  );
}

/** An indication to be worked out: one that was decided on, or a proposal. */
export interface Wanted extends Extent {
  readonly name: string;
  readonly decided: boolean;
  readonly taken: IndicationDecision['taken'];
  readonly notes: string;
}

/** The person’s indications, then the proposals that none of them covers. Problem: `indication-without-captures`. */
export function listed(
  { indications }: ScanDecision,
  regions: readonly Region[],
  { lines }: ScanLines,
  examinations: readonly Examination[],
  problems: Problem[],
): Wanted[] {
  const stations = lines.flatMap(({ stations }) => stations);
  const capture = new Map(examinations.map((examination) => [examination.capture.captureId, examination.capture]));
  const decided = indications.flatMap((one): Wanted[] => {
    const meant = meantBy(one.captures);
    const captures = stations
      .filter(({ captureId }) => meant(capture.get(captureId)!))
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
export function windowOn(
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
