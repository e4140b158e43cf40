import type { CalibrationPoint } from '../calibration/calibration-point.ts';
import type { CaptureId } from '../capture/capture.ts';
import { log10 } from '../elementary/exponential.ts';
import type { Gate } from '../gate/gate.ts';
import type { Reading } from '../gate/reading.ts';
import { type Problem, problem } from '../outcome.ts';
import type { Reflector } from '../review/review.ts';
import { percentAtGain } from '../units/decibel.ts';
import { rectangularUncertainty } from '../units/quantity.ts';
import type { Examination } from './examine.ts';

/** A known reflector is looked for as through a gate: the same reading, the same doubts. */
export function gateOfReflector(reflector: Reflector, thresholdPercent: number): Gate {
  return {
    name: `${reflector.distanceMm} mm`,
    span: { axis: 'time', fromUs: reflector.fromUs, toUs: reflector.toUs },
    thresholdPercent,
  };
}

/** Whether a reference (`FILE` or `FILE#TRACE`) means this capture. */
export function refersTo(
  reference: string,
  capture: { readonly captureId: CaptureId; readonly file: string },
): boolean {
  return reference === capture.captureId || reference === capture.file;
}

/** The same for many references at once: which captures they mean. */
export function meantBy(
  references: readonly string[],
): (capture: { readonly captureId: CaptureId; readonly file: string }) => boolean {
  const names = new Set(references);
  return ({ captureId, file }) => names.has(captureId) || names.has(file);
}

/**
 * For each reflector the reading that serves it: the capture in which it stands highest after the gain is taken out.
 * A cut-off crest serves only where no capture shows the whole one. `examinations[…].readings` follow the reflectors' order.
 * Problem: `reflector-not-found`, by reflector.
 */
export function pointsFromWindows(
  examinations: readonly Examination[],
  reflectors: readonly Reflector[],
): { readonly points: readonly CalibrationPoint[]; readonly problems: readonly Problem[] } {
  const gains = examinations.map((e) => e.capture.gainDb);
  const useGain = gains.every((gain) => gain !== null);
  const points: CalibrationPoint[] = [];
  const problems: Problem[] = [];
  reflectors.forEach((reflector, i) => {
    let best: { reading: Reading; height: number; whole: boolean } | null = null;
    for (const examination of examinations) {
      if (reflector.capture !== null && !refersTo(reflector.capture, examination.capture)) continue;
      const reading = examination.readings[i];
      if (reading.timeUs === null || reading.amplitudePercent === null) continue;
      const height = percentAtGain(reading.amplitudePercent, useGain ? examination.capture.gainDb : null, 0);
      const whole = !reading.flags.includes('saturated');
      if (best === null || (whole && !best.whole) || (whole === best.whole && height > best.height))
        best = { reading, height, whole };
    }
    if (best === null) {
      const file = reflector.capture ?? examinations.map((e) => e.capture.file)[0] ?? 'calibration';
      const sentence = `no echo between ${reflector.fromUs} and ${reflector.toUs} µs reaches the threshold for the reflector at ${reflector.distanceMm} mm; move its window or lower the threshold`;
      problems.push(problem('reflector-not-found', { file }, sentence));
      return;
    }
    points.push(pointFrom(best.reading, reflector.distanceMm, rectangularUncertainty(reflector.toleranceMm)));
  });
  return { points: markHigherThanNearer(points, gainsByCapture(examinations)), problems };
}

function pointFrom(reading: Reading, distanceMm: number, uDistanceMm: number): CalibrationPoint {
  return {
    distanceMm,
    uDistanceMm,
    timeUs: reading.timeUs!.value,
    uTimeUs: reading.timeUs!.standardUncertainty,
    amplitudePercent: reading.amplitudePercent,
    captureId: reading.captureId,
    from: reading.from,
    flags: reading.flags,
  };
}

/** By how many dB a farther reflector may stand above a nearer one before it is doubted (common practice: echoes fall with distance). */
const higherThanNearerDb = 6;

/**
 * A farther echo that stands well above a nearer one may be another echo altogether, hiding the one that was meant
 * (a water multiple over a back-wall echo, say): it is marked `ambiguous-echo`.
 */
export function markHigherThanNearer(
  points: readonly CalibrationPoint[],
  gainDbOf: ReadonlyMap<CaptureId, number | null>,
): readonly CalibrationPoint[] {
  const levelDb = (p: CalibrationPoint): number =>
    20 * log10(p.amplitudePercent ?? Number.NaN) - ((p.captureId === null ? null : gainDbOf.get(p.captureId)) ?? 0);
  return points.map((point) => {
    const stands = points.some(
      (nearer) => nearer.distanceMm < point.distanceMm && levelDb(point) - levelDb(nearer) > higherThanNearerDb,
    );
    return stands && !point.flags.includes('ambiguous-echo')
      ? { ...point, flags: [...point.flags, 'ambiguous-echo'] }
      : point;
  });
}

export function gainsByCapture(examinations: readonly Examination[]): ReadonlyMap<CaptureId, number | null> {
  return new Map(examinations.map((e) => [e.capture.captureId, e.capture.gainDb]));
}
