import type { SensitivityDecision } from '../../core/review/sensitivity-decision.ts';
import { parseNumber, parseQuantity } from '../../core/units/parse-quantity.ts';
import { refuseArgument } from './refusal.ts';

/** Reads `2dB`, `-14 dB`; a bare number is taken as dB too, since the option itself states it. */
export function levelOption(name: string, least: number, most: number): (text: string) => number {
  return (text) => {
    const parsed = parseNumber(text.replace(/\s*dB$/i, ''));
    if (!parsed.ok) return refuseArgument(name, `"${text}" is not a level in dB; write it as in 2dB or -1.5dB`);
    if (parsed.value < least || parsed.value > most)
      refuseArgument(name, `${text} is out of range; give ${least} to ${most} dB`);
    return parsed.value;
  };
}

/** Reads `10mm,4MHz`: the diameter of the element and the frequency. */
export function probeOption(name: string): (text: string) => { elementMm: number; frequencyMHz: number } {
  return (text) => {
    const parts = text.split(',');
    if (parts.length !== 2)
      refuseArgument(name, `"${text}" is not a probe; write the element’s diameter and the frequency, as in 10mm,4MHz`);
    const element = parseQuantity(parts[0], 'length');
    if (!element.ok) return refuseArgument(name, element.sentence);
    const frequency = parseQuantity(parts[1], 'frequency');
    if (!frequency.ok) return refuseArgument(name, frequency.sentence);
    if (element.value <= 0 || frequency.value <= 0)
      refuseArgument(name, `"${text}": both must be above 0, as in 10mm,4MHz`);
    return { elementMm: element.value, frequencyMHz: frequency.value };
  };
}

/** The probe with its velocity, as the review holds it. */
export function probeFrom(options: {
  readonly probe?: { elementMm: number; frequencyMHz: number };
  readonly velocity?: number;
}): SensitivityDecision['probe'] {
  if (options.probe === undefined) return null;
  return { ...options.probe, velocityMPerS: options.velocity ?? null };
}
