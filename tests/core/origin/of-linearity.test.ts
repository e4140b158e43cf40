import { describe, expect, it } from 'vitest';
import { evaluate } from '../../../core/evaluate.ts';
import { type FigureAsked, type LinearityFigureAsked, type Origin, originOf } from '../../../core/origin.ts';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { workOut } from '../../build/arithmetic.ts';
import { trace } from '../../build/trace.ts';

const plate = [0, 1, 2, 3, 4]
  .reduce(
    (words, i) => words.burst({ timeUs: 9 + 8 * i + (i === 2 ? 0.3 : 0), amplitudePercent: 80 - 8 * i }),
    trace().noise(0.3).named('plate.csv'),
  )
  .capture();
const stepped = [42, 40, 34, 28, 22, 16].map((gainDb, i) =>
  trace()
    .record(10, 3000)
    .burst({ timeUs: 20, amplitudePercent: 80 * 10 ** ((0.97 * (gainDb - 40)) / 20) })
    .noise(0.2, i + 2)
    .clippedAt(100)
    .gain(gainDb)
    .named(`at-${gainDb}.csv`)
    .capture(),
);
const window = { fromUs: 18, toUs: 22 };
const shared = { thresholdPercent: 2, decision: 'with-uncertainty', steps: null } as const;
const files = stepped.map(({ file }) => file);
const review: Review = {
  ...emptyReview,
  linearity: {
    timeBase: {
      captures: ['plate.csv'],
      reflectors: { kind: 'equally-spaced', fromUs: 5, toUs: 60, abovePercent: 5, spacingMm: 25 },
      timing: 'peak',
      thresholdPercent: 10,
      range: null,
      line: 'end-points',
      decision: 'with-uncertainty',
      rule: { kind: 'published', name: 'iso-22232-1-time-base' },
    },
    screenHeight: {
      form: 'stepped-gain',
      captures: files,
      window,
      ...shared,
      rule: { kind: 'published', name: 'iso-22232-3-screen-height' },
    },
    gain: { captures: files, window, ...shared, rule: { kind: 'published', name: 'iso-22232-1-gain' } },
  },
};
const evaluation = evaluate(review, [plate, ...stepped]);
const comma = { ...metricStyle, decimalMark: ',' } as const;

function told(asked: FigureAsked, style = metricStyle as typeof comma | typeof metricStyle): Origin {
  const origin = originOf(asked, review, evaluation, style);
  if (origin === null) throw new Error(`nothing told of ${JSON.stringify(asked)}`);
  return origin;
}

const everyStep = (['timeBase', 'screenHeight', 'gain'] as const).flatMap((part) =>
  (['steps', 'conclusions'] as const).flatMap((of) =>
    (evaluation.linearity[part]?.[of] ?? []).map((step, index) => ({ part, of, index, step })),
  ),
);

describe('origins of linearity', () => {
  it('there is something to ask', () => {
    expect(everyStep.length).toBeGreaterThan(15);
  });

  it.each([
    ['a step that there is not', { kind: 'linearity', part: 'timeBase', of: 'steps', index: 99, figure: 'read' }],
    [
      'a setting that there is not',
      { kind: 'linearity', part: 'gain', of: 'points', index: 99, figure: 'total-error' },
    ],
  ] as [string, LinearityFigureAsked][])('%s: nothing', (_name, asked) => {
    expect(originOf(asked, review, evaluation, metricStyle)).toBeNull();
  });

  it('a check that was not asked for: nothing', () => {
    const none = evaluate(emptyReview, []);
    expect(
      originOf({ kind: 'linearity', part: 'gain', of: 'check', figure: 'verdict' }, emptyReview, none, metricStyle),
    ).toBeNull();
  });

  it.each([
    ['.', metricStyle],
    [',', comma],
  ] as const)('every deviation and its uncertainty, worked out as they stand (decimals with "%s")', (mark, style) => {
    for (const { part, of, index, step } of everyStep) {
      if (step.deviation === null) continue;
      const { formula, uncertaintyFormula, value, uncertainty } = told(
        { kind: 'linearity', part, of, index, figure: 'deviation' },
        style,
      );
      for (const shown of [formula, uncertaintyFormula]) {
        if (shown === null) continue;
        const [left, right] = shown.withNumbers.split(' = ');
        const number = right.replace(/ [^ ]+$/, '');
        const last = 10 ** -(number.split(mark)[1]?.length ?? 0);
        expect(Math.abs(workOut(left, mark) - Number(number.replace(',', '.')))).toBeLessThanOrEqual(last / 2 + 1e-9);
      }
      expect(value).toMatch(/(%|dB)$/);
      if ((step.deviation.standardUncertainty ?? 0) > 0)
        expect(uncertainty).toMatch(/^± .* \(standard uncertainty, k = 1\)$/);
    }
  });

  it('from a verdict by its deviation to what was read, down to the samples', () => {
    const verdict = told({ kind: 'linearity', part: 'timeBase', of: 'steps', index: 2, figure: 'verdict' });
    expect(verdict.title).toBe('Verdict: echo 3');
    expect(verdict.formula?.withNumbers).toContain('allowed -1.00 % to 1.00 %');
    const deviation = told(verdict.inputs[0].asked as FigureAsked);
    expect(deviation.inputs.map(({ name }) => name)).toEqual(['time of the echo', 'time on the line', 'full range']);
    const read = told(deviation.inputs[0].asked as FigureAsked);
    expect(read.value).toMatch(/^25\.3\d* µs$/);
    expect(read.capture).toMatchObject({ captureId: 'plate.csv', timeUs: expect.closeTo(25.3, 1) });
    expect(read.capture?.samples).not.toBeNull();
  });

  it('the verdict of a check is the worst of its steps, each of which can be asked', () => {
    const check = told({ kind: 'linearity', part: 'screenHeight', of: 'check', figure: 'verdict' });
    expect(check.value).toBe('pass');
    expect(check.inputs).toHaveLength(5);
    for (const { asked } of check.inputs)
      expect(told(asked as FigureAsked).title).toMatch(/^Verdict: [+−]\d+ dB from 80 %$/);
  });

  it('a step that was not assessed says why', () => {
    const index =
      evaluation.linearity.gain?.conclusions.findIndex((step) => step.name.startsWith('range of at least')) ?? -1;
    const deviation = told({ kind: 'linearity', part: 'gain', of: 'conclusions', index, figure: 'deviation' });
    expect(deviation.value).toBe('–');
    expect(deviation.source).toContain('cover 26 dB');
  });

  it('a total error of the gain', () => {
    const points = evaluation.linearity.gain?.points ?? [];
    const total = told({
      kind: 'linearity',
      part: 'gain',
      of: 'points',
      index: points.length - 1,
      figure: 'total-error',
    });
    expect(total.title).toBe('Total error at 16 dB');
    expect(total.uncertainty).not.toBeNull();
  });
});
