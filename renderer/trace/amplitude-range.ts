import type { Extrema } from '../../core/capture/extrema-pyramid.ts';

/** Room above the highest crest and below the deepest trough, as a share of the whole. */
const room = 0.04;

/**
 * The amplitudes that the plot shows, in % of full screen height: at least the screen itself (0 to 100, or both sides of it for a trace with
 * negative half waves), more where the record goes beyond it. The same for every part of the record, so that zooming never changes a height.
 */
export function amplitudeRange({ minimum, maximum }: Extrema): readonly [number, number] {
  const high = Math.max(100, maximum);
  const low = minimum < 0 ? Math.min(-100, minimum) : 0;
  return [low < 0 ? low * (1 + room) : low, high * (1 + room)];
}
