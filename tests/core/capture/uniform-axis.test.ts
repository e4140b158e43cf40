import { describe, expect, it } from 'vitest';
import { resampleLinear } from '../../../core/capture/resample.ts';
import { AxisCheck, type AxisVerdict } from '../../../core/capture/uniform-axis.ts';
import { uniformStep } from '../../../core/capture/uniform-step.ts';

function judge(stamps: readonly number[]): AxisVerdict {
  const check = new AxisCheck();
  check.push(Float64Array.from(stamps), 0, 1, stamps.length);
  return check.verdict();
}

const series = (count: number, stamp: (i: number) => number) => Array.from({ length: count }, (_, i) => stamp(i));
const withGap = (count: number, at: number, stamp: (i: number) => number) =>
  series(count, (i) => stamp(i < at ? i : i + 1));

describe('an axis that cannot be one', () => {
  it.each([
    { name: 'no stamp', stamps: [], verdict: { kind: 'too-short', count: 0 } },
    { name: 'one stamp', stamps: [3], verdict: { kind: 'too-short', count: 1 } },
    { name: 'two equal stamps', stamps: [3, 3], verdict: { kind: 'zero-step', index: 1 } },
    { name: 'all stamps equal', stamps: [5, 5, 5, 5], verdict: { kind: 'zero-step', index: 1 } },
    { name: 'one stamp twice', stamps: [0, 1, 2, 2, 3, 4], verdict: { kind: 'repeated', index: 3, count: 1 } },
    { name: 'falling', stamps: [3, 2, 1, 0], verdict: { kind: 'backward', index: 1 } },
    { name: 'two records in a row', stamps: [0, 1, 2, 3, 0, 1, 2, 3], verdict: { kind: 'backward', index: 4 } },
  ])('$name', ({ stamps, verdict }) => {
    expect(judge(stamps)).toEqual(verdict);
  });

  it('stamps repeated by too few digits are counted: 99 steps, of which 30 rise', () => {
    expect(judge(series(100, (i) => Math.round(i * 0.3)))).toMatchObject({ kind: 'repeated', index: 1, count: 69 });
  });
});

describe('an uneven axis names the stamp after the jump', () => {
  it.each([
    { name: 'a missing sample early', stamps: withGap(100, 3, (i) => i * 0.01), index: 3 },
    { name: 'a missing sample in the middle', stamps: withGap(2000, 1000, (i) => i * 0.01), index: 1000 },
    { name: 'a missing sample at the end', stamps: withGap(2000, 1999, (i) => i * 0.01), index: 1999 },
    {
      name: 'a missing sample where the step is two units of the last digit',
      stamps: withGap(2000, 1000, (i) => Math.round(i * 2) / 100),
      index: 1000,
    },
    {
      name: 'a missing sample behind 100,000 others',
      stamps: withGap(120_000, 100_000, (i) => i * 0.01),
      index: 100_000,
    },
    { name: 'a missing sample among six, which rounding could explain', stamps: [0, 1, 2, 4, 5], index: 3 },
    {
      name: 'a missing sample just where rounding of a longer step would jump',
      stamps: withGap(1001, 501, (i) => i),
      index: 501,
    },
    {
      name: 'two missing samples at a third and two thirds',
      stamps: series(999, (i) => i + Math.floor((i + 167) / 333)),
      index: 166,
    },
    { name: 'two rates', stamps: series(1000, (i) => (i < 500 ? i : 500 + (i - 500) * 2)), index: 501 },
    { name: 'one stamp a third of a step late', stamps: series(1000, (i) => (i === 600 ? i + 1 / 3 : i)), index: 600 },
  ])('$name', ({ stamps, index }) => {
    expect(judge(stamps)).toMatchObject({ kind: 'uneven', index });
  });

  it('a step that grows by 1 % over the record is found though no step jumps', () => {
    expect(judge(series(1000, (i) => i + (i * i * 0.01) / 2000))).toMatchObject({ kind: 'uneven' });
  });

  it('jitter of a tenth of a step is more than the tolerance', () => {
    expect(judge(series(1000, (i) => 1000 + i + 0.1 * Math.sin(i * 12.9898) + 1e-9))).toMatchObject({ kind: 'uneven' });
  });
});

describe('a rounded axis is uniform, with the step of first and last stamp', () => {
  it.each([
    { name: '100 MHz in µs, exact', stamp: (i: number) => i / 100, count: 4000, step: 0.01, within: 1e-15 },
    {
      name: '60 MHz in µs, six decimals',
      stamp: (i: number) => Number((i / 60).toFixed(6)),
      count: 8000,
      step: 1 / 60,
      within: 1e-10,
    },
    {
      name: '60 MHz in µs, six digits',
      stamp: (i: number) => Number((i / 60).toPrecision(6)),
      count: 8000,
      step: 1 / 60,
      within: 1e-7,
    },
    {
      name: '60 MHz in µs, two decimals',
      stamp: (i: number) => Number((i / 60).toFixed(2)),
      count: 8000,
      step: 1 / 60,
      within: 1e-6,
    },
    {
      name: '50 MHz in s, single precision',
      stamp: (i: number) => Math.fround((i - 300) * 2e-8),
      count: 600,
      step: 2e-8,
      within: 1e-14,
    },
    {
      name: 'ten thousand single-precision stamps',
      stamp: (i: number) => Math.fround(i / 60),
      count: 10_000,
      step: 1 / 60,
      within: 1e-8,
    },
    {
      name: 'a start before the trigger',
      stamp: (i: number) => Number((-52.4 + i * 0.025).toFixed(3)),
      count: 4000,
      step: 0.025,
      within: 1e-15,
    },
  ])('$name', ({ stamp, count, step, within }) => {
    const verdict = judge(series(count, stamp));
    expect(verdict).toMatchObject({ kind: 'uniform', count });
    if (verdict.kind !== 'uniform') return;
    expect(Math.abs(uniformStep(verdict.first, verdict.last, count, 1) - step)).toBeLessThanOrEqual(within);
  });
});

it('pieces give the same verdict as the whole', () => {
  const stamps = Float64Array.from(series(30_000, (i) => Number((i / 60).toPrecision(6))));
  const whole = judge([...stamps]);
  for (const size of [1, 7, 255, 256, 257, 8191, 8192, 8193]) {
    const check = new AxisCheck();
    for (let at = 0; at < stamps.length; at += size) check.push(stamps, at, 1, Math.min(size, stamps.length - at));
    expect(check.verdict()).toEqual(whole);
  }
});

it('stamps are taken from one column of rows that stand side by side', () => {
  const check = new AxisCheck();
  check.push(Float64Array.from([9, 0, 9, 1, 9, 2]), 1, 2, 3);
  expect(check.verdict()).toMatchObject({ kind: 'uniform', first: 0, last: 2, count: 3 });
});

describe('the step in another unit', () => {
  it.each([
    { name: '40 ns written in seconds', first: 0, last: 749 * 4e-8, count: 750, factor: 1e6, step: 0.04 },
    { name: '10 ns over ten million samples', first: 0, last: 99999.99, count: 10_000_000, factor: 1, step: 0.01 },
    { name: '2 ns written in seconds', first: 0, last: 1.6382e-5, count: 8192, factor: 1e6, step: 0.002 },
  ])('$name has no last-bit noise', ({ first, last, count, factor, step }) => {
    expect(uniformStep(first, last, count, factor)).toBe(step);
  });
});

describe('resampling along straight lines', () => {
  it('leaves an even record as it is', () => {
    const samples = Float64Array.from([3, 1, 4, 1, 5]);
    expect([...resampleLinear(Float64Array.from([0, 1, 2, 3, 4]), samples)]).toEqual([3, 1, 4, 1, 5]);
  });

  it('reads a straight line off uneven stamps without error', () => {
    const stamps = Float64Array.from([0, 1, 4, 5, 10]);
    expect([
      ...resampleLinear(
        stamps,
        stamps.map((t) => 2 * t + 1),
      ),
    ]).toEqual([1, 6, 11, 16, 21]);
  });
});
