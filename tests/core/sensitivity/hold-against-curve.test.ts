import { describe, expect, it } from 'vitest';
import {
  type HoldingBy,
  highestAbove,
  holdAgainstCurve,
  type ReadingToHold,
} from '../../../core/sensitivity/hold-against-curve.ts';
import { referenceLevel } from '../../../core/sensitivity/reference-level.ts';
import { curveOf } from '../../build/sensitivity.ts';

const exactly = (value: number) => ({ value, standardUncertainty: 0 });
/** 0, −6 and −12 dB at 20, 40 and 80 mm: straight in dB over the logarithm of the distance too, at the points. */
const curve = curveOf([
  [20, 0],
  [40, -6],
  [80, -12],
]);
const by: HoldingBy = {
  curve,
  reference: referenceLevel([{ amplitudePercent: 80, gainDb: 40 }], { percent: 80, gainDb: null }),
  levels: [
    { name: 'reference', db: 0 },
    { name: 'half', db: -6 },
    { name: 'fifth', db: -14 },
  ],
  decision: 'with-uncertainty',
  transferDb: exactly(0),
  errors: { uCouplingDb: 0, uGainDb: 0 },
};
/** At 40 mm, where the curve stands at −6 dB, 40 % at 40 dB is 0.02 dB below it. */
const reading = (given: Partial<ReadingToHold> = {}): ReadingToHold => ({
  captureId: 'part.csv',
  gate: 'weld',
  soundPathMm: exactly(40),
  amplitudePercent: 40,
  signalToNoiseDb: 400,
  gainDb: 40,
  flags: [],
  ...given,
});
const outcomes = (given: Partial<ReadingToHold>, holding: Partial<HoldingBy> = {}) =>
  holdAgainstCurve(reading(given), { ...by, ...holding }).levels.map(({ outcome }) => outcome);

describe('a reading has no figure against the curve', () => {
  it.each<[string, Partial<ReadingToHold>, Partial<HoldingBy>, RegExp, string | null]>([
    ['without a curve', {}, { curve: null }, /no curve/, null],
    ['without a sound path', { soundPathMm: null }, {}, /no sound path/, null],
    ['before the first point', { soundPathMm: exactly(19) }, {}, /before the first point/, 'outside-curve'],
    ['behind the last', { soundPathMm: exactly(81) }, {}, /behind the last point/, 'outside-curve'],
    ['without a gain, where the curve has one', { gainDb: null }, {}, /gain of this capture is not stated/, 'no-gain'],
    [
      'with a gain, where the curve has none',
      {},
      { reference: referenceLevel([{ amplitudePercent: 80, gainDb: null }], { percent: 80, gainDb: null }) },
      /gains of the curve’s captures are not stated/,
      'no-gain',
    ],
  ])('%s', (_, given, holding, remark, flag) => {
    const held = holdAgainstCurve(reading(given), { ...by, ...holding });
    expect([held.toCurveDb, held.percentOfCurve]).toEqual([null, null]);
    expect(held.levels.map(({ outcome }) => outcome)).toEqual(['not-assessed', 'not-assessed', 'not-assessed']);
    expect(held.remarks.join(' ')).toMatch(remark);
    expect(held.flags).toEqual(flag === null ? [] : [flag]);
  });

  it('without an echo, and then says nothing of a curve', () => {
    const held = holdAgainstCurve(reading({ amplitudePercent: null, soundPathMm: null, flags: ['no-echo'] }), by);
    expect([held.levelDb, held.toCurveDb, held.flags, held.remarks]).toEqual([null, null, ['no-echo'], []]);
  });
});

describe('a reading against the curve', () => {
  it.each<[string, Partial<ReadingToHold>, Partial<HoldingBy>, number, number]>([
    ['on it, within rounding of 80 · 10^(−6/20)', { amplitudePercent: 80 * 10 ** (-6 / 20) }, {}, 0, 100],
    ['twice as high', { amplitudePercent: 2 * 80 * 10 ** (-6 / 20) }, {}, 6.0206, 200],
    ['a fifth of it', { amplitudePercent: 16 * 10 ** (-6 / 20) }, {}, -13.9794, 20],
    ['6 dB more gain', { gainDb: 46 }, {}, 20 * Math.log10(0.5), 50],
    ['a loss of 2 dB from block to part', {}, { transferDb: exactly(2) }, 20 * Math.log10(0.5) + 8, 125.5943],
    ['at 60 mm, where the curve stands at −9 dB', { soundPathMm: exactly(60) }, {}, 20 * Math.log10(0.5) + 9, 140.9],
  ])('%s', (_, given, holding, db, percent) => {
    const held = holdAgainstCurve(reading(given), { ...by, ...holding });
    // 40 % at 40 dB is −6.0206 dB; at 46 dB it is −12.0206 dB, 6.0206 dB below −6.
    expect(held.toCurveDb!.value).toBeCloseTo(db, 3);
    expect(held.percentOfCurve!.value).toBeCloseTo(percent, 0);
  });

  it('just past an end takes the end, and says so', () => {
    for (const [mm, end, level] of [
      [19.9, 20, 0],
      [80.5, 80, -12],
    ] as const) {
      const held = holdAgainstCurve(reading({ soundPathMm: exactly(mm) }), by);
      expect([held.curveAtMm, held.curveDb!.value]).toEqual([end, level]);
      expect(held.remarks[0]).toMatch(/just (before|behind)/);
      expect(held.flags).toEqual([]);
    }
    const unsure = holdAgainstCurve(reading({ soundPathMm: { value: 18, standardUncertainty: 1 } }), by);
    expect(unsure.curveAtMm).toBe(20);
  });

  it('has height, transfer, curve, place between the points and sound path in its uncertainty', () => {
    const u = (given: Partial<ReadingToHold>, holding: Partial<HoldingBy> = {}) =>
      holdAgainstCurve(reading(given), { ...by, ...holding }).toCurveDb!.standardUncertainty!;
    expect(u({})).toBeCloseTo(0, 6);
    expect(u({ signalToNoiseDb: 40 })).toBeCloseTo(0.086859, 5);
    expect(u({}, { transferDb: { value: 2, standardUncertainty: 0.5 } })).toBeCloseTo(0.5, 6);
    expect(u({}, { errors: { uCouplingDb: 0.3, uGainDb: 0 } })).toBeCloseTo(0.3, 6);
    expect(
      u(
        {},
        {
          curve: curveOf(
            [
              [20, 0],
              [40, -6],
              [80, -12],
            ],
            'db',
            0.2,
          ),
        },
      ),
    ).toBeCloseTo(0.2, 6);
    // The line that ends at 40 mm falls by 0.3 dB/mm.
    expect(u({ soundPathMm: { value: 40, standardUncertainty: 1 } })).toBeCloseTo(0.3, 6);
    // At 30 mm the line stands at −3 dB, one over the logarithm at −3.51: a rectangle of half-width 0.51 dB.
    const between = 6 * (Math.log(1.5) / Math.log(2) - 0.5);
    expect(u({ soundPathMm: exactly(30) })).toBeCloseTo(between / Math.sqrt(3), 6);
    expect(holdAgainstCurve(reading({ signalToNoiseDb: null }), by).toCurveDb!.standardUncertainty).toBeNull();
  });

  it('in per cent has the same uncertainty by the slope of the exponential', () => {
    const { toCurveDb, percentOfCurve } = holdAgainstCurve(reading({ signalToNoiseDb: 40 }), by);
    expect(percentOfCurve!.standardUncertainty! / percentOfCurve!.value).toBeCloseTo(
      (toCurveDb!.standardUncertainty! * Math.LN10) / 20,
      12,
    );
  });
});

describe('levels', () => {
  it.each<[string, Partial<ReadingToHold>, Partial<HoldingBy>, readonly string[]]>([
    ['below the curve and above half of it', { amplitudePercent: 35 }, {}, ['below', 'above', 'above']],
    ['on a level is not above it', { amplitudePercent: 80 * 10 ** (-12 / 20) }, {}, ['below', 'below', 'above']],
    ['a level within U', { amplitudePercent: 21, signalToNoiseDb: 30 }, {}, ['below', 'inconclusive', 'above']],
    [
      'the same by its value alone',
      { amplitudePercent: 21, signalToNoiseDb: 30 },
      { decision: 'simple-acceptance' },
      ['below', 'above', 'above'],
    ],
    [
      'unknown uncertainty: above stands, below does not',
      { amplitudePercent: 35, signalToNoiseDb: null },
      {},
      ['inconclusive', 'above', 'above'],
    ],
    [
      'a cut-off crest is above for certain, never below',
      { amplitudePercent: 35, flags: ['saturated'] },
      {},
      ['not-assessed', 'above', 'above'],
    ],
    [
      'a reading off its peak is never below',
      { amplitudePercent: 5, flags: ['off-peak'] },
      {},
      ['not-assessed', 'not-assessed', 'not-assessed'],
    ],
    [
      'nor is one that the gate cuts',
      { amplitudePercent: 5, flags: ['cut-by-gate'] },
      {},
      ['not-assessed', 'not-assessed', 'not-assessed'],
    ],
  ])('%s', (_, given, holding, expected) => {
    expect(outcomes(given, holding)).toEqual(expected);
  });

  it('the highest that is passed for certain', () => {
    expect(highestAbove(holdAgainstCurve(reading({ amplitudePercent: 35 }), by))?.name).toBe('half');
    expect(highestAbove(holdAgainstCurve(reading({ amplitudePercent: 1 }), by))).toBeNull();
  });

  it('a lower bound says what bounds it', () => {
    const held = holdAgainstCurve(reading({ flags: ['saturated', 'off-peak'] }), by);
    expect(held.atLeast).toBe(true);
    expect(held.remarks.join(' ')).toMatch(/cut off.*off the peak/);
  });
});
