import type { Echo } from '../signal/echoes.ts';

/** Of the time from an echo's onset to its peak: so much before the onset, and so much after the peak. */
const before = 1;
const after = 3;
/** Where no onset is known, as if the flank took so long. */
const flankWithoutOnsetUs = 0.5;

/**
 * The window in which a calibration looks for the echo that a person chose: from before its onset to after its tail, and never over
 * half the way to the echoes beside it, so that these stay outside.
 *
 *            |   /\         |      |-- half way to the next
 *        ____|__/  \_____ __|__/\__|
 *          from onset      to
 *
 * @param echoes in order of time @param chosen index of the echo meant
 */
export function windowAbout(
  echoes: readonly Echo[],
  chosen: number,
): { readonly fromUs: number; readonly toUs: number } {
  const { timeUs, onsetUs } = echoes[chosen];
  const flankUs = onsetUs === null || onsetUs >= timeUs ? flankWithoutOnsetUs : timeUs - onsetUs;
  const earlier = echoes[chosen - 1]?.timeUs ?? Number.NEGATIVE_INFINITY;
  const later = echoes[chosen + 1]?.timeUs ?? Number.POSITIVE_INFINITY;
  return {
    fromUs: inNanoseconds(Math.max(timeUs - (1 + before) * flankUs, (earlier + timeUs) / 2)),
    toUs: inNanoseconds(Math.min(timeUs + after * flankUs, (timeUs + later) / 2)),
  };
}

/** A window is a person's decision, and is written as one would write it. */
function inNanoseconds(us: number): number {
  return Math.round(us * 1e3) / 1e3;
}
