import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnSpans, extremaIn, extremaPyramid } from '../../../core/capture/extrema-pyramid.ts';

/** Height of the straight line from sample to sample, looked up the slow way. */
function lineHeight(samples: Float64Array, position: number): number {
  const before = Math.min(samples.length - 1, Math.floor(position));
  const after = Math.min(samples.length - 1, before + 1);
  return samples[before]! + (samples[after]! - samples[before]!) * (position - before);
}

const record = fc
  .tuple(fc.integer({ min: 1, max: 20_000 }), fc.integer())
  .map(([length, seed]) => Float64Array.from({ length }, (_, i) => ((Math.imul(i + 1, 2654435761) ^ seed) % 1000) / 7));

describe('extremaPyramid', () => {
  it.each([
    ['no samples', 0, []],
    ['one sample', 1, []],
    ['as many as a block holds need no level', 64, []],
    ['one more than a block holds', 65, [64]],
    ['one more than 64 blocks', 64 * 64 + 1, [64, 512, 4096]],
  ])('%s', (_name, length, blocks) => {
    expect(extremaPyramid(new Float64Array(length)).levels.map((level) => level.block)).toEqual(blocks);
  });
});

describe('extremaIn', () => {
  it('agrees with a plain scan on any range of any record', () => {
    fc.assert(
      fc.property(
        record,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (samples, a, b) => {
          const [first, last] = [a, b]
            .map((share) => Math.floor(share * (samples.length - 1)))
            .sort((x, y) => x - y) as [number, number];
          const scanned = samples.subarray(first, last + 1);
          expect(extremaIn(extremaPyramid(samples), { first, last })).toEqual({
            minimum: scanned.reduce((x, y) => Math.min(x, y)),
            maximum: scanned.reduce((x, y) => Math.max(x, y)),
          });
        },
      ),
      { numRuns: 300 },
    );
  });

  it('refuses a range outside the record', () => {
    expect(() => extremaIn(extremaPyramid(new Float64Array(10)), { first: 5, last: 10 })).toThrow('outside the record');
  });
});

describe('columnSpans', () => {
  it.each([
    ['an empty record has no columns', [], 0, 4, 4, 0, []],
    ['a single sample is a dot in its column', [7], -1, 1, 2, 1, []],
    ['a window before the record', [1, 2, 3], -9, -5, 4, 4, []],
    ['a window after the record', [1, 2, 3], 5, 9, 4, 0, []],
    ['one column takes all', [1, 5, -2, 0], 0, 3, 1, 0, [[-2, 5]]],
    [
      'a spike of one sample shows in both columns that its flanks cross',
      [0, 0, 9, 0, 0],
      0,
      4,
      2,
      0,
      [
        [0, 9],
        [0, 9],
      ],
    ],
    [
      'less than a sample per column: the straight line between two samples',
      [0, 4],
      0,
      1,
      4,
      0,
      [
        [0, 1],
        [1, 2],
        [2, 3],
        [3, 4],
      ],
    ],
    ['columns without record on both sides', [1, 3], -2, 3, 5, 2, [[1, 3]]],
  ])('%s', (_name, samples, from, to, columns, firstColumn, spans) => {
    const found = columnSpans(extremaPyramid(Float64Array.from(samples)), from, to, columns);
    if (spans.length > 0) expect(found.firstColumn).toBe(firstColumn);
    expect(Array.from(found.minima, (minimum, c) => [minimum, found.maxima[c]])).toEqual(spans);
  });

  it('covers in each column what the line through all samples covers, and neighbours meet', () => {
    fc.assert(
      fc.property(
        record.filter((samples) => samples.length >= 2),
        fc.double({ min: -0.5, max: 1, noNaN: true }),
        fc.double({ min: 0.001, max: 1, noNaN: true }),
        fc.integer({ min: 1, max: 50 }),
        (samples, start, share, columns) => {
          const end = samples.length - 1;
          const from = start * end;
          const to = from + share * end;
          const { firstColumn, minima, maxima } = columnSpans(extremaPyramid(samples), from, to, columns);
          const width = (to - from) / columns;
          for (let c = 0; c < minima.length; c++) {
            const left = Math.min(end, Math.max(0, from + (firstColumn + c) * width));
            const right = Math.min(end, Math.max(0, from + (firstColumn + c + 1) * width));
            const heights = [lineHeight(samples, left), lineHeight(samples, right)];
            for (let i = Math.ceil(left); i <= right; i++) heights.push(samples[i]!);
            expect(minima[c]).toBeCloseTo(Math.min(...heights), 9);
            expect(maxima[c]).toBeCloseTo(Math.max(...heights), 9);
            if (c > 0) expect(maxima[c]! >= minima[c - 1]! && minima[c]! <= maxima[c - 1]!).toBe(true);
          }
        },
      ),
      { numRuns: 200 },
    );
  });

  it('a spike of one sample in a million stands in exactly one of 1,200 columns', () => {
    const samples = new Float64Array(1_000_000);
    samples[654_321] = 97;
    const { maxima } = columnSpans(extremaPyramid(samples), 0, 999_999, 1200);
    expect(maxima.reduce((x, y) => Math.max(x, y))).toBe(97);
    expect(maxima.filter((height) => height > 0)).toHaveLength(1);
  });
});
