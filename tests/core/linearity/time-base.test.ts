import { describe, expect, it } from 'vitest';
import type { TimeBaseRule } from '../../../core/linearity/rule.ts';
import { judgeTimeBase, type PlacedEcho, type TimeBaseInput } from '../../../core/linearity/time-base.ts';
import { workOut } from '../../build/arithmetic.ts';
import { publishedRule } from '../../build/heights.ts';

const rule = (name: string) => publishedRule(name) as TimeBaseRule;

function echo(
  place: number,
  timeUs: number | null,
  { u = 0 as number | null, uPlace = 0, flags = [] as PlacedEcho['flags'] } = {},
): PlacedEcho {
  return {
    place,
    uPlace,
    name: `echo ${place}`,
    captureId: timeUs === null ? null : 'plate.csv',
    timeUs: timeUs === null ? null : { value: timeUs, standardUncertainty: u },
    flags,
    from: null,
    missing: timeUs === null ? 'no echo stands where this one should' : null,
  };
}

/** Eleven echoes 8 µs apart; a bend is a parabola over the whole range, in % of it. */
const eleven = (bendPercent = 0, u: number | null = 0.001): PlacedEcho[] =>
  Array.from({ length: 11 }, (_, i) => echo(i + 1, 9 + 8 * i + 0.8 * bendPercent * 4 * (i / 10) * (1 - i / 10), { u }));

const input = (echoes: readonly PlacedEcho[], given: Partial<TimeBaseInput> = {}): TimeBaseInput => ({
  echoes,
  places: 'numbers',
  spacingMm: null,
  rule: rule('iso-22232-3-time-base'),
  line: 'end-points',
  range: null,
  decision: 'with-uncertainty',
  ...given,
});

function judged(of: TimeBaseInput) {
  const outcome = judgeTimeBase(of);
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.sentence).join('; '));
  return outcome.value;
}

describe('judgeTimeBase: what cannot be judged', () => {
  it.each<[string, TimeBaseInput, string]>([
    ['no echo', input([]), 'too-few-echoes'],
    ['one echo', input([echo(1, 9), echo(2, null)]), 'too-few-echoes'],
    [
      'a rule with anchors and distances',
      input(eleven(), { places: 'distances', rule: rule('astm-e317-time-base') }),
      'anchors-need-numbers',
    ],
    [
      'a range in path without the spacing',
      input(eleven(), { range: { axis: 'path', widthMm: 250 } }),
      'range-needs-spacing',
    ],
    [
      'a range narrower than the reflectors',
      input(eleven(), { range: { axis: 'time', widthUs: 70 } }),
      'range-too-small',
    ],
  ])('%s', (_name, of, code) => {
    const outcome = judgeTimeBase(of);
    expect(outcome.ok ? [] : outcome.problems.map((p) => p.code)).toEqual([code]);
  });

  it('a missing echo is a step not assessed, keeps its number, and keeps the rule from passing', () => {
    const echoes = eleven().map((of) => (of.place === 4 ? echo(4, null) : of));
    const { steps, outcome } = judged(input(echoes));
    expect(steps[3]).toMatchObject({ name: 'echo 4', deviation: null, verdict: { outcome: 'not-assessed' } });
    expect(steps[3].remark).toContain('no echo stands');
    expect(steps[4].deviation?.value).toBeCloseTo(0, 10);
    expect(outcome).toBe('not-assessed');
  });

  it('fewer reflectors than the rule needs: their deviations stand, the rule does not pass', () => {
    const { steps, conclusions, outcome } = judged(input(eleven().slice(0, 4), { rule: rule('aws-d1.1-time-base') }));
    expect(steps.map((step) => step.verdict?.outcome)).toEqual([undefined, 'pass', 'pass', undefined]);
    expect(conclusions[0]).toMatchObject({ name: 'at least 5 reflectors', verdict: { outcome: 'not-assessed' } });
    expect(outcome).toBe('not-assessed');
  });

  it('an anchor that is missing leaves every step without a deviation, and says which', () => {
    const { steps, line } = judged(input(eleven().slice(0, 8), { rule: rule('astm-e317-time-base') }));
    expect(line).toBeNull();
    expect(steps.every((step) => step.deviation === null && step.remark?.includes('echoes 3 and 9'))).toBe(true);
    expect(steps[0].read?.value).toBe(9);
  });

  it('an unknown uncertainty can fail, but not pass', () => {
    expect(judged(input(eleven(0, null))).outcome).toBe('inconclusive');
    expect(judged(input(eleven(3, null))).outcome).toBe('fail');
  });

  it('a doubtful echo can fail, but not pass', () => {
    const doubted = eleven().map((of) => (of.place === 5 ? { ...of, flags: ['ambiguous-echo'] as const } : of));
    expect(judged(input(doubted)).steps[4].verdict?.outcome).toBe('inconclusive');
  });
});

describe('judgeTimeBase: the line by the rule’s own definition', () => {
  it.each<[string, number, number[], 'pass' | 'fail' | null]>([
    // A parabola of 1.6 % seen from its chord, from echoes 3 and 9 (4 · 1.6 · x · (1 − x) less its value at 0.2), and from its fit.
    ['iso-22232-1-time-base', 1.6, [0, 0.576, 1.024, 1.344, 1.536, 1.6, 1.536, 1.344, 1.024, 0.576, 0], 'fail'],
    ['iso-22232-3-time-base', 1.6, [0, 0.576, 1.024, 1.344, 1.536, 1.6, 1.536, 1.344, 1.024, 0.576, 0], 'pass'],
    ['aws-d1.1-time-base', 1.6, [0, 0.576, 1.024, 1.344, 1.536, 1.6, 1.536, 1.344, 1.024, 0.576, 0], 'pass'],
    ['astm-e317-time-base', 1.6, [-1.024, -0.448, 0, 0.32, 0.512, 0.576, 0.512, 0.32, 0, -0.448, -1.024], null],
  ])('%s, a bend of %d %', (name, bend, deviations, outcome) => {
    const result = judged(input(eleven(bend), { rule: rule(name) }));
    expect(result.steps.map((step) => step.deviation?.value)).toEqual(
      deviations.map((value) => expect.closeTo(value, 9)),
    );
    expect(result.outcome).toBe(outcome);
    expect(result.rangeUs).toBeCloseTo(80, 9);
  });

  it('least squares without a rule: figures and no verdict', () => {
    const result = judged(input(eleven(1.6), { rule: null, line: 'least-squares' }));
    expect(result.steps[5].deviation?.value).toBeCloseTo(1.6 - (4 * 1.6 * 1.5) / 10, 9);
    expect(result.steps.every((step) => step.verdict === null)).toBe(true);
    expect(result.outcome).toBeNull();
    expect(result.greatest).toBe(0);
  });

  it.each<[string, Partial<TimeBaseInput>, number, string]>([
    ['the span of the reflectors', {}, 80, 'span'],
    ['stated in time', { range: { axis: 'time', widthUs: 100 } }, 100, 'stated'],
    ['stated in path, by the spacing', { range: { axis: 'path', widthMm: 300 }, spacingMm: 25 }, 96, 'stated'],
    ['of distances, stated in path', { places: 'distances', range: { axis: 'path', widthMm: 12 } }, 96, 'stated'],
    [
      'by the anchors, whatever was stated',
      { range: { axis: 'time', widthUs: 100 }, rule: rule('astm-e317-time-base') },
      80,
      'anchors',
    ],
  ])('full range: %s', (_name, given, rangeUs, from) => {
    const result = judged(input(eleven(), given));
    expect(result.rangeUs).toBeCloseTo(rangeUs, 9);
    expect(result.rangeFrom).toBe(from);
  });

  it('says that the span was taken, and that a range beside anchors is not used', () => {
    expect(judged(input(eleven())).warnings.map((w) => w.code)).toEqual(['range-from-span']);
    const anchored = input(eleven(), { rule: rule('astm-e317-time-base'), range: { axis: 'time', widthUs: 99 } });
    expect(judged(anchored).warnings.map((w) => w.code)).toEqual(['range-from-anchors']);
  });

  it('an echo that the line is drawn through has no verdict of its own', () => {
    const { steps } = judged(input(eleven(1)));
    expect(steps[0].verdict).toBeNull();
    expect(steps[0].remark).toContain('drawn through');
  });
});

describe('judgeTimeBase: uncertainty and decision', () => {
  it('a middle echo between two end points: u² = u² + u²/4 + u²/4', () => {
    const { steps } = judged(input([echo(1, 9, { u: 0.02 }), echo(2, 17, { u: 0.02 }), echo(3, 25, { u: 0.02 })]));
    expect(steps[1].deviation?.standardUncertainty).toBeCloseTo((100 / 16) * 0.02 * Math.sqrt(1.5), 12);
  });

  it('the tolerance of a distance counts as the time that it stands for', () => {
    const echoes = [25, 50, 75].map((mm) => echo(mm, 1 + mm / 3, { u: 0, uPlace: mm === 50 ? 0.3 : 0 }));
    const { steps } = judged(input(echoes, { places: 'distances' }));
    expect(steps[1].deviation?.standardUncertainty).toBeCloseTo((100 / (50 / 3)) * (0.3 / 3), 12);
  });

  it.each<[number, number, string]>([
    [2, 0, 'pass'],
    [1.9, 0.04, 'pass'],
    [1.95, 0.04, 'inconclusive'],
    [2.05, 0.04, 'inconclusive'],
    [2.2, 0.04, 'fail'],
  ])('a bend of %d with u of %d % of the range: %s', (bend, uPercent, outcome) => {
    const u = (uPercent * 80) / 100 / Math.sqrt(1.5);
    expect(judged(input(eleven(bend, u))).steps[5].verdict?.outcome).toBe(outcome);
  });

  it('simple acceptance lets the value alone decide', () => {
    expect(judged(input(eleven(1.95, 0.1), { decision: 'simple-acceptance' })).outcome).toBe('pass');
  });

  it('the arithmetic, worked out as it stands, gives the deviation as it stands', () => {
    for (const { arithmetic } of judged(input(eleven(1.37))).steps) {
      const [formula, value] = (arithmetic?.withNumbers ?? '').split(' = ');
      expect(Math.abs(workOut(formula) - Number(value.replace(' %', '')))).toBeLessThanOrEqual(0.005 + 1e-9);
    }
  });
});
