import type { Reading } from '../../core/gate/reading.ts';
import type { DynamicPoint, PointState } from '../../core/scan/echo-dynamic.ts';

/** The normal law's distribution function by numerical integration (Simpson), for |x| up to 8. */
function normalBelow(x: number): number {
  if (x < -8) return 0;
  if (x > 8) return 1;
  const parts = 400;
  const width = x / parts;
  const density = (at: number) => Math.exp(-0.5 * at * at) / Math.sqrt(2 * Math.PI);
  let sum = density(0) + density(x);
  for (let i = 1; i < parts; i++) sum += density(i * width) * (i % 2 === 0 ? 2 : 4);
  return 0.5 + (sum * width) / 3;
}

/** The share of a Gaussian beam (standard deviation in mm) that falls on a reflector from one place to another: an echo that is made by all of it. */
export function shareOnReflector(atMm: number, reflector: { fromMm: number; toMm: number }, sigmaMm: number): number {
  return normalBelow((reflector.toMm - atMm) / sigmaMm) - normalBelow((reflector.fromMm - atMm) / sigmaMm);
}

/** The beam's own profile at the nearest place of a reflector: an echo that is made by its nearest point. */
export function nearestOfReflector(atMm: number, reflector: { fromMm: number; toMm: number }, sigmaMm: number): number {
  const aside = Math.max(0, reflector.fromMm - atMm, atMm - reflector.toMm);
  return Math.exp(-0.5 * (aside / sigmaMm) ** 2);
}

export function readingOf(captureId: string, told: Partial<Reading> = {}): Reading {
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
    ...told,
  };
}

/** One point of an echo-dynamic: a height in % FSH at a position, with a noise in % FSH (standard deviation). */
export function pointAt(
  positionMm: number,
  amplitudePercent: number,
  told: { noisePercent?: number | null; state?: PointState; acrossMm?: number | null; gainDb?: number | null } = {},
): DynamicPoint {
  const { noisePercent = 0, state = 'read', acrossMm = null, gainDb = null } = told;
  const captureId = acrossMm === null ? `at ${positionMm}` : `at ${positionMm}, ${acrossMm} across`;
  return {
    captureId,
    positionMm,
    acrossMm,
    amplitudePercent,
    levelDb: 20 * Math.log10(amplitudePercent),
    uLevelDb: noisePercent === null ? null : ((20 / Math.LN10) * noisePercent) / amplitudePercent,
    gainDb,
    state,
    reading: readingOf(captureId, { amplitudePercent }),
  };
}
