import type { Extrema } from '../../core/capture/extrema-pyramid.ts';
import type { Viewport } from './viewport.ts';

/** A time with as many decimals as the shown part of the axis can tell apart: 4 figures of its length. `61.52`, `61.5203`. */
export function timeText(timeUs: number, view: Viewport): string {
  const decimals = Math.min(6, Math.max(0, 3 - Math.floor(Math.log10(view.toUs - view.fromUs))));
  return numberText(timeUs, decimals);
}

/** One amplitude, or the span of amplitudes that share a column of pixels: `41.2 %`, `−38.0 to 41.2 %`. */
export function percentText({ minimum, maximum }: Extrema): string {
  return minimum === maximum
    ? `${numberText(maximum, 1)} %`
    : `${numberText(minimum, 1)} to ${numberText(maximum, 1)} %`;
}

/** With the sign of mathematics for minus, and no minus before a zero. */
export function numberText(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}
