import { describe, expect, it } from 'vitest';
import { publishedBlocks } from '../../../core/block/published-blocks.ts';
import type { CalibrationFit } from '../../../core/review/review.ts';
import type { CalibrationResult } from '../../../core/steps/calibrate.ts';
import {
  blockOptions,
  chosenOption,
  echoRows,
  knownDistances,
  nothingDecided,
  retaken,
} from '../../../renderer/procedures/calibration-decision.ts';
import { calibrated } from '../../build/calibration.ts';

const calibration = calibrated(3240, 7.3, { distancesMm: [100, 225, 350] });
const points = calibration.points.map((point) => ({ ...point, captureId: 'block.csv#a' }));
const slot = { captureId: 'block.csv#a', timeUs: 66.8, amplitudePercent: 12, name: 'slot' };
const result: CalibrationResult = {
  calibration: { ...calibration, points },
  points,
  unmatchedEchoes: [slot],
  doubts: [],
  problems: [],
};
const byBlock: CalibrationFit = {
  ...nothingDecided,
  captures: ['block.csv'],
  reflectors: { kind: 'block', name: 'iso-2400/quadrant-return-25' },
};

describe('blocks to choose from', () => {
  it('every published block stands there once, under a heading', () => {
    expect(blockOptions.filter(({ id }) => publishedBlocks.some(({ name }) => name === id))).toHaveLength(
      publishedBlocks.length,
    );
    expect(blockOptions.every(({ group }) => group !== undefined && group !== '')).toBe(true);
    expect(blockOptions.find(({ id }) => id === 'iso-7963/25')?.group).toBe('ISO 7963');
  });
  it.each<[CalibrationFit['reflectors'], string | null]>([
    [{ kind: 'windows', list: [] }, null],
    [{ kind: 'block', name: 'iso-7963/25' }, 'iso-7963/25'],
    [{ kind: 'block', name: 'steps/10mm,20mm' }, 'own'],
    [{ kind: 'windows', list: [{ distanceMm: 10, toleranceMm: 0, fromUs: 1, toUs: 2, capture: null }] }, 'windows'],
  ])('%o stands for %s', (reflectors, option) => {
    expect(chosenOption({ ...nothingDecided, reflectors })).toBe(option);
  });
});

describe('the echoes of a calibration', () => {
  it('in order of time, matched and unmatched together', () => {
    expect(echoRows(result).map(({ distanceMm, name }) => distanceMm ?? name)).toEqual(['slot', 100, 225, 350]);
  });
  it('those found stand there without residuals where no fit comes of them', () => {
    const rows = echoRows({ ...result, calibration: null });
    expect(rows.map(({ distanceMm, residualMm }) => [distanceMm, residualMm])).toEqual([
      [null, null],
      [100, null],
      [225, null],
      [350, null],
    ]);
  });
  it('nothing found has no rows', () => {
    expect(echoRows({ calibration: null, points: [], unmatchedEchoes: [], doubts: [], problems: [] })).toEqual([]);
  });
  it('may be taken for the distances of the block, or for those given', () => {
    expect(knownDistances(byBlock).slice(0, 3)).toEqual([100, 225, 350]);
    expect(knownDistances(nothingDecided)).toEqual([]);
  });
});

describe('an echo taken for another reflector', () => {
  const rows = echoRows(result);
  const windows = (decision: CalibrationFit) =>
    decision.reflectors.kind === 'windows' ? decision.reflectors.list : [];

  it('whoever had that distance loses it, and every echo has a window of its own', () => {
    const list = windows(retaken(byBlock, rows, rows[0]!, 100));
    expect(list.map(({ distanceMm }) => distanceMm)).toEqual([100, 225, 350]);
    expect(list[0]!.fromUs).toBeLessThan(66.8);
    expect(list[0]!.toUs).toBeLessThan(rows[1]!.timeUs);
    expect(list.every(({ capture }) => capture === 'block.csv#a')).toBe(true);
  });
  it('the threshold comes down so far that the lowest of them is found', () => {
    expect(retaken(byBlock, rows, rows[0]!, 100).thresholdPercent).toBe(6);
    expect(retaken(byBlock, rows, rows[3]!, null).thresholdPercent).toBe(20);
  });
  it('an echo taken for none leaves the others', () => {
    expect(windows(retaken(byBlock, rows, rows[3]!, null)).map(({ distanceMm }) => distanceMm)).toEqual([100, 225]);
  });
  it('a block’s tolerance goes over to the windows: distances are not exact of a sudden', () => {
    const list = windows(retaken(byBlock, rows, rows[0]!, null));
    expect(list.every(({ toleranceMm }) => toleranceMm >= 0.1)).toBe(true);
  });
  it('a tolerance that was stated stays', () => {
    const stated = retaken(byBlock, rows, rows[0]!, null);
    const own: CalibrationFit = {
      ...stated,
      reflectors: { kind: 'windows', list: windows(stated).map((w) => ({ ...w, toleranceMm: 0.02 })) },
    };
    expect(windows(retaken(own, rows, rows[3]!, null)).map(({ toleranceMm }) => toleranceMm)).toEqual([0.02, 0.02]);
  });
});
