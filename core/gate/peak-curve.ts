import type { CaptureId } from '../capture/capture.ts';
import { log10 } from '../elementary/exponential.ts';

/** A reading's place in its series and its height in dB, all of the series at one gain. */
export interface PlacedHeight {
  readonly captureId: CaptureId;
  /** `null` for all where the series has no positions to go by. */
  readonly positionMm: number | null;
  /** `null` where there is no echo. */
  readonly levelDb: number | null;
  /** Cut off by the screen or by the gate: the true height is this or more. */
  readonly isLowerBound: boolean;
}

/** The parabola through the top of a series: `levelDb + curvatureDbPerMm2 · (x − positionMm)²`, fitted from `fromMm` to `toMm`. */
export interface FittedParabola {
  readonly positionMm: number;
  readonly levelDb: number;
  /** Negative. */
  readonly curvatureDbPerMm2: number;
  readonly fromMm: number;
  readonly toMm: number;
}

/** Heights of a series over the probe's position. Levels are in dB relative to full screen height, as they would stand at the reference gain. */
export interface PeakCurve {
  /** `null` where no gain was taken out: the levels are then those on the screen as captured. */
  readonly referenceGainDb: number | null;
  /** In the order of the series as given. */
  readonly heights: readonly PlacedHeight[];
  readonly peakDb: number;
  readonly peakIsLowerBound: boolean;
  /** How far below the peak a reading may stand; `limitDb` is that level. */
  readonly offPeakDb: number;
  readonly limitDb: number;
  readonly parabola: FittedParabola | null;
  /** Between these positions the fitted parabola stands within `offPeakDb` of its vertex; `null` without one. It may reach beyond what was scanned. */
  readonly withinLimit: { readonly fromMm: number; readonly toMm: number } | null;
}

/**
 * Puts the heights of a series, its parabola and the limit on one scale: dB relative to full screen height, at the gain of the peak.
 *
 *     dB |  limit ___.-x-.___     half-width of the band = √(offPeakDb / −curvature)
 *        |       x |     | x
 *        |         from  to
 *        +---------------------- position in mm
 *
 * @param heights and @param parabola in dB relative to 1 % of full screen height at gain 0 (20 · log10 % − gain), or without the gain where none was taken out.
 * Source: dB relative to full screen height and reference gain, common practice; the band's ends follow from the parabola.
 */
export function peakCurve(
  heights: readonly PlacedHeight[],
  parabola: FittedParabola | null,
  peak: { readonly amplitudePercent: number; readonly referenceGainDb: number | null; readonly isLowerBound: boolean },
  offPeakDb: number,
): PeakCurve {
  const toScreenDb = (peak.referenceGainDb ?? 0) - 40;
  const peakDb = 20 * log10(peak.amplitudePercent / 100);
  const halfWidthMm = parabola === null ? null : Math.sqrt(offPeakDb / -parabola.curvatureDbPerMm2);
  return {
    referenceGainDb: peak.referenceGainDb,
    heights: heights.map((height) => ({
      ...height,
      levelDb: height.levelDb === null ? null : height.levelDb + toScreenDb,
    })),
    peakDb,
    peakIsLowerBound: peak.isLowerBound,
    offPeakDb,
    limitDb: peakDb - offPeakDb,
    parabola:
      parabola === null
        ? null
        : {
            positionMm: parabola.positionMm,
            levelDb: parabola.levelDb + toScreenDb,
            curvatureDbPerMm2: parabola.curvatureDbPerMm2,
            fromMm: parabola.fromMm,
            toMm: parabola.toMm,
          },
    withinLimit:
      parabola === null || halfWidthMm === null
        ? null
        : { fromMm: parabola.positionMm - halfWidthMm, toMm: parabola.positionMm + halfWidthMm },
  };
}

/** The parabola's height at a position, in dB. */
export function heightOnParabola({ positionMm, levelDb, curvatureDbPerMm2 }: FittedParabola, atMm: number): number {
  return levelDb + curvatureDbPerMm2 * (atMm - positionMm) ** 2;
}
