import type { SampleRange } from '../capture/waveform.ts';
import { cos } from '../elementary/trigonometric.ts';
import { analyticSignal, realSpectrum, transformSize } from '../signal/fft.ts';

/** So many points for each sample: between them a straight line errs by less than 0.1 % of a crest at five samples to the period. */
export const pointsForSample = 16;
/** Samples beside the gate that go along, so that their own cut does not reach into it. */
const margin = 48;

/**
 * The RF of a range between its samples, by band-limited interpolation: the transform of the range and some samples beside it, which a raised cosine
 * takes down to nothing, on sixteen times as many points.
 * @returns point i stands at sample `range.first` + i / 16; the last at `range.last`
 * Source: common practice (zero-padding in the frequency domain).
 */
export function oversampled(carrier: Float64Array, range: SampleRange): Float64Array {
  const count = range.last - range.first + 1;
  const section = new Float64Array(count + 2 * margin);
  for (let i = 0; i < section.length; i++) {
    const from = range.first - margin + i;
    if (from < 0 || from >= carrier.length) continue;
    const outside = Math.max(margin - i, i - (margin + count - 1), 0) / (margin + 1);
    section[i] = carrier[from] * (outside === 0 ? 1 : (1 + cos(Math.PI * outside)) / 2);
  }
  const size = transformSize(section.length);
  const { real } = analyticSignal(realSpectrum(section, 0, section.length, size), size * pointsForSample);
  return real.slice(margin * pointsForSample, (margin + count - 1) * pointsForSample + 1);
}
