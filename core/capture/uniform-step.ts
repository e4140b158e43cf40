/**
 * The step of a uniform axis in another unit: `(last − first) · factor / (count − 1)`, freed of the last bits' noise where a
 * number of 12 significant digits meets both ends as well.
 */
export function uniformStep(first: number, last: number, count: number, factor: number): number {
  const step = ((last - first) * factor) / (count - 1);
  const short = Number(step.toPrecision(12));
  return Math.abs(short - step) <= Math.abs(step) * 1e-15 * 8 ||
    Math.abs(short - step) * (count - 1) <= noiseOf(first, last, factor)
    ? short
    : step;
}

/** Four units in the last place of the larger end. */
function noiseOf(first: number, last: number, factor: number): number {
  return 4 * Number.EPSILON * Math.max(Math.abs(first), Math.abs(last)) * Math.abs(factor);
}
