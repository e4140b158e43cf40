import { describe, expect, it } from 'vitest';
import { fitDistance } from '../../../core/calibration/distance.ts';
import type { CalibrationFit, Reflector } from '../../../core/review/review.ts';
import { shownReflectors } from '../../../renderer/trace/shown-reflectors.ts';

const capture = { id: 'a.csv#first', file: 'a.csv', startUs: 5, stepUs: 0.01 };

const window = (distanceMm: number, of: string | null): Reflector => ({
  distanceMm,
  toleranceMm: 0,
  fromUs: distanceMm,
  toUs: distanceMm + 5,
  capture: of,
});

const by = (reflectors: CalibrationFit['reflectors'], captures: string[]): CalibrationFit => ({
  kind: 'fit',
  captures,
  reflectors,
  timing: 'peak',
  thresholdPercent: 20,
  nominal: null,
});

const distances = (...found: Parameters<typeof shownReflectors>) => shownReflectors(...found).map((r) => r.distanceMm);

describe('shownReflectors', () => {
  const list = [window(100, null), window(225, 'a.csv#first'), window(350, 'b.csv')];
  it.each([
    ['no calibration', null, []],
    ['of other captures', by({ kind: 'windows', list }, ['b.csv']), []],
    ['the windows that look into this capture', by({ kind: 'windows', list }, ['b.csv', 'a.csv']), [100, 225]],
    ['of a block, before it was matched', by({ kind: 'block', name: 'some block' }, ['a.csv']), []],
  ])('%s', (_name, decision, expected) => {
    expect(distances(decision, null, capture)).toEqual(expected);
  });

  it('of a block: the samples that its echoes were read from, in this capture', () => {
    const point = (distanceMm: number, captureId: string) => ({
      distanceMm,
      uDistanceMm: 0,
      timeUs: 10 + distanceMm,
      uTimeUs: 0.01,
      amplitudePercent: 80,
      captureId,
      from: { first: 100 * distanceMm, last: 100 * distanceMm + 40 },
      flags: [],
    });
    const fit = fitDistance([point(1, capture.id), point(2, 'b.csv')]);
    if (!fit.ok) return expect.fail('two points make a line');
    const result = { calibration: fit.value, points: [], unmatchedEchoes: [], doubts: [], problems: [] };
    const [shown, ...others] = shownReflectors(by({ kind: 'block', name: 'b' }, ['a.csv', 'b.csv']), result, capture);
    expect(others).toEqual([]);
    expect(shown!.distanceMm).toBe(1);
    expect(shown!.fromUs).toBeCloseTo(6, 12);
    expect(shown!.toUs).toBeCloseTo(6.4, 12);
  });
});
