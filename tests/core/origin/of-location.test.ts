import { describe, expect, it } from 'vitest';
import { evaluate } from '../../../core/evaluate.ts';
import { type LocationFigureAsked, originOf } from '../../../core/origin.ts';
import type { PartDecision, Shape } from '../../../core/review/part-decision.ts';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import type { FigureStyle } from '../../../core/units/figure-style.ts';
import { workOut } from '../../build/arithmetic.ts';
import { partOf } from '../../build/part.ts';
import { calibrationGiven } from '../../build/sensitivity.ts';
import { trace } from '../../build/trace.ts';

const metric: FigureStyle = { units: 'metric', decimalMark: '.' };
const styles: readonly FigureStyle[] = [
  metric,
  { units: 'metric', decimalMark: ',' },
  { units: 'inch', decimalMark: '.' },
  { units: 'inch', decimalMark: ',' },
];
const timeAtMm = (pathMm: number): number => 0.5 + (2 * pathMm) / 3.255;
const gates = [20, 45, 70].map((pathMm) => ({
  name: `at ${pathMm}`,
  span: { axis: 'path' as const, fromMm: pathMm - 8, toMm: pathMm + 8 },
  thresholdPercent: 10,
}));
const capture = trace()
  .record(0, 8000)
  .noise(0.2)
  .burst({ timeUs: timeAtMm(20), amplitudePercent: 60, frequencyMHz: 4 })
  .burst({ timeUs: timeAtMm(45), amplitudePercent: 50, frequencyMHz: 4 })
  .burst({ timeUs: timeAtMm(70), amplitudePercent: 40, frequencyMHz: 4 })
  .named('weld.csv')
  .capture();

const checks: PartDecision['checks'] = {
  index: { radiusMm: 100, frontToEndMm: [88.2, 87.9, 88.1], uRulerMm: 0.3 },
  angle: { fromEndMm: 35, depthMm: 70, frontToEndMm: [144.5], uRulerMm: 0.3 },
  elsewhere: { velocityMPerS: 3255, inVelocityMPerS: 3130, wedge: { velocityMPerS: 2730, thenMPerS: 2700 } },
  decision: 'with-uncertainty',
  rule: null,
};

function reviewOf(shape: Shape, side: 'left' | 'right', angleDeg = 60): Review {
  return {
    ...emptyReview,
    calibration: { ...calibrationGiven, velocityMPerS: 3255 },
    readings: { captures: ['weld.csv'], gates, timing: 'peak', beam: null, uAngleDeg: null, series: null },
    part: partOf({
      shape,
      checks,
      probe: { angleDeg },
      placements: [{ captures: ['weld.csv'], side, offsetMm: 40, uOffsetMm: 0.4, position: 'along' }],
    }),
  };
}

const reviews: [string, Review][] = [
  ['plate', reviewOf({ kind: 'plate', thicknessMm: 16, uThicknessMm: 0.1 }, 'left')],
  ['plate from the right', reviewOf({ kind: 'plate', thicknessMm: 25, uThicknessMm: 0.1 }, 'right')],
  [
    'pipe from outside',
    reviewOf({ kind: 'pipe', outsideRadiusMm: 150, thicknessMm: 12, uThicknessMm: 0.1, from: 'outside' }, 'left', 45),
  ],
  [
    'pipe from the bore',
    reviewOf({ kind: 'pipe', outsideRadiusMm: 150, thicknessMm: 12, uThicknessMm: 0.1, from: 'inside' }, 'right'),
  ],
  [
    'pipe whose bore is missed',
    reviewOf({ kind: 'pipe', outsideRadiusMm: 100, thicknessMm: 40, uThicknessMm: 0.1, from: 'outside' }, 'left'),
  ],
  [
    'step block',
    reviewOf({ kind: 'step-block', steps: [{ captures: ['weld.csv'], thicknessMm: 30, uThicknessMm: 0 }] }, 'left', 0),
  ],
];

const everything: readonly LocationFigureAsked[] = [
  ...gates.flatMap(({ name: gate }) =>
    (['depth', 'surface-distance', 'from-front', 'across', 'leg'] as const).map((figure) => ({
      kind: 'location' as const,
      captureId: capture.id,
      gate,
      figure,
    })),
  ),
  ...(['leg-length', 'half-skip', 'skip', 'v-path', 'index-point', 'probe-angle', 'expected-angle'] as const).map(
    (figure) => ({ kind: 'location' as const, figure }),
  ),
];

describe('what is not there', () => {
  it('has no origin: no part, another gate, no skip for a beam that misses the bore', () => {
    const [, plate] = reviews[0]!;
    const none = { ...plate, part: null };
    expect(originOf(everything[0]!, none, evaluate(none, [capture]), metric)).toBeNull();
    const other = { kind: 'location', captureId: capture.id, gate: 'nowhere', figure: 'depth' } as const;
    expect(originOf(other, plate, evaluate(plate, [capture]), metric)).toBeNull();
    const [, missed] = reviews[4]!;
    expect(originOf({ kind: 'location', figure: 'half-skip' }, missed, evaluate(missed, [capture]), metric)).toBeNull();
  });
});

describe('the numbers put into a formula of a location', () => {
  it.each(reviews)('give the value shown to its last digit, worked out by hand: %s', (_, review) => {
    const evaluation = evaluate(review, [capture]);
    let count = 0;
    for (const style of styles)
      for (const figure of everything) {
        const origin = originOf(figure, review, evaluation, style);
        for (const shown of [origin?.formula ?? null, origin?.uncertaintyFormula ?? null]) {
          if (shown === null) continue;
          const [formula, result] = shown.withNumbers.split(' = ');
          const stated = /^-?[\d.,]+/.exec(result!)![0].replace(',', '.');
          const decimals = stated.split('.')[1]?.length ?? 0;
          const worked = Number(workOut(formula!, style.decimalMark).toFixed(decimals)) + 0;
          expect(worked, `${origin!.title}: ${shown.withNumbers}`).toBeCloseTo(Number(stated), 9);
          count += 1;
        }
      }
    expect(count).toBeGreaterThan(60);
  });

  it('give what the evaluation has', () => {
    for (const [, review] of reviews) {
      const evaluation = evaluate(review, [capture]);
      for (const { gate, place } of evaluation.location!.readings) {
        const of = (figure: 'depth' | 'surface-distance' | 'across') =>
          Number.parseFloat(
            originOf({ kind: 'location', captureId: capture.id, gate, figure }, review, evaluation, metric)!.value,
          );
        expect(of('depth')).toBeCloseTo(place!.depthMm.value, 1);
        expect(of('surface-distance')).toBeCloseTo(place!.surfaceDistanceMm.value, 1);
        expect(of('across')).toBeCloseTo(place!.acrossMm!.value, 1);
      }
    }
  });

  it('walk from the place across the weld to the surface distance, the sound path, and on', () => {
    const [, review] = reviews[0]!;
    const evaluation = evaluate(review, [capture]);
    const across = originOf(everything[3]!, review, evaluation, metric)!;
    expect(across.title).toBe('Across the weld at gate ‘at 20’');
    const surface = originOf(across.inputs[0]!.asked!, review, evaluation, metric)!;
    const path = originOf(surface.inputs[0]!.asked!, review, evaluation, metric)!;
    expect([surface.title, path.title]).toEqual(['Surface distance at gate ‘at 20’', 'Sound path at gate ‘at 20’']);
    expect(across.capture?.samples).not.toBeNull();
  });
});
