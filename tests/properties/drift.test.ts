import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgeDrift } from '../../core/check/drift.ts';
import { publishedRules } from '../../core/check/rule.ts';
import { calibrated } from '../build/calibration.ts';
import { normal } from '../build/random.ts';

const iso = publishedRules.find((rule) => rule.name === 'iso-17640')!;
const uTimeUs = 0.005;

/** One check at these distances, its zero offset and velocity moved, with timing noise (in µs) added to each echo. */
function checkOf(distancesMm: number[], offsetUs: number, velocityMPerS: number, noiseUs: number[] = []) {
  return {
    captureId: 'check.csv',
    takenAt: null,
    gainDb: null,
    reflectors: distancesMm.map((distanceMm, i) => ({
      distanceMm,
      timeUs: {
        value: 7.3 + offsetUs + (2000 * distanceMm) / velocityMPerS + (noiseUs[i] ?? 0),
        standardUncertainty: uTimeUs,
      },
      amplitudePercent: 80,
      signalToNoiseDb: 60,
      flags: [],
      from: null,
    })),
  };
}

function judged(check: ReturnType<typeof checkOf>, calibration = calibrated(3240, 7.3, { uTimeUs })) {
  const reference = check.reflectors.map(({ distanceMm }) => ({ distanceMm, amplitudePercent: 80, gainDb: null }));
  const outcome = judgeDrift({ checks: [check], calibration, reference, rule: iso, rangeMm: 250 });
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.sentence).join('; '));
  return outcome.value.checks[0];
}

describe('a drift check', () => {
  it('gives back the zero offset and the velocity that were moved, whatever the reflectors', () => {
    const distances = fc.uniqueArray(fc.integer({ min: 5, max: 400 }), { minLength: 2, maxLength: 6 });
    fc.assert(
      fc.property(
        distances,
        fc.double({ min: -2, max: 2, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        (at, offset, percent) => {
          const check = judged(checkOf(at, offset, 3240 * (1 + percent / 100)));
          expect(check.zeroOffsetChangeUs!.value).toBeCloseTo(offset, 8);
          expect(check.velocityChangePercent!.value).toBeCloseTo(percent, 8);
        },
      ),
    );
  });

  it('errs by the same length at every reflector when the zero offset alone has moved', () => {
    fc.assert(
      fc.property(fc.double({ min: -2, max: 2, noNaN: true }), (offset) => {
        for (const { distanceErrorMm } of judged(checkOf([50, 100, 225], offset, 3240)).reflectors) {
          expect(distanceErrorMm!.value).toBeCloseTo(1.62 * offset, 9);
        }
      }),
    );
  });

  it('never passes what simple acceptance fails', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -6, max: 6, noNaN: true }),
        fc.double({ min: -5, max: 5, noNaN: true }),
        (offset, percent) => {
          const check = judged(checkOf([100, 225], offset, 3240 * (1 + percent / 100)));
          const worst = Math.max(...check.reflectors.map((r) => Math.abs(r.distanceErrorMm!.value)));
          if (check.verdict === 'pass') expect(worst).toBeLessThanOrEqual(5);
          if (check.verdict === 'fail') expect(worst).toBeGreaterThan(5);
        },
      ),
    );
  });
});

describe('how sure a drift check is (2,000 seeded pairs of a calibration and a check, timing noise of 5 ns in both)', () => {
  const pairs = 2000;
  const runs = (offsetUs: number, velocityMPerS: number) => {
    const causes = new Map<string | null, number>();
    let held = 0;
    for (let seed = 1; seed <= pairs; seed++) {
      const random = normal(seed);
      const noise = () => uTimeUs * random();
      const before = calibrated(3240, 7.3, { uTimeUs, noiseUs: [noise(), noise()] });
      const check = judged(checkOf([100, 225], offsetUs, velocityMPerS, [noise(), noise()]), before);
      causes.set(check.cause, (causes.get(check.cause) ?? 0) + 1);
      const { value, standardUncertainty } = check.zeroOffsetChangeUs!;
      if (Math.abs(value - offsetUs) <= 2 * standardUncertainty!) held++;
    }
    return { causes, held: held / pairs };
  };

  it('twice the stated uncertainty of the change of zero offset holds the truth in 94 to 97 of 100', () => {
    const { held } = runs(0.1, 3240);
    expect(held).toBeGreaterThan(0.94);
    expect(held).toBeLessThan(0.97);
  });

  it('without any drift says so in at least 90 of 100', () => {
    expect(runs(0, 3240).causes.get('none')! / pairs).toBeGreaterThan(0.9);
  });

  it.each<[string, number, number, string]>([
    ['the zero offset moved by 0.1 µs', 0.1, 3240, 'zero-offset'],
    ['the velocity moved by 0.2 %', 0, 3240 * 1.002, 'velocity'],
  ])('%s: told right in at least 90 of 100, and never taken for the other alone', (_, offsetUs, velocity, cause) => {
    const { causes } = runs(offsetUs, velocity);
    expect(causes.get(cause)! / pairs).toBeGreaterThan(0.9);
    expect(causes.get(cause === 'velocity' ? 'zero-offset' : 'velocity') ?? 0).toBe(0);
  });
});
