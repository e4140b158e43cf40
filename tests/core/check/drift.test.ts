import { describe, expect, it } from 'vitest';
import {
  type CheckCapture,
  type CheckedReflector,
  type DriftInput,
  type DriftResult,
  judgeDrift,
} from '../../../core/check/drift.ts';
import { type DriftRule, publishedRules } from '../../../core/check/rule.ts';
import type { Outcome } from '../../../core/outcome.ts';
import { calibrated } from '../../build/calibration.ts';

const asme = publishedRules.find((rule) => rule.name === 'asme-v-t-466')!;
const iso = publishedRules.find((rule) => rule.name === 'iso-17640')!;

/** 3240 m/s and 7.3 µs, read at 100 and 225 mm with u = 2 ns; the distances exact. */
const calibration = calibrated(3240, 7.3);

function seen(
  distanceMm: number,
  given: { shiftUs?: number; velocity?: number; percent?: number | null } & Partial<CheckedReflector> = {},
): CheckedReflector {
  const { shiftUs = 0, velocity = 3240, percent = 80, ...rest } = given;
  return {
    distanceMm,
    timeUs: { value: 7.3 + shiftUs + (2000 * distanceMm) / velocity, standardUncertainty: 0.002 },
    amplitudePercent: percent,
    signalToNoiseDb: 200,
    flags: [],
    from: null,
    ...rest,
  };
}

function check(
  captureId: string,
  reflectors: CheckedReflector[],
  takenAt: string | null = null,
  gainDb: number | null = 40,
): CheckCapture {
  return { captureId, takenAt, gainDb, reflectors };
}

function input(checks: CheckCapture[], rule: DriftRule | null, rest: Partial<DriftInput> = {}): DriftInput {
  const reference = [100, 225].map((distanceMm) => ({ distanceMm, amplitudePercent: 80, gainDb: 40 }));
  return { checks, calibration, reference, rule, rangeMm: 250, ...rest };
}

function judged(given: DriftInput): DriftResult {
  const outcome = judgeDrift(given);
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.sentence).join('; '));
  return outcome.value;
}

function codes(outcome: Outcome<unknown>): string[] {
  return (outcome.ok ? outcome.warnings : outcome.problems).map((p) => p.code);
}

describe('judgeDrift: what cannot be judged', () => {
  it.each<[string, DriftInput, string]>([
    ['no check at all', input([], asme), 'no-checks'],
    ['ASME without the range', input([check('a', [seen(100)])], asme, { rangeMm: null }), 'range-missing'],
    ['ISO without the range', input([check('a', [seen(100)])], iso, { rangeMm: null }), 'range-missing'],
    ['a range of 0', input([check('a', [seen(100)])], asme, { rangeMm: 0 }), 'range-not-positive'],
    [
      'a reference amplitude of 0',
      input([check('a', [seen(100)])], asme, { reference: [{ distanceMm: 100, amplitudePercent: 0, gainDb: null }] }),
      'reference-not-positive',
    ],
  ])('%s', (_, given, code) => {
    expect(judgeDrift(given).ok).toBe(false);
    expect(codes(judgeDrift(given))).toEqual([code]);
  });

  it('without a rule gives figures and no verdict', () => {
    const { checks, firstFailing, lastPassing } = judged(
      input([check('a', [seen(100, { percent: 40 })])], null, { rangeMm: null }),
    );
    expect(checks[0].verdict).toBeNull();
    expect(checks[0].reflectors[0].amplitudeChangeDb!.value).toBeCloseTo(-6.0206, 4);
    expect([firstFailing, lastPassing, checks[0].consequences, checks[0].flags]).toEqual([null, null, [], []]);
  });

  it.each<[string, CheckedReflector]>([
    ['no echo at a reflector', seen(100, { timeUs: null, percent: null, flags: ['no-echo'] })],
    ['a saturated echo', seen(100, { percent: 100, flags: ['saturated'] })],
    ['a reflector whose echo is ambiguous', seen(100, { flags: ['ambiguous-echo'] })],
    ['an echo cut by its gate', seen(100, { flags: ['cut-by-gate'] })],
    ['an amplitude of unknown noise', seen(100, { signalToNoiseDb: null })],
    ['a time of unknown uncertainty', seen(100, { timeUs: { value: 7.3 + 200 / 3.24, standardUncertainty: null } })],
  ])('never passes a check with %s', (_, reflector) => {
    const { checks, lastPassing } = judged(input([check('a', [reflector, seen(225)])], asme));
    expect(checks[0].verdict).toBe('inconclusive');
    expect(lastPassing).toBeNull();
    expect(checks[0].consequences[0]).toContain('Repeat it');
    expect(checks[0].flags).toEqual(reflector.flags);
  });

  it('gives a saturated echo no amplitude change and a missing one no figure at all', () => {
    const [saturated, missing] = judged(
      input(
        [
          check('a', [
            seen(100, { percent: 100, flags: ['saturated'] }),
            seen(225, { timeUs: null, percent: null, flags: ['no-echo'] }),
          ]),
        ],
        asme,
      ),
    ).checks[0].reflectors;
    expect([saturated.amplitudeChangeDb, saturated.verdicts.map((v) => v.outcome)]).toEqual([
      null,
      ['pass', 'not-assessed'],
    ]);
    expect([missing.distanceErrorMm, missing.amplitudeChangeDb, missing.verdicts.map((v) => v.outcome)]).toEqual([
      null,
      null,
      ['not-assessed', 'not-assessed'],
    ]);
  });

  it('passes nothing by a rule on the amplitude without a reference amplitude, and says so', () => {
    const given = input([check('a', [seen(100)], '2026-03-02T06:05:00Z')], asme, { reference: [] });
    expect(judged(given).checks[0].verdict).toBe('inconclusive');
    expect(codes(judgeDrift(given))).toEqual(['no-reference-amplitude']);
  });
});

describe('judgeDrift: the limits, inclusive as the text says', () => {
  /** A check with exactly this distance error at 100 mm, without uncertainty. */
  const exact = {
    ...calibration,
    velocityMPerS: { value: 3240, standardUncertainty: 0 },
    zeroOffsetUs: { value: 0, standardUncertainty: 0 },
    covarianceUsUsPerMm: 0,
  };
  const off = (distanceMm: number, errorMm: number, percent = 80) =>
    check('a', [
      {
        ...seen(distanceMm, { percent }),
        signalToNoiseDb: Number.POSITIVE_INFINITY,
        timeUs: { value: (2000 * (distanceMm + errorMm)) / 3240, standardUncertainty: 0 },
      },
    ]);
  const verdict = (rule: DriftRule, distanceMm: number, rangeMm: number, errorMm: number, percent: number) =>
    judged({
      ...input([off(distanceMm, errorMm, percent)], rule, { calibration: exact, rangeMm }),
      reference: [{ distanceMm, amplitudePercent: 80, gainDb: 40 }],
    }).checks[0].verdict;

  it.each<[string, DriftRule, number, number, number, number, 'pass' | 'fail']>([
    [
      'T-466: reading 40, sweep 250, off by 12.5 mm: not more than the greater of 4 and 12.5',
      asme,
      40,
      250,
      12.5,
      80,
      'pass',
    ],
    ['T-466: the same, off by 12.51 mm', asme, 40, 250, 12.51, 80, 'fail'],
    ['T-466: the same, off by −12.51 mm', asme, 40, 250, -12.51, 80, 'fail'],
    ['T-466: 80 to 64 % is −20.0 %, not more than', asme, 100, 250, 0, 64, 'pass'],
    ['T-466: 80 to 63 %', asme, 100, 250, 0, 63, 'fail'],
    ['T-466: 80 to 96 % is +20.0 %', asme, 100, 250, 0, 96, 'pass'],
    ['T-466: 80 to 97 % exceeds 20 %, though not 2 dB: the stricter reading', asme, 100, 250, 0, 97, 'fail'],
    ['ISO: 100 to 101.9 of range 100', iso, 100, 100, 1.9, 80, 'pass'],
    ['ISO: exactly 2 % of range', iso, 100, 100, 2, 80, 'pass'],
    ['ISO: 2.01 % of range', iso, 100, 100, 2.01, 80, 'fail'],
    ['ISO: −3.88 dB', iso, 100, 100, 0, 80 * 10 ** (-3.88 / 20), 'pass'],
    ['ISO: exactly −4 dB', iso, 100, 100, 0, 80 * 10 ** (-4 / 20), 'pass'],
    ['ISO: −4.01 dB', iso, 100, 100, 0, 80 * 10 ** (-4.01 / 20), 'fail'],
  ])('%s (figures of the rule from memory)', (_, rule, distanceMm, rangeMm, errorMm, percent, expected) => {
    expect(verdict(rule, distanceMm, rangeMm, errorMm, percent)).toBe(expected);
  });

  it('with an uncertainty about a limit it is inconclusive; by simple acceptance it is decided', () => {
    const near = check('a', [seen(100, { percent: 64.1, signalToNoiseDb: 40 })]);
    const reference = [{ distanceMm: 100, amplitudePercent: 80, gainDb: 40 }];
    expect(judged(input([near], asme, { reference })).checks[0].verdict).toBe('inconclusive');
    expect(judged(input([near], asme, { reference, decision: 'simple-acceptance' })).checks[0].verdict).toBe('pass');
  });
});

describe('judgeDrift: figures', () => {
  it('takes the gain out of the amplitude', () => {
    const { checks } = judged(input([check('a', [seen(100, { percent: 40 })], null, 34)], asme));
    expect(checks[0].reflectors[0].amplitudeChangeDb!.value).toBeCloseTo(-0.0206, 4);
  });

  it('says when no gain is stated, and gives no amplitude change when only one of the two is', () => {
    const reference = [{ distanceMm: 100, amplitudePercent: 80, gainDb: null }];
    const neither = judgeDrift(input([check('a', [seen(100)], null, null)], asme, { reference }));
    const one = judgeDrift(input([check('a', [seen(100)])], asme, { reference }));
    expect([codes(neither), codes(one)]).toEqual([
      ['no-time-taken', 'gain-not-stated'],
      ['no-time-taken', 'gain-partly-stated'],
    ]);
    expect(neither.ok && neither.value.checks[0].verdict).toBe('pass');
    expect(one.ok && one.value.checks[0].reflectors[0].amplitudeChangeDb).toBeNull();
    expect(one.ok && one.value.checks[0].verdict).toBe('inconclusive');
  });

  it('gives the uncertainty of an amplitude from its noise: 40 dB of signal to noise is 0.0869 dB', () => {
    const { checks } = judged(input([check('a', [seen(100, { signalToNoiseDb: 40 })])], asme));
    expect(checks[0].reflectors[0].amplitudeChangeDb!.standardUncertainty).toBeCloseTo(0.0869, 4);
  });

  it('needs two reflectors with an echo to tell zero offset from velocity', () => {
    const one = check('a', [seen(100), seen(225, { timeUs: null, percent: null, flags: ['no-echo'] })]);
    const { velocityChangePercent, zeroOffsetChangeUs, cause, causeSentence } = judged(input([one], null)).checks[0];
    expect([velocityChangePercent, zeroOffsetChangeUs, cause, causeSentence]).toEqual([null, null, null, null]);
  });

  it.each<[string, number, number, string, number, number]>([
    ['nothing moved', 0, 3240, 'none', 0, 0],
    ['the same shift at both: the wedge', 0.2, 3240, 'zero-offset', 0, 0.2],
    ['a shift that grows with distance: the velocity', 0, 3207.6, 'velocity', -1, 0],
    ['both', -0.3, 3272.4, 'both', 1, -0.3],
  ])('%s', (_, shiftUs, velocity, cause, percent, offsetUs) => {
    const result = judged(
      input([check('a', [seen(100, { shiftUs, velocity }), seen(225, { shiftUs, velocity })])], null),
    ).checks[0];
    expect(result.cause).toBe(cause);
    expect(result.velocityChangePercent!.value).toBeCloseTo(percent, 9);
    expect(result.zeroOffsetChangeUs!.value).toBeCloseTo(offsetUs, 9);
    expect(result.causeSentence).not.toBeNull();
  });

  it('says that it cannot tell which moved where the reflectors stand too close together for it', () => {
    const close = calibrated(3240, 7.3, { distancesMm: [100, 105] });
    const shifted = check('a', [seen(100, { shiftUs: 0.02 }), seen(105, { shiftUs: 0.02 })]);
    expect(judged(input([shifted], null, { calibration: close })).checks[0].cause).toBe('undecided');
  });

  it('gives no cause where the uncertainties are not known', () => {
    const unknown = calibrated(3240, 7.3, { uTimeUs: null });
    const result = judged(input([check('a', [seen(100), seen(225)])], null, { calibration: unknown })).checks[0];
    expect(result.velocityChangePercent!.standardUncertainty).toBeNull();
    expect(result.cause).toBeNull();
  });

  it('uncertainty of the two changes by the algebra of two points, both lines counted (u = 2 ns at 100 and 225 mm)', () => {
    // u(t0) = 0.002 √(225² + 100²) / 125, u(v)/v = 0.002 √2 · v / (2 · 125): section on two points; each line once, hence √2.
    const { velocityChangePercent, zeroOffsetChangeUs } = judged(input([check('a', [seen(100), seen(225)])], null))
      .checks[0];
    expect(zeroOffsetChangeUs!.standardUncertainty).toBeCloseTo((Math.SQRT2 * 0.002 * Math.hypot(225, 100)) / 125, 9);
    expect(velocityChangePercent!.standardUncertainty).toBeCloseTo(
      (Math.SQRT2 * 100 * 0.002 * Math.SQRT2 * 3.24) / 250,
      9,
    );
  });
});

describe('judgeDrift: a shift', () => {
  const at = (hour: number) => `2026-03-02T${String(hour).padStart(2, '0')}:05:00Z`;
  const good = (name: string, hour: number) => check(name, [seen(100), seen(225)], at(hour));
  const worn = (name: string, hour: number) =>
    check(name, [seen(100, { shiftUs: 8.1 }), seen(225, { shiftUs: 8.1 })], at(hour));
  const weak = (name: string, hour: number) =>
    check(name, [seen(100, { percent: 50 }), seen(225, { percent: 50 })], at(hour));
  const strong = (name: string, hour: number) =>
    check(name, [seen(100, { percent: 99 }), seen(225, { percent: 99 })], at(hour));

  it('is put in order of the time taken, offsets counted; captures without a time come last, with a doubt', () => {
    const east = check('c', [seen(100)], '2026-03-02T11:30:00+05:00');
    const outcome = judgeDrift(
      input([check('x', [seen(100)]), good('b', 7), east, good('a', 6), check('y', [seen(100)])], asme),
    );
    expect(outcome.ok && outcome.value.checks.map((c) => c.captureId)).toEqual(['a', 'c', 'b', 'x', 'y']);
    expect(codes(outcome)).toEqual(['no-time-taken', 'no-time-taken']);
  });

  it('names the first failing check and the last passing one before it, and flags what drifted', () => {
    const { checks, firstFailing, lastPassing } = judged(
      input([good('a', 6), good('b', 8), worn('c', 10), good('d', 12), worn('e', 14)], asme),
    );
    expect([firstFailing, lastPassing]).toEqual(['c', 'b']);
    expect(checks.map((c) => c.verdict)).toEqual(['pass', 'pass', 'fail', 'pass', 'fail']);
    expect(checks[2].flags).toEqual(['drift']);
    expect(checks[2].cause).toBe('zero-offset');
    expect(checks[2].consequences).toEqual([
      asme.distance!.whenExceeded,
      'The last valid check is b (2026-03-02T08:05:00Z).',
    ]);
    expect(checks[4].consequences.at(-1)).toBe('The last valid check is d (2026-03-02T12:05:00Z).');
  });

  it('with no failing check names the last passing of all; with no passing one nothing', () => {
    expect(judged(input([good('a', 6), good('b', 8)], asme))).toMatchObject({ firstFailing: null, lastPassing: 'b' });
    const { firstFailing, lastPassing, checks } = judged(input([worn('a', 6), good('b', 8)], asme));
    expect([firstFailing, lastPassing]).toEqual(['a', null]);
    expect(checks[0].consequences.at(-1)).toBe('No earlier check passes: that is everything since the calibration.');
  });

  it('does not take an inconclusive check for a passing one', () => {
    const unclear = check('b', [seen(100, { flags: ['ambiguous-echo'] }), seen(225)], at(8));
    expect(judged(input([good('a', 6), unclear, worn('c', 10)], asme))).toMatchObject({
      firstFailing: 'c',
      lastPassing: 'a',
    });
  });

  it('asks more after a loss of sensitivity than after a gain', () => {
    const [loss, gain] = judged(input([weak('a', 6), strong('b', 8)], asme)).checks;
    expect(loss.consequences[0]).toContain('void');
    expect(gain.consequences[0]).toContain('recorded indications');
    expect(gain.consequences[0]).not.toContain('void');
  });

  it('remarks what ISO asks for within its limits, only where there is something to correct', () => {
    const slight = check('b', [seen(100, { percent: 70 }), seen(225, { percent: 70 })], at(8));
    const [still, moved] = judged(input([good('a', 6), slight], iso)).checks;
    expect([still.verdict, still.remarks]).toEqual(['pass', []]);
    expect([moved.verdict, moved.remarks, moved.consequences]).toEqual([
      'pass',
      ['Correct the sensitivity setting before going on.'],
      [],
    ]);
  });
});

describe('judgeDrift: what a figure was made from', () => {
  it('the echo seen, its path, what it is held against, and both limits stand beside each deviation', () => {
    const moved = check('a', [seen(100, { shiftUs: 0.5, percent: 60 }), seen(225, { shiftUs: 0.5, percent: 40 })]);
    const result = judged(input([moved], asme));
    const near = result.checks[0].reflectors[0];
    expect(near.seen).toBe(moved.reflectors[0]);
    expect(near.soundPathMm?.value).toBeCloseTo(100 + (0.5 * 3.24) / 2, 9);
    expect(near.reference?.amplitudePercent).toBe(80);
    // 5 % of the range of 250 mm is more than 10 % of the reading of 100 mm; 20 % is stricter than 2 dB on either side.
    expect(near.distanceLimitsMm).toEqual({ lower: -12.5, upper: 12.5 });
    expect(near.amplitudeLimitsDb?.lower).toBeCloseTo(20 * Math.log10(0.8), 12);
    expect(near.amplitudeLimitsDb?.upper).toBeCloseTo(20 * Math.log10(1.2), 12);
    expect(result.checks[0].line?.zeroOffsetUs.value).toBeCloseTo(7.8, 9);
    expect(result.checks[0].line?.velocityMPerS.value).toBeCloseTo(3240, 6);
  });

  it('without a rule there are no limits, with one reflector no line', () => {
    const result = judged(input([check('a', [seen(100)])], null));
    expect(result.checks[0].reflectors[0]).toMatchObject({ distanceLimitsMm: null, amplitudeLimitsDb: null });
    expect(result.checks[0].line).toBeNull();
  });

  it('what was taken for granted stands with the result', () => {
    const outcome = judgeDrift(input([check('a', [seen(100)], null, null)], asme));
    expect(outcome.ok && outcome.value.warnings.map((w) => w.code)).toEqual(['no-time-taken', 'gain-partly-stated']);
  });
});
