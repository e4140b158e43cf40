import { cos } from '../elementary/trigonometric.ts';

/** How the gated echo is weighted before its spectrum is taken. */
export type SpectrumWindow =
  | { readonly kind: 'rectangular' }
  /** Flat but for a raised-cosine edge at either end; `taper` is the share of the length that both edges have together, 0 to 1. */
  | { readonly kind: 'tukey'; readonly taper: number }
  | { readonly kind: 'hann' };

/** Window and padding of a spectrum: stated wherever one is shown. */
export interface SpectrumSettings {
  readonly window: SpectrumWindow;
  /** Zeros are added to at least so many times the gate’s samples, and on to the next power of two. */
  readonly padding: number;
}

/** A fifth of the gate in edges leaves an echo alone that stands in its middle, and takes the step off its ends. */
export const defaultSpectrumSettings: SpectrumSettings = { window: { kind: 'tukey', taper: 0.2 }, padding: 8 };

/**
 * The weights of a window, symmetric, both ends included, as SciPy's `windows.tukey` and `windows.hann` with `sym=True`.
 * Source: Harris 1978, Proc. IEEE 66, 51 (from memory).
 */
export function windowWeights(window: SpectrumWindow, count: number): Float64Array {
  const weights = new Float64Array(count).fill(1);
  const taper = window.kind === 'rectangular' ? 0 : window.kind === 'hann' ? 1 : Math.max(0, Math.min(1, window.taper));
  if (taper === 0 || count < 2) return weights;
  const edge = (taper * (count - 1)) / 2;
  // A share so small that its half is no number any more.
  if (edge === 0) return weights;
  for (let i = 0; i <= Math.floor(edge) && i < count; i++) {
    const weight = (1 - cos((Math.PI * i) / edge)) / 2;
    weights[i] = Math.min(weights[i], weight);
    weights[count - 1 - i] = Math.min(weights[count - 1 - i], weight);
  }
  return weights;
}

export function windowInWords({ window, padding }: SpectrumSettings): string {
  const name =
    window.kind === 'rectangular'
      ? 'rectangular window'
      : window.kind === 'hann'
        ? 'Hann window'
        : `Tukey window, ${Number((100 * window.taper).toFixed(1))} % in its edges`;
  return `${name}, mean of the gate’s outer tenths taken out, zeros added to at least ${padding} times the gate’s length`;
}
