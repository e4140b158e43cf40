import { describe, expect, it } from 'vitest';
import { fitDistance } from '../../core/calibration/distance.ts';
import { samplesBetween } from '../../core/capture/waveform.ts';
import { defaultRecipe } from '../../core/signal/conditioning.ts';
import { highestIn } from '../../core/signal/peak.ts';
import { trace } from '../build/trace.ts';

/** Transverse waves at 3,240 m/s behind a zero offset of 7.3 µs; reflectors at 30 and 75 mm keep the record short. */
const truth = { velocityMPerS: 3240, zeroOffsetUs: 7.3 };
const timeUs = (distanceMm: number): number => truth.zeroOffsetUs + (2000 * distanceMm) / truth.velocityMPerS;
const calibrations = 1000;

/** From waveforms with their own noise to the fit, the whole way, many times; each with another noise and another place between the samples. */
function share(
  frequencyMHz: number,
  noisePercent: number,
  bits: number | null,
): { velocity: number; zeroOffset: number } {
  let velocity = 0;
  let zeroOffset = 0;
  for (let run = 0; run < calibrations; run++) {
    const between = (run * 0.618_033_988_75) % 1;
    const startUs = 20 - between * 0.01;
    const described = trace()
      .record(startUs, 4096)
      .burst({ timeUs: timeUs(30), amplitudePercent: 80, frequencyMHz, phaseDeg: (run * 137.5) % 360 })
      .burst({ timeUs: timeUs(75), amplitudePercent: 42, frequencyMHz, phaseDeg: (run * 57.3) % 360 })
      .noise(noisePercent, run + 1);
    const conditioned = (bits === null ? described : described.quantised(bits)).conditioned(defaultRecipe);
    const points = [30, 75].map((distanceMm) => {
      const peak = highestIn(
        conditioned,
        samplesBetween(conditioned, timeUs(distanceMm) - 2, timeUs(distanceMm) + 2)!,
      )!;
      return {
        distanceMm,
        uDistanceMm: 0,
        timeUs: peak.timeUs,
        uTimeUs: peak.uTimeUs,
        amplitudePercent: peak.amplitudePercent,
        captureId: null,
        from: null,
        flags: [],
      };
    });
    const fit = fitDistance(points);
    if (!fit.ok) throw new Error(fit.problems[0].sentence);
    const { velocityMPerS, zeroOffsetUs, velocityHalfWidth95MPerS, zeroOffsetHalfWidth95Us } = fit.value;
    if (Math.abs(velocityMPerS.value - truth.velocityMPerS) <= velocityHalfWidth95MPerS!) velocity += 1;
    if (Math.abs(zeroOffsetUs.value - truth.zeroOffsetUs) <= zeroOffsetHalfWidth95Us!) zeroOffset += 1;
  }
  return { velocity: (100 * velocity) / calibrations, zeroOffset: (100 * zeroOffset) / calibrations };
}

describe(`the 95 % interval over ${calibrations} calibrations made from waveforms`, () => {
  it.each([
    { frequencyMHz: 4, noisePercent: 0.3, bits: null },
    { frequencyMHz: 4, noisePercent: 1, bits: null },
    { frequencyMHz: 5, noisePercent: 0.3, bits: 12 },
    { frequencyMHz: 5, noisePercent: 0.5, bits: 8 },
  ])(
    '$frequencyMHz MHz, noise $noisePercent % FSH, converter of $bits bits: holds the truth in 93 to 97 of 100',
    ({ frequencyMHz, noisePercent, bits }) => {
      const held = share(frequencyMHz, noisePercent, bits);
      expect(held.velocity).toBeGreaterThanOrEqual(93);
      expect(held.velocity).toBeLessThanOrEqual(97);
      expect(held.zeroOffset).toBeGreaterThanOrEqual(93);
      expect(held.zeroOffset).toBeLessThanOrEqual(97);
    },
  );
});
