/**
 * Straight-line interpolation of unevenly stamped samples onto as many evenly spaced ones between first and last stamp.
 * `stamps` must rise. Common practice; it smooths what lies between stamps, so it is done on request only.
 */
export function resampleLinear(stamps: Float64Array, samples: Float64Array): Float64Array {
  const count = stamps.length;
  const even = new Float64Array(count);
  const step = (stamps[count - 1] - stamps[0]) / (count - 1);
  let right = 1;
  for (let i = 0; i < count; i++) {
    const at = stamps[0] + i * step;
    while (right < count - 1 && stamps[right] < at) right++;
    const left = right - 1;
    const share = Math.min(1, Math.max(0, (at - stamps[left]) / (stamps[right] - stamps[left])));
    even[i] = samples[left] + share * (samples[right] - samples[left]);
  }
  return even;
}
