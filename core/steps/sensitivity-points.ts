import type { DistanceCalibration } from '../calibration/distance.ts';
import type { CaptureId } from '../capture/capture.ts';
import type { Flag } from '../flag.ts';
import type { Reading } from '../gate/reading.ts';
import { type Problem, problem } from '../outcome.ts';
import type { Reflector, Review } from '../review/review.ts';
import { gainFreeDb } from '../sensitivity/reference-level.ts';
import { figure } from '../units/figure.ts';
import { gateOfReflector, refersTo } from './calibration-points.ts';
import { type Examination, type Plan, planFor } from './examine.ts';

/** What is to be read in the captures of a curve or of an attenuation: the height of each reflector's echo in its window. */
export function planForHeights(
  review: Pick<Review, 'conditioning'>,
  reflectors: readonly Reflector[],
  thresholdPercent: number,
  calibration: DistanceCalibration | null,
): Plan {
  return planFor(review, {
    gates: reflectors.map((reflector) => gateOfReflector(reflector, thresholdPercent)),
    calibration,
  });
}

/** The echo of one reflector in one capture. */
export interface EchoOfReflector {
  readonly reading: Reading & { readonly amplitudePercent: number };
  readonly captureId: CaptureId;
  readonly gainDb: number | null;
  /** dB over 1 % FSH, gain taken out. */
  readonly gainFreeDb: number;
  /** The height is only a lower bound. */
  readonly bounded: boolean;
}

/** The echo that serves a reflector, and the others of the same. */
export interface ServingEcho {
  readonly serving: EchoOfReflector;
  readonly others: readonly EchoOfReflector[];
}

export interface Heights {
  /** One for each reflector, in order; `null` where `problems` say why. */
  readonly echoes: readonly (ServingEcho | null)[];
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
}

const bounds: readonly Flag[] = ['saturated', 'cut-by-gate'];

/**
 * For each reflector the echo that serves it: the highest after the gain is taken out, since what stands lower was taken off the peak. A height that is only a
 * lower bound never serves; and where one of them reaches as high as the highest whole echo, none does, for the true peak may stand above it.
 *
 * A capture without a gain among others with one cannot be held against them and is left out.
 * Problems: `gain-partly-stated` (by capture), `reflector-not-found`, `echo-cut-off`, `echo-cut-by-gate`, `peak-cut-off`. Warning: `gain-not-stated`.
 * Source: 'refuse a clipped crest for a curve', 'the maximised echo is the reading' (common practice).
 * @param examinations whose `readings` follow the reflectors' order
 */
export function servingEchoes(
  examinations: readonly Examination[],
  reflectors: readonly Reflector[],
  place: string,
): Heights {
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const showing = examinations.filter(({ capture, readings }) =>
    reflectors.some((reflector, i) => mayServe(reflector, capture) && readings[i].amplitudePercent !== null),
  );
  const someStated = showing.some(({ capture }) => capture.gainDb !== null);
  const comparable = showing.filter(({ capture }) => !someStated || capture.gainDb !== null);
  for (const { capture } of showing) {
    if (!someStated || capture.gainDb !== null) continue;
    const sentence =
      'the gain of this capture is not stated, but that of others is: its heights cannot be held against theirs, and it is left out; state its gain';
    problems.push(problem('gain-partly-stated', { file: capture.captureId }, sentence));
  }
  if (!someStated && showing.length > 1) {
    const sentence = 'no capture states its gain: all are taken to be at one gain; state the gains if they are not';
    warnings.push(problem('gain-not-stated', { file: place }, sentence));
  }
  const echoes = reflectors.map((reflector, i) => {
    const seen = comparable
      .filter(({ capture }) => mayServe(reflector, capture))
      .flatMap(({ capture, readings }) => echoOf(capture.captureId, capture.gainDb, readings[i]));
    const served = serve(seen);
    if (!('code' in served)) return served;
    const file = reflector.capture ?? served.captureId ?? place;
    problems.push(problem(served.code, { file }, sentenceOf(served, reflector)));
    return null;
  });
  return { echoes, problems, warnings };
}

function mayServe(reflector: Reflector, capture: { readonly captureId: CaptureId; readonly file: string }): boolean {
  return reflector.capture === null || refersTo(reflector.capture, capture);
}

function echoOf(captureId: CaptureId, gainDb: number | null, reading: Reading): EchoOfReflector[] {
  const { amplitudePercent } = reading;
  if (amplitudePercent === null) return [];
  return [
    {
      reading: { ...reading, amplitudePercent },
      captureId,
      gainDb,
      gainFreeDb: gainFreeDb({ amplitudePercent, gainDb }),
      bounded: bounds.some((flag) => reading.flags.includes(flag)),
    },
  ];
}

interface NoneServes {
  readonly code: 'reflector-not-found' | 'echo-cut-off' | 'echo-cut-by-gate' | 'peak-cut-off';
  readonly captureId: CaptureId | null;
  readonly aboveDb: number;
}

function serve(seen: readonly EchoOfReflector[]): ServingEcho | NoneServes {
  const whole = highest(seen.filter((echo) => !echo.bounded));
  const cut = highest(seen.filter((echo) => echo.bounded));
  if (whole === null && cut === null) return { code: 'reflector-not-found', captureId: null, aboveDb: 0 };
  if (whole === null) {
    const code = cut!.reading.flags.includes('saturated') ? 'echo-cut-off' : 'echo-cut-by-gate';
    return { code, captureId: cut!.captureId, aboveDb: 0 };
  }
  if (cut !== null && cut.gainFreeDb >= whole.gainFreeDb)
    return { code: 'peak-cut-off', captureId: cut.captureId, aboveDb: cut.gainFreeDb - whole.gainFreeDb };
  return { serving: whole, others: seen.filter((echo) => echo !== whole) };
}

function highest(echoes: readonly EchoOfReflector[]): EchoOfReflector | null {
  return echoes.reduce<EchoOfReflector | null>(
    (best, echo) => (best === null || echo.gainFreeDb > best.gainFreeDb ? echo : best),
    null,
  );
}

function sentenceOf({ code, aboveDb }: NoneServes, { distanceMm, fromUs, toUs }: Reflector): string {
  switch (code) {
    case 'reflector-not-found':
      return `no echo between ${fromUs} and ${toUs} µs reaches the threshold for the reflector at ${distanceMm} mm; move its window or lower the threshold`;
    case 'echo-cut-off':
      return `the echo of the reflector at ${distanceMm} mm is cut off by the screen or the converter: its height is only a lower bound and makes no point; capture it again with less gain`;
    case 'echo-cut-by-gate':
      return `the window cuts the echo of the reflector at ${distanceMm} mm: its height is only a lower bound and makes no point; widen the window`;
    case 'peak-cut-off':
      return `the reflector at ${distanceMm} mm stands at least ${figure(aboveDb, 1)} dB higher in a capture that cuts its echo off than in the highest whole one, which is therefore off its peak and makes no point; capture the peak again with less gain`;
  }
}
