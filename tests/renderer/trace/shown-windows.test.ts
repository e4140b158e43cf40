import { describe, expect, it } from 'vitest';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import { noGain, noTimeBase, noTwoEcho } from '../../../renderer/audit/linearity-decision.ts';
import type { Procedure } from '../../../renderer/state/workbench-state.ts';
import { shownWindows } from '../../../renderer/trace/shown-windows.ts';

const review: Review = {
  ...emptyReview,
  linearity: {
    timeBase: {
      ...noTimeBase,
      captures: ['a.csv'],
      reflectors: { kind: 'equally-spaced', fromUs: 5, toUs: 95, abovePercent: 5, spacingMm: null },
    },
    screenHeight: { ...noTwoEcho, captures: ['b.csv'], larger: { fromUs: 10, toUs: 12 } },
    gain: { ...noGain, captures: ['c.csv#2'], window: { fromUs: 20, toUs: 22 } },
  },
};

const shown = (procedure: Procedure, file: string, trace = '1') =>
  shownWindows(review, procedure, { id: `${file}#${trace}`, file })?.map(({ name, fromUs, toUs }) => [
    name,
    fromUs,
    toUs,
  ]) ?? null;

describe('the windows of the procedure in sight', () => {
  it.each([
    ['that of the back-wall echoes', 'time-base' as const, 'a.csv', '1', [['back-wall echoes', 5, 95]]],
    ['of two echoes the one that is given', 'screen-height' as const, 'b.csv', '1', [['larger echo', 10, 12]]],
    ['that of one capture among several', 'gain' as const, 'c.csv', '2', [['echo', 20, 22]]],
    ['none on another capture of that file', 'gain' as const, 'c.csv', '1', []],
    ['none on a capture that the check does not use', 'time-base' as const, 'b.csv', '1', []],
  ])('%s', (_, procedure, file, trace, windows) => {
    expect(shown(procedure, file, trace)).toEqual(windows);
  });

  it.each(['import', 'calibration', 'readings', 'verdicts'] as const)('%s has none of its own', (procedure) => {
    expect(shown(procedure, 'a.csv')).toBeNull();
  });
});
