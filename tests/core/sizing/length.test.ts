import { describe, expect, it } from 'vitest';
import type { Sizing } from '../../../core/review/scan-decision.ts';
import type { DynamicPoint } from '../../../core/scan/echo-dynamic.ts';
import { lengthOf, type SizingBy } from '../../../core/sizing/length.ts';
import { nearestOfReflector, pointAt, shareOnReflector } from '../../build/echo-dynamic.ts';

const sigmaMm = 3;
const by = (kind: 'drop-6-db' | 'drop-20-db' | 'half-of-curve', told: Partial<SizingBy> = {}): SizingBy => ({
  sizing: { kind },
  beamWidthMm: null,
  uBeamWidthMm: 0,
  uPositionMm: 0,
  curveDbAt: () => null,
  ...told,
});
const whole = (points: readonly DynamicPoint[]) => ({ first: 0, last: points.length - 1 });
const size = (points: readonly DynamicPoint[], settings: SizingBy, own = whole(points)) =>
  lengthOf(points, own, settings);
/** Full width of the beam at a part of its height: 2σ·√(2·ln(1/part)). */
const widthAt = (part: number) => 2 * sigmaMm * Math.sqrt(2 * Math.log(1 / part));

function profile(
  stepMm: number,
  reflector: { fromMm: number; toMm: number },
  shape: typeof shareOnReflector,
): DynamicPoint[] {
  const points: DynamicPoint[] = [];
  for (let mm = 0; mm <= 100; mm += stepMm)
    points.push(pointAt(mm, Math.max(80 * shape(mm, reflector, sigmaMm), 1e-12)));
  return points;
}

describe('an echo-dynamic made from a known Gaussian beam gives back the length (closed form)', () => {
  it.each([25, 30, 45])(
    '6 dB drop, a reflector of %d mm that takes its share of the beam: half of it at each end',
    (lengthMm) => {
      const points = profile(0.1, { fromMm: 30, toMm: 30 + lengthMm }, shareOnReflector);
      const { lengthMm: found, low, high } = size(points, by('drop-6-db'));
      expect(found!.value).toBeCloseTo(lengthMm, 2);
      expect(low!.positionMm.value).toBeCloseTo(30, 2);
      expect(high!.positionMm.value).toBeCloseTo(30 + lengthMm, 2);
    },
  );

  it.each([0, 5, 20, 45])(
    '20 dB drop, a reflector of %d mm shown by its nearest point: the beam’s width at a tenth taken off',
    (lengthMm) => {
      const points = profile(0.1, { fromMm: 30, toMm: 30 + lengthMm }, nearestOfReflector);
      const settings = by('drop-20-db', { beamWidthMm: widthAt(0.1) });
      const result = size(points, settings);
      expect(result.lengthMm!.value).toBeCloseTo(lengthMm, 2);
      expect(result.takenOffMm!.value).toBeCloseTo(12.8758, 4);
      expect(size(points, by('drop-20-db')).lengthMm!.value).toBeCloseTo(lengthMm + 12.8758, 2);
      expect(result.atMost).toBe(lengthMm === 0);
    },
  );

  it('a point gives the beam’s own width by the 6 dB drop: 2.3548 σ, and is said to be within the beam', () => {
    const points = profile(0.1, { fromMm: 50, toMm: 50 }, nearestOfReflector);
    const result = size(points, by('drop-6-db', { beamWidthMm: widthAt(0.5), uBeamWidthMm: 0.1 }));
    expect(result.lengthMm!.value).toBeCloseTo(2.354820045 * sigmaMm, 2);
    expect(result).toMatchObject({ atMost: true, flags: ['within-beam'] });
  });

  // h(x) = Φ((x+L/2)/σ) − Φ((x−L/2)/σ): what the method itself is wrong by on reflectors that the beam is never wholly on (derived; root of h = h(0)/2 by SciPy’s norm.cdf and brentq).
  it.each([
    { beams: 1, tooLongMm: 1.7617 },
    { beams: 1.5, tooLongMm: 0.5806 },
    { beams: 2, tooLongMm: 0.1394 },
    { beams: 2.5, tooLongMm: 0.0244 },
  ])('the 6 dB drop is too long by $tooLongMm mm at $beams beam widths', ({ beams, tooLongMm }) => {
    const lengthMm = beams * widthAt(0.5);
    const points = profile(0.05, { fromMm: 50 - lengthMm / 2, toMm: 50 + lengthMm / 2 }, shareOnReflector);
    expect(size(points, by('drop-6-db')).lengthMm!.value - lengthMm).toBeCloseTo(tooLongMm, 2);
  });

  it('between positions in a straight line in dB: 40 % at 10 mm and 20 % at 15 mm cross 28.28 % half-way', () => {
    const points = [1, 40, 56.568542494923804, 40, 20, 1].map((percent, i) => pointAt(5 * i, percent));
    const { high } = size(points, { ...by('drop-6-db'), sizing: { kind: 'fixed-level', percent: 20 * Math.SQRT2 } });
    expect(high!.positionMm.value).toBeCloseTo(17.5, 9);
  });
});

describe('how far an end is known', () => {
  it('coarse steps: the bracket as a rectangle about the crossing, 5/√12 and more', () => {
    const points = [0.01, 80, 80, 80, 0.01].map((percent, i) => pointAt(5 * i, percent));
    const { low } = size(points, by('drop-6-db'));
    expect(low!.positionMm.standardUncertainty).toBeGreaterThanOrEqual(5 / Math.sqrt(12));
    expect(low!.bendMm).toBeNull();
  });
  it('fine steps over a smooth edge: far below the step', () => {
    const points = profile(1, { fromMm: 30, toMm: 60 }, shareOnReflector);
    const { lengthMm, low } = size(points, by('drop-6-db'));
    expect(low!.bendMm).toBeGreaterThan(0);
    expect(lengthMm!.standardUncertainty).toBeLessThan(0.1);
    expect(Math.abs(lengthMm!.value - 30)).toBeLessThan(2 * lengthMm!.standardUncertainty! + 1e-4);
  });
  it('the position’s own uncertainty counts at both ends', () => {
    const points = profile(0.1, { fromMm: 30, toMm: 60 }, shareOnReflector);
    const { lengthMm } = size(points, by('drop-6-db', { uPositionMm: 0.5 }));
    expect(lengthMm!.standardUncertainty).toBeCloseTo(0.5 * Math.SQRT2, 2);
  });
  it('noise that is not known leaves the bracket', () => {
    const points = profile(1, { fromMm: 30, toMm: 60 }, shareOnReflector).map((point) => ({
      ...point,
      uLevelDb: null,
    }));
    expect(size(points, by('drop-6-db')).lengthMm!.standardUncertainty).toBeGreaterThan(0.4);
  });
});

const heights = (...percent: number[]) => percent.map((height, i) => pointAt(5 * i, height));

describe('what is said where a length is none, or only a bound', () => {
  it.each([
    {
      name: 'an end at the first position',
      points: heights(80, 80, 10),
      flags: ['beyond-scan'],
      atLeast: true,
      remark: /One end lies outside the scanned range/,
    },
    {
      name: 'both ends',
      points: heights(80, 70, 80),
      flags: ['beyond-scan'],
      atLeast: true,
      remark: /Both ends lie outside/,
    },
    { name: 'one position', points: heights(80), flags: ['beyond-scan'], atLeast: true, remark: /Both ends/ },
    {
      name: 'lost in noise above the level',
      points: [...heights(1, 80, 80), pointAt(15, 60, { state: 'missing' })],
      flags: [],
      atLeast: true,
      remark: /lost in noise/,
    },
    {
      name: 'several peaks',
      points: heights(1, 80, 10, 70, 1),
      flags: ['several-peaks'],
      atLeast: false,
      remark: /falls below the level once/,
    },
    {
      name: 'three peaks',
      points: heights(1, 80, 10, 70, 10, 60, 1),
      flags: ['several-peaks'],
      atLeast: false,
      remark: /2 times/,
    },
  ])('$name', ({ points, flags, atLeast, remark }) => {
    const result = size(points, by('drop-6-db'));
    expect(result).toMatchObject({ flags, atLeast });
    expect(result.remarks.join(' ')).toMatch(remark);
    expect(result.lengthMm).not.toBeNull();
  });

  it('outermost crossings: a dip to nothing between two peaks does not end it', () => {
    const { low, high } = size(heights(1, 80, 1, 1, 70, 1), by('drop-6-db'));
    expect([low!.insideMm, high!.insideMm]).toEqual([5, 20]);
  });

  it('beyond its own positions it is followed as far as it stands above the level, and no farther', () => {
    const points = heights(1, 60, 80, 60, 1, 90, 1);
    const { low, high } = size(points, by('drop-6-db'), { first: 2, last: 2 });
    expect([low!.insideMm, high!.insideMm]).toEqual([5, 15]);
  });

  const drops: Sizing[] = [{ kind: 'drop-6-db' }, { kind: 'drop-20-db' }];
  it.each(drops)('$kind: a peak that is cut off gives no length', (sizing) => {
    const points = [...heights(1, 40), pointAt(10, 100, { state: 'cut-off' }), pointAt(15, 40), pointAt(20, 1)];
    const result = size(points, { ...by('drop-6-db'), sizing });
    expect(result.lengthMm).toBeNull();
    expect(result.withoutLength).toMatch(/Its peak is cut off.*less gain/);
  });
  it('to a fixed level a peak that is cut off does no harm', () => {
    const points = [...heights(1, 40), pointAt(10, 100, { state: 'cut-off' }), pointAt(15, 40), pointAt(20, 1)];
    expect(size(points, { ...by('drop-6-db'), sizing: { kind: 'fixed-level', percent: 20 } }).lengthMm).not.toBeNull();
  });

  it.each([
    {
      name: 'nothing stands out from the noise',
      points: [pointAt(0, 2, { state: 'missing' })],
      settings: by('drop-6-db'),
      why: /stands out from the noise/,
    },
    { name: 'no points', points: [], settings: by('drop-6-db'), why: /stands out from the noise/ },
    { name: 'no curve', points: heights(1, 80, 1), settings: by('half-of-curve'), why: /no distance-amplitude curve/ },
    {
      name: 'never above the fixed level',
      points: heights(1, 30, 1),
      settings: { ...by('drop-6-db'), sizing: { kind: 'fixed-level' as const, percent: 50 } },
      why: /never stands above/,
    },
  ])('$name: no length, and why', ({ points, settings, why }) => {
    const result = size(points, settings);
    expect(result.lengthMm).toBeNull();
    expect(result.withoutLength).toMatch(why);
  });
});

describe('half of the curve', () => {
  it('ends where the echo stands 6.02 dB below the curve at its own path', () => {
    const points = heights(1, 20, 80, 80, 20, 1);
    // A curve at 80 % all over: its half is 40 %, midway in dB between 20 and 80 %.
    const { low, high } = size(points, by('half-of-curve', { curveDbAt: () => 20 * Math.log10(80) }));
    expect(low!.positionMm.value).toBeCloseTo(7.5, 9);
    expect(high!.positionMm.value).toBeCloseTo(17.5, 9);
  });
});
