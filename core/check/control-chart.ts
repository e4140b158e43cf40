import type { Limits } from './verdict.ts';

/**
 * From the mean moving range of two to three standard deviations of the process: 3 / d2, d2 = 1.128 for two values.
 * Source: W. A. Shewhart, Economic Control of Quality of Manufactured Product (1931), as taught for individuals and moving range charts; both from memory.
 */
export const movingRangeFactor = 2.66;

/** From the mean moving range to the largest one to be expected: D4 for two values. Source as above. */
export const largestRangeFactor = 3.267;

/** Below this many values limits say more of chance than of the process (common practice; texts ask for 20 and more). */
export const fewestForLimits = 8;

/** `too-few`: fewer than 8 values. `no-spread`: successive values are all alike, as where the figures were rounded. */
export type WithoutLimits = 'too-few' | 'no-spread';

export const withoutLimitsTexts: Readonly<Record<WithoutLimits, string>> = {
  'too-few': `fewer than ${fewestForLimits} checks have a figure here: too few for control limits`,
  'no-spread': 'successive figures are all alike: there is no spread to take control limits from',
};

/** How single values vary about their mean, in the unit of the values. */
export interface ControlChart {
  readonly count: number;
  /** The mean; `null` of no value. */
  readonly centre: number | null;
  /** Over all values: a trend or a jump makes it larger than the moving range does. `null` below two values. */
  readonly standardDeviation: number | null;
  /** Mean of |value − the one before|; `null` below two values. */
  readonly meanMovingRange: number | null;
  /** centre ± 2.66 · mean moving range; both ends belong to what is expected. */
  readonly limits: Limits | null;
  readonly withoutLimits: WithoutLimits | null;
  /** 3.267 · mean moving range: how far successive values may lie apart; `null` where there are no limits. */
  readonly largestStep: number | null;
  /** For each value whether it lies outside the limits; without limits none does. */
  readonly outside: readonly boolean[];
  /** For each value whether it lies farther from the one before than `largestStep`. */
  readonly jumps: readonly boolean[];
}

/**
 * The chart of individuals: whether single values in their order stay within what their own step-to-step variation leads one to expect.
 *
 *     upper  - - - - - - - - - x - -      x  out of control: something has changed
 *                  o       o
 *     centre ----o-----o-o---------
 *              o     o
 *     lower  - - - - - - - - - - - -
 *
 * Beside it the chart of moving ranges: a step that is larger than one step is expected to be is a jump.
 * It judges no rule: a process may be in control and out of its tolerance, and the other way round. A slow trend leaves the moving range as it is and
 * carries the values out at the ends. @param values finite, in order of time
 */
export function controlChart(values: readonly number[]): ControlChart {
  const count = values.length;
  const centre = count === 0 ? null : meanOf(values);
  const steps = values.slice(1).map((value, i) => Math.abs(value - values[i]));
  const meanMovingRange = steps.length === 0 ? null : meanOf(steps);
  const standardDeviation =
    centre === null || count < 2
      ? null
      : Math.sqrt(values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (count - 1));
  const withoutLimits = count < fewestForLimits ? 'too-few' : meanMovingRange === 0 ? 'no-spread' : null;
  const limits =
    withoutLimits !== null || centre === null || meanMovingRange === null
      ? null
      : {
          lower: centre - movingRangeFactor * meanMovingRange,
          upper: centre + movingRangeFactor * meanMovingRange,
        };
  const largestStep = limits === null || meanMovingRange === null ? null : largestRangeFactor * meanMovingRange;
  const jumps = values.map((_, i) => largestStep !== null && i > 0 && steps[i - 1] > largestStep);
  const outside = values.map((value) => limits !== null && (value < limits.lower || value > limits.upper));
  return { count, centre, standardDeviation, meanMovingRange, limits, withoutLimits, largestStep, outside, jumps };
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
