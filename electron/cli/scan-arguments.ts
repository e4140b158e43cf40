import type { ScanDecision, Sizing } from '../../core/review/scan-decision.ts';
import { parseNumber } from '../../core/units/parse-quantity.ts';
import { refuseArgument } from './refusal.ts';
import { levelOption } from './sensitivity-arguments.ts';

/** `drop-6-db`, `drop-20-db`, `half-of-curve`, or `fixed-level=20` (% of full screen height). */
export function methodOption(name: string): (text: string) => Sizing {
  return (text) => {
    if (text === 'drop-6-db' || text === 'drop-20-db' || text === 'half-of-curve') return { kind: text };
    const match = /^fixed-level=(.+?)%?$/.exec(text);
    const percent = match === null ? null : parseNumber(match[1]);
    if (percent?.ok && percent.value > 0 && percent.value <= 100)
      return { kind: 'fixed-level', percent: percent.value };
    return refuseArgument(
      name,
      `"${text}" is no way to size; give drop-6-db, drop-20-db, half-of-curve, or fixed-level=20 (% of full screen height, above 0 and at most 100)`,
    );
  };
}

/** `80@44dB`: the reference reflector stood so high (% of full screen height) at that gain. */
export function referenceOption(name: string): (text: string) => NonNullable<ScanDecision['reference']> {
  return (text) => {
    const [height, gain, ...more] = text.split('@');
    const percent = parseNumber(height.replace(/\s*%$/, ''));
    if (gain === undefined || more.length > 0 || !percent.ok || !(percent.value > 0 && percent.value <= 100))
      return refuseArgument(name, `"${text}" is not a reference level; write the height and the gain, as in 80@44dB`);
    return { percent: percent.value, gainDb: levelOption(name, -200, 200)(gain), uGainDb: 0 };
  };
}
