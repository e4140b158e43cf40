import { describe, expect, it } from 'vitest';
import { mixedTiming } from '../../../core/steps/mixed-timing.ts';

describe('one timing rule for the calibration and for what is read with it', () => {
  it.each([
    ['both by peak', 'peak', 'peak', null],
    ['both by crossing', 'crossing', 'crossing', null],
    ['no calibration', null, 'crossing', null],
    ['calibrated by crossing, read by peak', 'crossing', 'peak', /timed by crossing .* timed by peak/],
    ['calibrated by peak, read by crossing', 'peak', 'crossing', /timed by peak .* timed by crossing/],
  ] as const)('%s', (_, calibration, readings, sentence) => {
    const said = mixedTiming(calibration, readings);
    if (sentence === null) expect(said).toBeNull();
    else expect(said).toMatch(sentence);
  });
});
