import { describe, expect, it } from 'vitest';
import type { Reflector, Review } from '../../../core/review/review.ts';
import { withReflector } from '../../../renderer/trace/chosen-reflector.ts';

const reflector = (distanceMm: number, fromUs = distanceMm): Reflector => ({
  distanceMm,
  toleranceMm: 0,
  fromUs,
  toUs: fromUs + 5,
  capture: null,
});

const byWindows: NonNullable<Review['calibration']> = {
  kind: 'fit',
  captures: ['a.csv'],
  reflectors: { kind: 'windows', list: [reflector(100)] },
  timing: 'crossing',
  thresholdPercent: 30,
  nominal: { material: 'steel', mode: 'transverse' },
};

const distances = (calibration: ReturnType<typeof withReflector>) =>
  calibration.reflectors.kind === 'windows' ? calibration.reflectors.list.map(({ distanceMm }) => distanceMm) : [];

describe('withReflector', () => {
  it('begins a calibration where there is none, with a threshold below the echo', () => {
    const begun = withReflector(null, 'a.csv', reflector(100), 80);
    expect(begun).toMatchObject({ kind: 'fit', captures: ['a.csv'], timing: 'peak', thresholdPercent: 20 });
    expect(distances(begun)).toEqual([100]);
    expect(withReflector(null, 'a.csv', reflector(100), 12).thresholdPercent).toBe(6);
  });
  it('adds to one by windows, in order of distance, and keeps what was decided', () => {
    const added = withReflector(byWindows, 'a.csv', reflector(50), 80);
    expect(added).toMatchObject({ timing: 'crossing', thresholdPercent: 30, nominal: { material: 'steel' } });
    expect(distances(added)).toEqual([50, 100]);
  });
  it('a second one at the same distance takes the first one’s place', () => {
    const again = withReflector(byWindows, 'a.csv', reflector(100, 70), 80);
    expect(again.reflectors).toEqual({ kind: 'windows', list: [reflector(100, 70)] });
  });
  it('an echo of another capture brings that capture in, once', () => {
    const added = withReflector(byWindows, 'b.csv', reflector(225), 80);
    expect(added.captures).toEqual(['a.csv', 'b.csv']);
    expect(withReflector(added, 'b.csv', reflector(350), 80).captures).toEqual(['a.csv', 'b.csv']);
  });
  it('one from a block is begun anew by windows, by the same rule of timing', () => {
    const fromBlock = { ...byWindows, reflectors: { kind: 'block', name: 'some block' } } as const;
    const begun = withReflector(fromBlock, 'b.csv', reflector(225), 80);
    expect(distances(begun)).toEqual([225]);
    expect(begun).toMatchObject({ captures: ['b.csv'], timing: 'crossing' });
  });
});
