import { describe, expect, it } from 'vitest';
import { cutOffAbout } from '../../../core/signal/cut-off.ts';
import { highestIn } from '../../../core/signal/peak.ts';
import { trace } from '../../build/trace.ts';

// One echo above 5 from sample 2 to sample 8, another at 12; the highest sample is 5.
const envelope = Float64Array.of(0, 1, 6, 8, 9, 10, 9, 8, 6, 1, 0, 6, 10, 6, 0);

describe('the samples of an echo that were cut off', () => {
  it.each([
    { name: 'none, where nothing was', saturated: [], expected: null },
    { name: 'none of another echo’s', saturated: [{ first: 12, last: 12 }], expected: null },
    { name: 'none before the echo', saturated: [{ first: 0, last: 1 }], expected: null },
    { name: 'one run', saturated: [{ first: 4, last: 5 }], expected: { first: 4, last: 5 } },
    {
      name: 'from the first of several runs to the last',
      saturated: [
        { first: 0, last: 0 },
        { first: 3, last: 3 },
        { first: 5, last: 5 },
        { first: 7, last: 7 },
        { first: 12, last: 12 },
      ],
      expected: { first: 3, last: 7 },
    },
    {
      name: 'as far as the echo goes, of runs that begin before it and end after it',
      saturated: [
        { first: 0, last: 3 },
        { first: 8, last: 12 },
      ],
      expected: { first: 2, last: 8 },
    },
  ])('$name', ({ saturated, expected }) => expect(cutOffAbout({ envelope, saturated }, 5)).toEqual(expected));
});

describe('the time of an echo that is cut off', () => {
  it.each([120, 180, 300])('says that its peak, of %d %%, may lie anywhere on the crest', (amplitudePercent) => {
    const conditioned = trace()
      .record(0, 2000)
      .burst({ timeUs: 10.003, amplitudePercent })
      .noise(0.2)
      .clippedAt(100)
      .quantised(8)
      .conditioned();
    const { timeUs, uTimeUs, index } = highestIn(conditioned, { first: 900, last: 1100 })!;
    const crest = cutOffAbout(conditioned, index)!;
    const widthUs = (crest.last - crest.first) / 100;
    // A rectangle: from u = width/√12 in its middle to width/√3 at its end (JCGM 100:2008, 4.3.7, from memory).
    expect(uTimeUs).toBeGreaterThan((0.99 * widthUs) / Math.sqrt(12));
    expect(uTimeUs).toBeLessThan((1.01 * widthUs) / Math.sqrt(3) + 0.005);
    expect(Math.abs(timeUs - 10.003)).toBeLessThan(2 * uTimeUs!);
  });
});
