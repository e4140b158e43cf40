import type { BlockSeries } from '../block/reference-block.ts';
import type { CaptureId } from '../capture/capture.ts';
import type { Reflector } from '../review/review.ts';

/** An echo that a person, or a block's series, takes for a reflector. */
export interface EchoTaken {
  readonly distanceMm: number;
  readonly toleranceMm: number;
  readonly timeUs: number;
  readonly captureId: CaptureId;
}

/** Another echo of the same captures. */
export interface EchoBeside {
  readonly timeUs: number;
  readonly captureId: CaptureId;
}

/** A window reaches no further than this to either side of its echo: some 8 mm of transverse wave in steel. */
const widestUs = 5;

/**
 * A window around each echo that was taken for a reflector, so that it can be found again without the block's series: half-way to the nearest
 * other echo of its capture, at most 5 µs to either side. In order of distance.
 *
 *     |     x  |    x    |       windows meet half-way
 *     +-----------------------> time
 */
export function windowsAround(taken: readonly EchoTaken[], beside: readonly EchoBeside[]): Reflector[] {
  return [...taken]
    .sort((a, b) => a.distanceMm - b.distanceMm)
    .map(({ distanceMm, toleranceMm, timeUs, captureId }) => {
      const others = [...taken, ...beside]
        .filter((other) => other.captureId === captureId && other.timeUs !== timeUs)
        .map((other) => other.timeUs);
      const before = Math.max(timeUs - 2 * widestUs, ...others.filter((other) => other < timeUs));
      const after = Math.min(timeUs + 2 * widestUs, ...others.filter((other) => other > timeUs));
      return {
        distanceMm,
        toleranceMm,
        fromUs: toNanoseconds((before + timeUs) / 2),
        toUs: toNanoseconds((timeUs + after) / 2),
        capture: captureId,
      };
    });
}

/** Decisions are kept short enough to be read. */
function toNanoseconds(us: number): number {
  return Math.round(us * 1000) / 1000;
}

/**
 * The half-width of the tolerance that a distance of a block has on its own: what the block's dimensions share is put on each distance, as if it were
 * its own error. 0 where the block counts as exact.
 */
export function toleranceInBlock(block: BlockSeries, distanceMm: number): number {
  if (block.shared === null) return block.toleranceMm;
  const { uScale, uShiftMm, covarianceMm } = block.shared;
  const variance = (uScale * distanceMm) ** 2 + 2 * covarianceMm * distanceMm + uShiftMm ** 2;
  return Math.round(Math.sqrt(3 * Math.max(0, variance)) * 1000) / 1000;
}
