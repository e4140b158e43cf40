import type { Timing } from '../gate/gate.ts';

/**
 * One timing rule for the calibration and for what is read with it (common practice): another one shifts every path by the time from crossing to peak.
 * @returns the sentence that says so; `null` where both are the same, or there is no calibration
 */
export function mixedTiming(calibration: Timing | null, readings: Timing): string | null {
  if (calibration === null || calibration === readings) return null;
  return `the calibration was timed by ${calibration} and the readings are timed by ${readings}: the paths are shifted by the difference; use one rule for both`;
}
