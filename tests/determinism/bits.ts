import type { Rectification } from '../../core/capture/waveform.ts';
import { exp, log, log1p, log2, log10, power } from '../../core/elementary/exponential.ts';
import { hypot } from '../../core/elementary/hypotenuse.ts';
import { acos, asin, atan, atan2, cos, sin, tan } from '../../core/elementary/trigonometric.ts';
import { condition, defaultRecipe } from '../../core/signal/conditioning.ts';
import { findEchoes } from '../../core/signal/echoes.ts';

/*
 * The bits of figures before any of them is rounded for a person: what is written rounds most differences away, and the
 * one that it does not comes to light years later.
 */

/** Sums of bits that tell any change of any of them. */
class Bits {
  readonly #value = new Float64Array(1);
  readonly #words = new Uint32Array(this.#value.buffer);
  sum = 0;

  add(value: number): void {
    // No number has many bit patterns.
    this.#value[0] = Number.isNaN(value) ? -1 : value;
    this.sum = (Math.imul(this.sum, 31) + this.#words[0] + Math.imul(this.#words[1], 17)) >>> 0;
  }
}

/** Numbers between 0 and 1 from whole numbers alone (Park and Miller 1988, from memory). */
function numbers(): () => number {
  let state = 4711;
  return () => {
    state = (state * 16_807) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

/** Of the elementary functions. */
export function bitsOfFunctions(): number {
  const any = numbers();
  const bits = new Bits();
  for (let i = 0; i < 20_000; i++) {
    const x = any();
    const y = any() - 0.5;
    for (const f of [sin, cos, atan]) bits.add(f(2000 * y));
    for (const f of [asin, acos, log1p]) bits.add(f(2 * y));
    for (const f of [log, log2, log10]) bits.add(f(1000 * x));
    bits.add(tan(3 * y));
    bits.add(exp(100 * y));
    bits.add(power(10, 6 * y));
    bits.add(atan2(y, x - 0.5));
    bits.add(hypot(x, y, 0.1));
  }
  return bits.sum;
}

/** Of conditioned records and their echoes: RF, full wave, half wave and envelope, through a band-pass or not. */
export function bitsOfRecords(): number {
  const any = numbers();
  const bits = new Bits();
  const rectifications: readonly Rectification[] = ['rf', 'full', 'positive', 'envelope'];
  for (const rectification of rectifications) {
    const samples = Float64Array.from({ length: 3000 }, (_, i) => {
      const t = (i - 1400.3) / 20;
      const burst = (80 * cos(2.2 * t)) / (1 + t * t) + 6 * (any() + any() - 1);
      return rectification === 'rf' ? burst : rectification === 'positive' ? Math.max(0, burst) : Math.abs(burst);
    });
    for (const bandPass of rectification === 'rf' ? [null, { lowMHz: 1, highMHz: 4, order: 3 }] : [null]) {
      const outcome = condition(
        { startUs: 3, stepUs: 0.01, samples, amplitudeUnit: 'percent', fullScreen: 100, zeroLevel: 0, rectification },
        { ...defaultRecipe, bandPass },
      );
      if (!outcome.ok) throw new Error(outcome.problems[0].sentence);
      const { envelope, noisePercent } = outcome.value;
      for (const value of envelope) bits.add(value);
      bits.add(noisePercent ?? -1);
      for (const echo of findEchoes(outcome.value, { abovePercent: 20, fromUs: null, toUs: null }, 20)) {
        for (const value of [echo.timeUs, echo.uTimeUs, echo.onsetUs, echo.flank?.uTimeUs, echo.amplitudePercent])
          bits.add(value ?? -1);
      }
    }
  }
  return bits.sum;
}
