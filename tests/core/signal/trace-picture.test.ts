import { describe, expect, it } from 'vitest';
import { tracePicture } from '../../../core/signal/trace-picture.ts';

const trace = (samples: number[]) => ({ startUs: 10, stepUs: 0.5, samples: Float64Array.from(samples) });

describe('a trace drawn small', () => {
  it.each([
    ['a span before the record', 0, 9],
    ['a span behind the record', 13, 20],
    ['a span between two samples', 10.1, 10.4],
  ])('%s has no picture', (_, fromUs, toUs) => {
    expect(tracePicture(trace([1, 2, 3, 4, 5]), { fromUs, toUs, parts: 4 })).toBeNull();
  });

  it('keeps the lowest and the highest of each part, so that no crest is lost', () => {
    const picture = tracePicture(trace([0, 80, -60, 1, 2, 3, 4, -5]), { fromUs: 10, toUs: 13.5, parts: 2 });
    expect(picture).toEqual({ fromUs: 10, toUs: 13.5, lowPercent: [-60, -5], highPercent: [80, 4] });
  });

  it('takes the part of a span that the record holds, and a part for each sample where there are few', () => {
    const picture = tracePicture(trace([7, 8, 9]), { fromUs: 10.5, toUs: 99, parts: 240 });
    expect(picture).toEqual({ fromUs: 10.5, toUs: 11, lowPercent: [8, 9], highPercent: [8, 9] });
  });

  it('parts that do not divide the samples evenly hold each sample once', () => {
    const samples = Array.from({ length: 100 }, (_, i) => i);
    const { lowPercent, highPercent } = tracePicture(trace(samples), { fromUs: 0, toUs: 99, parts: 7 })!;
    expect(lowPercent).toHaveLength(7);
    expect(lowPercent[0]).toBe(0);
    expect(highPercent.at(-1)).toBe(99);
    for (let i = 1; i < 7; i++) expect(lowPercent[i]).toBe(highPercent[i - 1] + 1);
  });
});
