import { describe, expect, it } from 'vitest';
import { type OkLab, ramp, rampBytes, shadeCount, srgbOf } from '../../../renderer/series/colour-map.ts';

/** OKLab of an sRGB colour, by the published matrices the other way round: the test's own road back. */
function okLabOf(bytes: readonly number[]): OkLab {
  const [r, g, b] = bytes.map((byte) => {
    const part = byte / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  const long = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const middle = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const short = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return {
    lightness: 0.2104542553 * long + 0.793617785 * middle - 0.0040720468 * short,
    a: 1.9779984951 * long - 2.428592205 * middle + 0.4505937099 * short,
    b: 0.0259040371 * long + 0.7827717662 * middle - 0.808675766 * short,
  };
}

const distance = (p: OkLab, q: OkLab) => Math.hypot(p.lightness - q.lightness, p.a - q.a, p.b - q.b);
const stepsOf = (shades: readonly OkLab[]) => shades.slice(1).map((shade, i) => distance(shades[i]!, shade));
const triples = (bytes: Uint8ClampedArray) =>
  Array.from({ length: bytes.length / 3 }, (_, i) => [...bytes.subarray(3 * i, 3 * i + 3)]);

describe('srgbOf: colours whose bytes are known (Ottosson 2020; CSS Color 4, sample values)', () => {
  it.each<[string, OkLab, readonly number[]]>([
    ['white', { lightness: 1, a: 0, b: 0 }, [255, 255, 255]],
    ['black', { lightness: 0, a: 0, b: 0 }, [0, 0, 0]],
    ['red', { lightness: 0.62796, a: 0.22486, b: 0.12585 }, [255, 0, 0]],
    ['green of sRGB', { lightness: 0.86644, a: -0.23389, b: 0.1795 }, [0, 255, 0]],
    ['blue', { lightness: 0.45201, a: -0.03246, b: -0.31153 }, [0, 0, 255]],
  ])('%s', (_, lab, bytes) => {
    for (const [i, part] of srgbOf(lab).entries()) expect(255 * part).toBeCloseTo(bytes[i]!, 0);
  });
});

describe.each([
  ['light', 'cold'],
  ['dark', 'cold'],
  ['light', 'warm'],
  ['dark', 'warm'],
] as const)('the ramp for a %s page, %s', (scheme, tone) => {
  const shades = ramp(scheme, tone);
  const bytes = triples(rampBytes(scheme, tone));

  it('has 256 shades, each of which a screen can show', () => {
    expect([shades.length, bytes.length]).toEqual([shadeCount, shadeCount]);
    for (const shade of shades)
      for (const part of srgbOf(shade)) {
        expect(part).toBeGreaterThanOrEqual(0);
        expect(part).toBeLessThanOrEqual(1);
      }
  });

  it('goes one way in lightness, by the same amount at every step', () => {
    const rises = shades.slice(1).map((shade, i) => shade.lightness - shades[i]!.lightness);
    expect(Math.sign(rises[0]!)).toBe(scheme === 'light' ? -1 : 1);
    expect(Math.abs(rises[0]! * (shadeCount - 1))).toBeGreaterThan(0.65);
    for (const rise of rises) expect(rise).toBeCloseTo(rises[0]!, 9);
  });

  it('takes steps of one size through OKLab', () => {
    const steps = stepsOf(shades);
    const mean = steps.reduce((sum, step) => sum + step, 0) / steps.length;
    for (const step of steps) expect(Math.abs(step / mean - 1)).toBeLessThan(0.01);
  });

  it('keeps to this in the bytes that are shown, as far as whole bytes can', () => {
    const shown = bytes.map(okLabOf);
    const every16th = shown.filter((_, i) => i % 15 === 0);
    expect(every16th.length).toBe(18);
    const lightness = every16th.map((shade) => shade.lightness);
    const rises = lightness.slice(1).map((value, i) => value - lightness[i]!);
    for (const rise of rises)
      expect(Math.abs((rise * 17) / (lightness.at(-1)! - lightness[0]!) - 1)).toBeLessThan(0.08);
    const steps = stepsOf(every16th);
    const mean = steps.reduce((sum, step) => sum + step, 0) / steps.length;
    for (const step of steps) expect(Math.abs(step / mean - 1)).toBeLessThan(0.08);
    for (let i = 1; i < shown.length; i++)
      expect(Math.sign(shown[i]!.lightness - shown[i - 1]!.lightness)).not.toBe(scheme === 'light' ? 1 : -1);
  });

  it('begins near the sheet it lies on', () => {
    const sheet = okLabOf(scheme === 'light' ? [0xfd, 0xfd, 0xfb] : [0x1e, 0x21, 0x26]);
    expect(distance(okLabOf(bytes[0]!), sheet)).toBeLessThan(0.035);
  });
});
