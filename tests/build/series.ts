import type { SeriesMember } from '../../core/gate/off-peak.ts';
import type { Reading } from '../../core/gate/reading.ts';
import { normal } from './random.ts';
import { type TraceInWords, trace } from './trace.ts';

/** A probe moved over a side-drilled hole: where it stands, what beam it has, and the hole. */
export interface SideDrilledHole {
  /** Index point of the probe at each capture, in mm along the scan. */
  readonly positionsMm: readonly number[];
  /** Above the hole on the scan. */
  readonly holeAtMm: number;
  readonly depthMm: number;
  /** 0 for a normal probe; the beam leans towards growing positions. */
  readonly angleDeg?: number;
  /** Half-angle at which the pulse-echo beam (a Gaussian) stands 6 dB below its axis. */
  readonly halfAngle6dBDeg?: number;
  /** On the axis, at `gainDb`. */
  readonly peakPercent?: number;
  readonly velocityMPerS?: number;
  readonly zeroOffsetUs?: number;
  readonly gainDb?: number | null;
}

/** What the geometry gives at one position. */
export interface Sounding {
  readonly positionMm: number;
  readonly pathMm: number;
  readonly timeUs: number;
  readonly amplitudePercent: number;
}

/**
 *     position  x          hole's place
 *     ----------+-------------+------ surface
 *                \ φ          |
 *                 \           | depth        path = √(h² + depth²), a hyperbola over x
 *                  `  .  .  . o              level = −6 dB · ((φ − angle) / half-angle)², a Gaussian beam
 */
export function soundings(hole: SideDrilledHole): Sounding[] {
  const { angleDeg = 0, halfAngle6dBDeg = 6, peakPercent = 80, velocityMPerS = 3240, zeroOffsetUs = 7.3 } = hole;
  return hole.positionsMm.map((positionMm) => {
    const along = hole.holeAtMm - positionMm;
    const pathMm = Math.hypot(along, hole.depthMm);
    const offAxisDeg = (Math.atan2(along, hole.depthMm) * 180) / Math.PI - angleDeg;
    const levelDb = -6 * (offAxisDeg / halfAngle6dBDeg) ** 2;
    return {
      positionMm,
      pathMm,
      timeUs: zeroOffsetUs + (2000 * pathMm) / velocityMPerS,
      amplitudePercent: peakPercent * 10 ** (levelDb / 20),
    };
  });
}

/** The series as traces, each with its position and gain; words may be added to each. */
export function seriesOfTraces(hole: SideDrilledHole, frequencyMHz = 4): TraceInWords[] {
  return soundings(hole).map(({ positionMm, timeUs, amplitudePercent }, i) => {
    const words = trace().burst({ timeUs, amplitudePercent, frequencyMHz }).at(positionMm).named(`position-${i}.csv`);
    return hole.gainDb == null ? words : words.gain(hole.gainDb);
  });
}

/** A reading as it stands before its series is judged; only what is given differs from a plain echo of 50 % at 20 µs, 30 mm. */
export function reading(given: Partial<Reading> = {}): Reading {
  return {
    captureId: 'built.csv',
    gate: 'hole',
    timeUs: { value: 20, standardUncertainty: 0.002 },
    crossingUs: null,
    peakUs: null,
    amplitudePercent: 50,
    noisePercent: null,
    signalToNoiseDb: 40,
    soundPathMm: null,
    depthMm: null,
    surfaceDistanceMm: null,
    leg: null,
    belowPeakDb: null,
    flags: [],
    from: { first: 0, last: 1 },
    ...given,
  };
}

/** The series as readings without the signal in between: noise in time (µs) and in level (dB) as given. */
export function seriesOfReadings(
  hole: SideDrilledHole,
  noise: { readonly timeUs: number; readonly levelDb: number; readonly seed: number } = {
    timeUs: 0,
    levelDb: 0,
    seed: 1,
  },
): SeriesMember[] {
  const random = normal(noise.seed);
  const { velocityMPerS = 3240, zeroOffsetUs = 7.3 } = hole;
  return soundings(hole).map(({ positionMm, timeUs, amplitudePercent }, i) => {
    const time = timeUs + noise.timeUs * random();
    return {
      reading: reading({
        captureId: `position-${i}.csv`,
        timeUs: { value: time, standardUncertainty: noise.timeUs },
        soundPathMm: { value: ((time - zeroOffsetUs) * velocityMPerS) / 2000, standardUncertainty: null },
        amplitudePercent: amplitudePercent * 10 ** ((noise.levelDb * random()) / 20),
      }),
      gainDb: hole.gainDb ?? null,
      positionMm,
      takenAt: null,
    };
  });
}
