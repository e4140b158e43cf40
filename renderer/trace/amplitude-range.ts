import type { Extrema } from '../../core/capture/extrema-pyramid.ts';
import type { TraceMode } from './trace-props.ts';

/** Room above the highest crest and below the deepest trough, as a share of the whole. */
const room = 0.04;

/**
 * The amplitudes that the plot shows, in % of full screen height: at least the screen itself (0 to 100, or both sides of it for traces with
 * negative half waves), more where a record goes beyond it. The same for every part of the record, so that zooming never changes a height.
 */
export function amplitudeRange(traces: readonly Extrema[], mode: TraceMode): readonly [number, number] {
  const minimum = Math.min(0, ...traces.map((trace) => trace.minimum));
  const maximum = Math.max(0, ...traces.map((trace) => trace.maximum));
  if (mode === 'rectified') return [0, Math.max(100, maximum, -minimum) * (1 + room)];
  const high = Math.max(100, maximum);
  const low = minimum < 0 ? Math.min(-100, minimum) : 0;
  return [low * (1 + room), high * (1 + room)];
}
