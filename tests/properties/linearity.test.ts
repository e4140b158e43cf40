import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgeGain } from '../../core/linearity/gain.ts';
import type { GainRule, LinearityRule, SteppedRule, TimeBaseRule, TwoEchoRule } from '../../core/linearity/rule.ts';
import { publishedLinearityRules, rulesFor } from '../../core/linearity/rule.ts';
import { judgeSteppedGain } from '../../core/linearity/stepped-gain.ts';
import { judgeTimeBase, type PlacedEcho } from '../../core/linearity/time-base.ts';
import { judgeTwoEcho } from '../../core/linearity/two-echo.ts';
import { height, heightAt, pair } from '../build/heights.ts';
import { normal } from '../build/random.ts';

function echoes(times: readonly number[], u = 0.001): PlacedEcho[] {
  return times.map((timeUs, i) => ({
    place: i + 1,
    uPlace: 0,
    name: `echo ${i + 1}`,
    captureId: 'plate.csv',
    timeUs: { value: timeUs, standardUncertainty: u },
    flags: [],
    from: null,
    missing: null,
  }));
}

function timeBase(
  times: readonly number[],
  rule: TimeBaseRule | null,
  line: 'end-points' | 'least-squares' = 'end-points',
  u = 0.001,
) {
  const outcome = judgeTimeBase({
    echoes: echoes(times, u),
    places: 'numbers',
    spacingMm: null,
    rule,
    line,
    range: null,
    decision: 'with-uncertainty',
  });
  if (!outcome.ok) throw new Error(outcome.problems[0].sentence);
  return outcome.value;
}

const straight = (first: number, spacing: number, count = 11) =>
  Array.from({ length: count }, (_, i) => first + spacing * i);
const isNamed = (outcome: string | null) => (rule: LinearityRule) =>
  rule.name.startsWith('astm-e317') ? null : outcome;

describe('a perfect instrument', () => {
  it('has a straight time base by every rule, wherever it begins and however wide it is', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 50, noNaN: true }),
        fc.double({ min: 2, max: 40, noNaN: true }),
        fc.constantFrom(...rulesFor('time-base')),
        (first, spacing, rule) => {
          const { outcome, steps } = timeBase(straight(first, spacing), rule);
          expect(outcome).toBe(isNamed('pass')(rule));
          for (const { deviation } of steps) expect(Math.abs(deviation?.value ?? 1)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  it('passes every rule for height and gain, at whatever gain it is checked', () => {
    const rules = publishedLinearityRules.filter(({ check }) => check !== 'time-base');
    fc.assert(
      fc.property(fc.integer({ min: -20, max: 40 }), fc.constantFrom(...rules), (offset, rule) => {
        const at = 40 + offset;
        const gains = [2, 1, 0, -2, -4, -6, -8, -10, -12, -18, -24].map((change) => at + change);
        const stepped = gains.map((gain) =>
          height(heightAt(gain, { at }), gain, { u: 0.1, flags: gain > at + 1.5 ? ['saturated'] : [] }),
        );
        const settings = [
          [80, 0, -6, -12],
          [40, 0, 6],
          [20, 0, 12],
        ].flatMap(([set, ...changes]) =>
          changes.map((change) => height(heightAt(at + change, { set, at }), at + change, { u: 0.1 })),
        );
        const run = Array.from({ length: 11 }, (_, span) =>
          [0, 3, 6].map((change) => height(heightAt(change, { set: 40, at: 0 }), at + 6 * span + change, { u: 0.05 })),
        ).flat();
        const pairs = [99, 90, 80, 70, 60, 50, 40, 30, 20].map((larger) => pair(larger, larger / 2, { u: 0.1 }));
        expect(outcomeOf(rule, { stepped, settings, run, pairs })).toBe(isNamed('pass')(rule));
      }),
    );
  });
});

type Readings = Parameters<typeof judgeGain>[0];

function outcomeOf(
  rule: LinearityRule,
  {
    stepped,
    settings,
    run,
    pairs,
  }: Record<'stepped' | 'settings' | 'run', Readings> & { pairs: Parameters<typeof judgeTwoEcho>[0] },
) {
  if (rule.check === 'screen-height')
    return rule.form === 'two-echo'
      ? judgeTwoEcho(pairs, rule as TwoEchoRule, 'with-uncertainty').outcome
      : judgeSteppedGain(stepped, rule as SteppedRule, 'with-uncertainty').outcome;
  const of = rule.name === 'asme-v-appendix-ii' ? settings : rule.name === 'iso-22232-3-gain' ? stepped : run;
  return judgeGain(of, rule as GainRule, 'with-uncertainty').outcome;
}

describe('a bent one', () => {
  it('is found with its bend, and fails the rules that allow less', () => {
    const limited = rulesFor('time-base').filter(({ deviationPercent }) => deviationPercent !== null);
    fc.assert(
      fc.property(fc.double({ min: -4, max: 4, noNaN: true }), fc.constantFrom(...limited), (bend, rule) => {
        fc.pre(Math.abs(Math.abs(bend) - (rule.deviationPercent ?? 0)) > 0.01);
        const times = straight(9, 8).map((time, i) => time + 0.8 * bend * 4 * (i / 10) * (1 - i / 10));
        const { steps, outcome } = timeBase(times, rule);
        expect(steps[5].deviation?.value).toBeCloseTo(bend, 9);
        expect(outcome).toBe(Math.abs(bend) > (rule.deviationPercent ?? 0) ? 'fail' : 'pass');
      }),
    );
  });

  it('has the steps of its gain found by what they are short of', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.8, max: 1.2, noNaN: true }), (worth) => {
        const readings = [0, 2, 4, 6].map((change) =>
          height(heightAt(change, { set: 40, at: 0, worth }), 20 + change, { u: 0.01 }),
        );
        const { points } = judgeGain(readings, null, 'with-uncertainty');
        expect(points[3].totalErrorDb?.value).toBeCloseTo(6 * (worth - 1), 9);
      }),
    );
  });
});

describe('deviations do not depend on what they must not', () => {
  const times = fc.array(fc.double({ min: -0.3, max: 0.3, noNaN: true }), { minLength: 9, maxLength: 11 });

  it('a shift of all times leaves them, a stretch too, by every definition of the line', () => {
    fc.assert(
      fc.property(
        times,
        fc.double({ min: -5, max: 50, noNaN: true }),
        fc.double({ min: 0.2, max: 5, noNaN: true }),
        fc.constantFrom('end-points', 'least-squares', 'anchors'),
        (off, shift, stretch, line) => {
          const read = straight(9, 8, off.length).map((time, i) => time + off[i]);
          const rule =
            line === 'anchors'
              ? (rulesFor('time-base').find(({ name }) => name.startsWith('astm')) as TimeBaseRule)
              : null;
          const of = (values: readonly number[]) =>
            timeBase(values, rule, line === 'least-squares' ? line : 'end-points').steps.map(
              (step) => step.deviation?.value ?? Number.NaN,
            );
          const before = of(read);
          of(read.map((time) => shift + stretch * time)).forEach((value, i) => {
            expect(value).toBeCloseTo(before[i], 8);
          });
        },
      ),
    );
  });

  it('all heights scaled by one factor leave the errors of the gain', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 10, max: 90, noNaN: true }), { minLength: 2, maxLength: 6 }),
        fc.double({ min: 0.3, max: 1.1, noNaN: true }),
        (heights, factor) => {
          const of = (scale: number) =>
            judgeGain(
              heights.map((percent, i) => height(scale * percent, 20 + 2 * i)),
              null,
              'with-uncertainty',
            ).points.map((point) => point.totalErrorDb?.value ?? 0);
          const before = of(1);
          of(factor).forEach((value, i) => {
            expect(value).toBeCloseTo(before[i], 8);
          });
        },
      ),
    );
  });

  it('the captures given in another order of files give the same table, as far as each step has one pair', () => {
    const rule = rulesFor('screen-height').find(({ name }) => name === 'iso-22232-3-screen-height') as SteppedRule;
    const readings = [42, 40, 34, 28, 22, 16].map((gain) => height(heightAt(gain), gain, { u: 0.1 }));
    const expected = judgeSteppedGain(readings, rule, 'with-uncertainty').steps.map((step) => step.deviation?.value);
    fc.assert(
      fc.property(fc.shuffledSubarray(readings, { minLength: 6 }), (shuffled) => {
        expect(judgeSteppedGain(shuffled, rule, 'with-uncertainty').steps.map((step) => step.deviation?.value)).toEqual(
          expected,
        );
      }),
    );
  });
});

describe('the stated uncertainty covers what it states: 95 % of ± 2 u, by seeded trials', () => {
  const trials = 2000;
  /** Share of trials in which the truth lies within ± 2 u, where it should be 95.4 %; four standard deviations of the count off it. */
  function covered(trial: (random: () => number) => { readonly off: number; readonly u: number }): void {
    const random = normal(7);
    let inside = 0;
    for (let i = 0; i < trials; i++) {
      const { off, u } = trial(random);
      if (Math.abs(off) <= 2 * u) inside += 1;
    }
    expect(inside / trials).toBeGreaterThan(0.954 - 4 * Math.sqrt((0.954 * 0.046) / trials));
    expect(inside / trials).toBeLessThan(0.954 + 4 * Math.sqrt((0.954 * 0.046) / trials));
  }

  it.each(['end-points', 'least-squares'] as const)('a deviation of the time base from its line (%s)', (line) => {
    covered((random) => {
      const times = straight(9, 8).map((time, i) => time + 0.8 * 4 * (i / 10) * (1 - i / 10) + 0.02 * random());
      const { steps } = timeBase(times, null, line, 0.02);
      const truth = line === 'end-points' ? 4 * 0.3 * 0.7 : 4 * 0.3 * 0.7 - 0.6;
      return { off: (steps[3].deviation?.value ?? 0) - truth, u: steps[3].deviation?.standardUncertainty ?? 0 };
    });
  });

  it('a deviation of two echoes', () => {
    covered((random) => {
      const { steps } = judgeTwoEcho(
        [pair(70 + 0.4 * random(), 36 + 0.4 * random(), { u: 0.4 })],
        null,
        'with-uncertainty',
      );
      return { off: (steps[0].deviation?.value ?? 0) - 1, u: steps[0].deviation?.standardUncertainty ?? 0 };
    });
  });

  it('a total error of the gain over three signals', () => {
    covered((random) => {
      const readings = [0, 1, 2].flatMap((span) =>
        [0, 3, 6].map((change) =>
          height(heightAt(change, { set: 40, at: 0 }) + 0.3 * random(), 20 + 6 * span + change, { u: 0.3 }),
        ),
      );
      const total = judgeGain(readings, null, 'with-uncertainty').points[8].totalErrorDb;
      return { off: total?.value ?? 0, u: total?.standardUncertainty ?? 0 };
    });
  });
});
