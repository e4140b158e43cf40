import { describe, expect, it } from 'vitest';
import { echoSigma } from '../../../core/signal/echo-sigma.ts';
import { highestIn } from '../../../core/signal/peak.ts';
import { logParabola, threePoint } from '../../../core/signal/vertex.ts';
import { trace } from '../../build/trace.ts';

const of = (values: readonly number[]) => Float64Array.from(values);
const built = trace().record(0, 3000).burst({ timeUs: 15.003, amplitudePercent: 60 });

describe('where no vertex can be had', () => {
  it.each([
    { name: 'the record’s first sample', values: [5, 4, 3], index: 0 },
    { name: 'its last', values: [3, 4, 5], index: 2 },
    { name: 'a flat top', values: [4, 4, 4], index: 1 },
    { name: 'one sample', values: [4], index: 0 },
  ])('$name', ({ values, index }) => {
    expect(threePoint(of(values), index)).toBeNull();
    expect(logParabola(of(values), index)).toBeNull();
  });
});

describe('the highest point of a range', () => {
  const echo = built.conditioned();

  it.each([
    { name: 'an empty range', range: { first: 200, last: 100 } },
    { name: 'a range outside the record', range: { first: 4000, last: 5000 } },
  ])('$name has none', ({ range }) => expect(highestIn(echo, range)).toBeNull());

  it('a trace of zeros has none', () => {
    expect(highestIn(trace().record(0, 100).conditioned(), { first: 0, last: 99 })).toBeNull();
  });

  it('lies between samples, at the burst’s own time and height', () => {
    const peak = highestIn(echo, { first: 1000, last: 2000 });
    expect(peak?.timeUs).toBeCloseTo(15.003, 4);
    expect(peak?.amplitudePercent).toBeCloseTo(60, 1);
    expect(peak?.atEdge).toBe(false);
  });

  it.each([
    { name: 'on the rising flank', range: { first: 1000, last: 1490 }, index: 1490 },
    { name: 'on the falling flank', range: { first: 1510, last: 2000 }, index: 1510 },
  ])('at the edge of a range that ends $name it is that sample, and said to be at the edge', ({ range, index }) => {
    const peak = highestIn(echo, range);
    expect(peak).toMatchObject({
      index,
      atEdge: true,
      uTimeUs: null,
      timeUs: index / 100,
      from: { first: index, last: index },
    });
    expect(peak?.amplitudePercent).toBe(echo.envelope[index]);
  });

  it('a range that ends on the very peak is not cut', () => {
    expect(highestIn(echo, { first: 1000, last: 1500 })?.atEdge).toBe(false);
  });

  it('has an uncertainty where there is a quiet part, and rises with the noise', () => {
    const stated = [0.1, 0.4, 1.6].map(
      (noise) => highestIn(built.noise(noise).conditioned(), { first: 1000, last: 2000 })?.uTimeUs ?? Number.NaN,
    );
    expect(stated[1] / stated[0]).toBeGreaterThan(3);
    expect(stated[1] / stated[0]).toBeLessThan(5);
    expect(stated[2] / stated[1]).toBeGreaterThan(3);
  });

  it('is of little use where only the burst itself was captured, and says so', () => {
    const only = trace().record(14.8, 40).burst({ timeUs: 15, amplitudePercent: 60 }).conditioned();
    expect(highestIn(only, { first: 0, last: 39 })?.uTimeUs).toBeGreaterThan(0.02);
  });

  it('has none where the record has fewer samples than a noise can be told from', () => {
    const short = trace().record(14.9, 20).burst({ timeUs: 15, amplitudePercent: 60 }).conditioned();
    expect(highestIn(short, { first: 0, last: 19 })?.uTimeUs).toBeNull();
  });
});

describe('the half width of an echo', () => {
  const gauss = (i: number, middle: number, sigma: number) => Math.exp(-0.5 * ((i - middle) / sigma) ** 2);

  it('is σ of a Gaussian', () => {
    const values = Float64Array.from({ length: 200 }, (_, i) => gauss(i, 100, 12));
    expect(echoSigma(values, 100)).toBeCloseTo(12, 1);
  });

  it('comes from the free side where another echo stands on the other', () => {
    const values = Float64Array.from({ length: 300 }, (_, i) => Math.max(gauss(i, 100, 12), 1.2 * gauss(i, 124, 12)));
    expect(echoSigma(values, 100)).toBeCloseTo(12, 1);
  });

  it('is unknown where neither side comes down', () => {
    expect(echoSigma(of([3, 3.1, 3.2, 3.1, 3]), 2)).toBeNull();
  });
});
