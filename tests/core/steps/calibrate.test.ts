import { describe, expect, it } from 'vitest';
import { evaluate } from '../../../core/evaluate.ts';
import { type CalibrationFit, emptyReview } from '../../../core/review/review.ts';
import { trace } from '../../build/trace.ts';

/** Transverse waves at 3,240 m/s behind a zero offset of 7.3 µs. */
const timeUs = (pathMm: number): number => 7.3 + (2 * pathMm) / 3.24;
const echo = (pathMm: number, amplitudePercent: number) => ({
  timeUs: timeUs(pathMm),
  amplitudePercent,
  frequencyMHz: 4,
});
const capture = trace()
  .record(50, 30_000)
  .burst(echo(100, 80))
  .burst(echo(225, 42))
  .burst(echo(350, 12))
  .noise(0.2)
  .named('block.csv')
  .capture();

const byBlock: CalibrationFit = {
  kind: 'fit',
  captures: ['block.csv'],
  reflectors: { kind: 'block', name: 'iso-2400/quadrant-return-25' },
  timing: 'peak',
  thresholdPercent: 20,
  nominal: null,
};
const window = (distanceMm: number) => ({
  distanceMm,
  toleranceMm: 0,
  fromUs: timeUs(distanceMm) - 3,
  toUs: timeUs(distanceMm) + 3,
  capture: null,
});
const byWindows: CalibrationFit = { ...byBlock, reflectors: { kind: 'windows', list: [window(100), window(225)] } };
const calibrated = (calibration: CalibrationFit) =>
  evaluate({ ...emptyReview, calibration }, [capture]).calibration ?? expect.fail('nothing was calibrated');

describe('the timing that was chosen', () => {
  it.each(['peak', 'crossing'] as const)('by %s gives the same times by a block as by windows', (timing) => {
    const block = calibrated({ ...byBlock, timing }).points.slice(0, 2);
    const windows = calibrated({ ...byWindows, timing }).points;
    expect(block.map(({ distanceMm }) => distanceMm)).toEqual([100, 225]);
    expect(windows).toHaveLength(2);
    block.forEach((point, i) => {
      expect(point.timeUs).toBeCloseTo(windows[i]!.timeUs, 9);
      expect(point.uTimeUs).toBeCloseTo(windows[i]!.uTimeUs!, 9);
      expect(point.amplitudePercent).toBeCloseTo(windows[i]!.amplitudePercent!, 9);
    });
  });

  it('by crossing is earlier than by peak, and the samples about the crossing are named with the peak’s', () => {
    const byPeak = calibrated(byBlock).points;
    const byCrossing = calibrated({ ...byBlock, timing: 'crossing' }).points;
    expect(byCrossing).toHaveLength(2);
    byCrossing.forEach((point, i) => {
      expect(point.timeUs).toBeLessThan(byPeak[i]!.timeUs - 0.05);
      const crossedAt = (point.timeUs - 50) * 100;
      expect(point.from!.first).toBeLessThanOrEqual(crossedAt);
      expect(point.from!.last).toBe(byPeak[i]!.from!.last);
    });
  });

  it('by crossing leaves out, by name, an echo that stays below the threshold', () => {
    expect(calibrated(byBlock).points.map(({ distanceMm }) => distanceMm)).toEqual([100, 225, 350]);
    const { points, unmatchedEchoes } = calibrated({ ...byBlock, timing: 'crossing' });
    expect(points.map(({ distanceMm }) => distanceMm)).toEqual([100, 225]);
    expect(unmatchedEchoes.map(({ name }) => name)).toEqual([
      'reflector at 350 mm, whose flank does not rise through 20 % by itself',
    ]);
  });

  it('by crossing of echoes of unequal heights is doubted, by a block too', () => {
    expect(calibrated(byBlock).doubts.map(({ flag }) => flag)).not.toContain('unequal-heights');
    for (const decision of [byBlock, byWindows]) {
      expect(calibrated({ ...decision, timing: 'crossing' }).doubts.map(({ flag }) => flag)).toContain(
        'unequal-heights',
      );
    }
  });
});
