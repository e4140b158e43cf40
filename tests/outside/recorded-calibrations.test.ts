import { existsSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Capture } from '../../core/capture/capture.ts';
import { evaluate } from '../../core/evaluate.ts';
import { importBytes } from '../../core/import/import-file.ts';
import { type ImportRecipe, inferEverything } from '../../core/import/import-recipe.ts';
import { type CalibrationFit, emptyReview, type Reflector } from '../../core/review/review.ts';

/** Real recordings in the shared data folder; each row's truth stands in that folder's README. */
const data = fileURLToPath(new URL('../../../shared/data/', import.meta.url));
const isThere = existsSync(data);
const where = isThere ? '' : ' (skipped: the shared data folder is not here)';

function captureOf(path: string, stated: Partial<ImportRecipe> = {}): Capture {
  const imported = importBytes(basename(path), readFileSync(data + path), { ...inferEverything, ...stated }, null);
  if (!imported.ok) throw new Error(imported.problems[0].sentence);
  expect(imported.value.asks).toEqual([]);
  return imported.value.captures[0];
}

function calibrated(
  capture: Capture,
  reflectors: readonly [distanceMm: number, fromUs: number, toUs: number][],
  nominal: CalibrationFit['nominal'] = null,
) {
  const list: Reflector[] = reflectors.map(([distanceMm, fromUs, toUs]) => ({
    distanceMm,
    toleranceMm: 0,
    fromUs,
    toUs,
    capture: null,
  }));
  const review = {
    ...emptyReview,
    calibration: {
      kind: 'fit',
      captures: [capture.file],
      reflectors: { kind: 'windows', list },
      timing: 'peak',
      thresholdPercent: 4,
      nominal,
    } as const,
  };
  const { calibration, problems } = evaluate(
    { ...review, calibration: { ...review.calibration, captures: [capture.file] } },
    [capture],
  );
  expect(problems).toEqual([]);
  return { ...calibration!.calibration!, doubts: calibration!.doubts };
}

describe.skipIf(!isThere)(`aluminium, 40 mm, two back walls (ndtatbristol/arim, MIT)${where}`, () => {
  const stated = { amplitudeUnit: 'fraction' } as const;
  const walls = [
    [40, 12, 14],
    [80, 24, 27],
  ] as const;

  it.each(['contact_element02.csv', 'contact_element41.csv'])('%s: 6410 m/s and 0.454 µs by envelope', (file) => {
    const { velocityMPerS, zeroOffsetUs } = calibrated(
      captureOf(`aluminium-contact/${file}`, stated),
      walls.map((wall) => [...wall]),
    );
    // The published medians are over 64 elements whose walls spread by 0.013 and 0.017 µs: 3 spreads of each, carried through the line.
    expect(Math.abs(velocityMPerS.value - 6410)).toBeLessThan((6410 * 3 * Math.hypot(0.013, 0.017)) / 12.483);
    expect(Math.abs(zeroOffsetUs.value - 0.454)).toBeLessThan(3 * Math.hypot(2 * 0.013, 0.017));
  });

  it('the first wall alone, read without the zero offset, would give 41.5 mm: fitting both is what mends it', () => {
    const { points, velocityMPerS } = calibrated(
      captureOf('aluminium-contact/contact_element02.csv', stated),
      walls.map((wall) => [...wall]),
    );
    expect((points[0].timeUs * velocityMPerS.value) / 2000).toBeCloseTo(41.5, 0);
    expect(points[0].distanceMm).toBe(40);
  });
});

describe.skipIf(!isThere)(
  `steps of 1018 steel under water (kelu124/pic0rick, TAPR Open Hardware Licence)${where}`,
  () => {
    it('10 mm: the steel echoes behind the front wall give 5930 ± 40 m/s', () => {
      const { velocityMPerS } = calibrated(captureOf('steel-step-block/10mm-gain-200.csv'), [
        [10, 40.4, 41.2],
        [20, 43.8, 44.6],
        [30, 47.2, 47.9],
      ]);
      expect(Math.abs(velocityMPerS.value - 5930)).toBeLessThanOrEqual(40);
    });

    it('25 mm: the second steel echo hides under a water echo, and the 7 % too high velocity does not come without a doubt', () => {
      const reflectors: [number, number, number][] = [
        [25, 25, 26],
        [50, 33, 34.5],
      ];
      const capture = captureOf('steel-step-block/25mm-gain-050.csv');
      const { points, velocityMPerS } = calibrated(capture, reflectors);
      expect(velocityMPerS.value).toBeGreaterThan(6300);
      expect(points[1].flags).toContain('ambiguous-echo');
      const { flags, doubts } = calibrated(capture, reflectors, { material: 'steel', mode: 'longitudinal' });
      expect(flags).toContain('velocity-implausible');
      expect(doubts.map((doubt) => doubt.sentence).join()).toMatch(/steel/);
    });

    it('gain 300: the clipped front echo is marked as a lower bound', () => {
      const capture = captureOf('steel-step-block/10mm-gain-300.csv');
      const review = {
        ...emptyReview,
        readings: {
          captures: [capture.file],
          gates: [{ name: 'front wall', span: { axis: 'time' as const, fromUs: 36, toUs: 39 }, thresholdPercent: 20 }],
          timing: 'peak' as const,
          beam: null,
          uAngleDeg: null,
          series: null,
        },
      };
      const [reading] = evaluate(review, [capture]).readings!.readings;
      expect(reading.flags).toContain('saturated');
      expect(reading.amplitudePercent).toBeGreaterThanOrEqual(99);
    });

    it('gain 0 to 100 to 200 on one step: the steel echo rises by 8.3 to 8.7 and 9.3 to 10.4 dB', () => {
      const heights = ['000', '100', '200'].map((gain) => {
        const capture = captureOf(`steel-step-block/10mm-gain-${gain}.csv`);
        const review = {
          ...emptyReview,
          readings: {
            captures: [capture.file],
            gates: [{ name: 'steel', span: { axis: 'time' as const, fromUs: 40.3, toUs: 41.4 }, thresholdPercent: 1 }],
            timing: 'peak' as const,
            beam: null,
            uAngleDeg: null,
            series: null,
          },
        };
        return evaluate(review, [capture]).readings!.readings[0].amplitudePercent!;
      });
      const rise = (i: number): number => 20 * Math.log10(heights[i + 1] / heights[i]);
      expect(rise(0)).toBeGreaterThan(8.2);
      expect(rise(0)).toBeLessThan(8.8);
      expect(rise(1)).toBeGreaterThan(9.2);
      expect(rise(1)).toBeLessThan(10.5);
    });
  },
);
