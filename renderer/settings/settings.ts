import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { Theme } from './scheme.ts';

/** What follows the person from one review to the next: how figures are written, and the colours. */
export interface Settings {
  readonly theme: Theme;
  readonly units: FigureStyle['units'];
  readonly decimalMark: FigureStyle['decimalMark'];
}

export const initialSettings: Settings = { theme: 'system', units: 'metric', decimalMark: '.' };

/** Settings as they were kept; what is damaged, unknown or not there is as it was at first. */
export function settingsFrom(text: string | null): Settings {
  const kept = fromJson(text);
  return {
    theme: oneOf(kept.theme, ['system', 'light', 'dark'], initialSettings.theme),
    units: oneOf(kept.units, ['metric', 'inch'], initialSettings.units),
    decimalMark: oneOf(kept.decimalMark, ['.', ','], initialSettings.decimalMark),
  };
}

export function oneOf<const T extends string | null>(value: unknown, choices: readonly T[], otherwise: T): T {
  return choices.find((choice) => choice === value) ?? otherwise;
}

export function fromJson(text: string | null): Readonly<Record<string, unknown>> {
  try {
    const value: unknown = JSON.parse(text ?? '{}');
    return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
  } catch {
    return {};
  }
}
