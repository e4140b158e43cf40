import { describe, expect, it } from 'vitest';
import { inferEverything } from '../../../core/import/import-recipe.ts';
import { renameSources } from '../../../core/review/rename-sources.ts';
import { emptyReview, type Review, type SourceFile } from '../../../core/review/review.ts';
import { partOf } from '../../build/part.ts';

const source = (file: string): SourceFile => ({
  file,
  sha256: null,
  recipe: { ...inferEverything, columns: { axis: null, amplitudes: null, captureId: null } },
  facts: [],
});
const reflector = (capture: string | null) => ({ distanceMm: 100, toleranceMm: 0, fromUs: 60, toUs: 70, capture });

const review: Review = {
  ...emptyReview,
  sources: [source('block.csv'), source('scan#2.csv')],
  manifests: [{ file: 'manifest.csv', sha256: null }],
  echoes: { captures: ['block.csv'], abovePercent: 5, fromUs: null, toUs: null },
  calibration: {
    kind: 'fit',
    captures: ['block.csv#left', 'other.csv'],
    reflectors: { kind: 'windows', list: [reflector('block.csv#left'), reflector(null)] },
    timing: 'peak',
    thresholdPercent: 20,
    nominal: null,
  },
  readings: { captures: ['scan#2.csv#x=3'], gates: [], timing: 'peak', beam: null, uAngleDeg: null, series: null },
  drift: {
    captures: ['scan#2.csv'],
    reflectors: [reflector('scan#2.csv')],
    amplitudePercent: null,
    thresholdPercent: 5,
    rangeMm: null,
    decision: 'with-uncertainty',
    rule: null,
  },
};

describe('a review whose files are called otherwise', () => {
  const renamed = renameSources(
    review,
    new Map([
      ['block.csv', 'day 1/block.csv'],
      ['scan#2.csv', '../scan#2.csv'],
      ['manifest.csv', 'day 1/manifest.csv'],
    ]),
  );

  it('knows them by their new names, in the same order', () => {
    expect(renamed.sources.map(({ file }) => file)).toEqual(['day 1/block.csv', '../scan#2.csv']);
    expect(renamed.manifests).toEqual([{ file: 'day 1/manifest.csv', sha256: null }]);
  });

  it('refers to the same captures, a trace within its file, a file with a # in its name, a file that keeps its name', () => {
    expect(renamed.echoes?.captures).toEqual(['day 1/block.csv']);
    expect(renamed.calibration).toMatchObject({
      captures: ['day 1/block.csv#left', 'other.csv'],
      reflectors: { list: [{ capture: 'day 1/block.csv#left' }, { capture: null }] },
    });
    expect(renamed.readings?.captures).toEqual(['../scan#2.csv#x=3']);
    expect(renamed.drift).toMatchObject({ captures: ['../scan#2.csv'], reflectors: [{ capture: '../scan#2.csv' }] });
  });

  it('refers to the captures of a part: where the probe stood, before and after damping, what was confirmed', () => {
    const at = { side: 'left' as const, offsetMm: 20, uOffsetMm: 0, position: 'along' as const };
    const part = partOf({
      placements: [{ ...at, captures: ['scan#2.csv#x=3'] }],
      damping: [{ before: 'block.csv#left', after: 'scan#2.csv', abovePercent: 5, uCouplingDb: 0 }],
      confirmed: [{ capture: 'block.csv', gate: 'weld', taken: 'geometry', notes: '' }],
    });
    const names = new Map([
      ['block.csv', 'day 1/block.csv'],
      ['scan#2.csv', '../scan#2.csv'],
    ]);
    expect(renameSources({ ...review, part }, names).part).toMatchObject({
      placements: [{ captures: ['../scan#2.csv#x=3'] }],
      damping: [{ before: 'day 1/block.csv#left', after: '../scan#2.csv' }],
      confirmed: [{ capture: 'day 1/block.csv', gate: 'weld' }],
    });
  });

  it('goes back to the letter', () => {
    const back = new Map([
      ['day 1/block.csv', 'block.csv'],
      ['../scan#2.csv', 'scan#2.csv'],
      ['day 1/manifest.csv', 'manifest.csv'],
    ]);
    expect(renameSources(renamed, back)).toEqual(review);
  });

  it('is the same review where no name changes', () => {
    expect(renameSources(review, new Map([['block.csv', 'block.csv']]))).toBe(review);
  });
});
