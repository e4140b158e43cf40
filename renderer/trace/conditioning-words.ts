import type { ConditioningRecipe } from '../../core/signal/conditioning.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { fieldText } from './gate-fields.ts';

const baselineWords = { none: 'base line as captured', mean: 'mean taken out', linear: 'straight base line taken out' };

/** The recipe in a line: `Straight base line taken out, band-pass 2 to 8 MHz`. */
export function conditioningWords({ baseline, bandPass }: ConditioningRecipe, style: FigureStyle): string {
  const base = baselineWords[baseline];
  const band =
    bandPass === null
      ? 'no filter'
      : `band-pass ${fieldText(bandPass.lowMHz, 'frequency', style)} to ${fieldText(bandPass.highMHz, 'frequency', style)} MHz, order ${bandPass.order}`;
  return `${base[0]!.toUpperCase()}${base.slice(1)}, ${band}`;
}

/** Short, for a button: `2 to 8 MHz`; `null` without a filter. */
export function bandWords({ bandPass }: ConditioningRecipe, style: FigureStyle): string | null {
  if (bandPass === null) return null;
  return `${fieldText(bandPass.lowMHz, 'frequency', style)} to ${fieldText(bandPass.highMHz, 'frequency', style)} MHz`;
}

/** A wide band to begin with, which the sampling rate allows: a person narrows it with the effect in sight. */
export function firstBandPass(sampleRateMHz: number | null): NonNullable<ConditioningRecipe['bandPass']> {
  const highest = sampleRateMHz === null ? 10 : Math.min(10, 0.4 * sampleRateMHz);
  return { lowMHz: Math.min(1, highest / 10), highMHz: highest, order: 3 };
}
