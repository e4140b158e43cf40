import { describe, expect, it } from 'vitest';
import { evaluate } from '../../core/evaluate.ts';
import { type FigureAsked, originOf, type SensitivityFigureAsked } from '../../core/origin.ts';
import { emptyReview, type Review } from '../../core/review/review.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { workOut } from '../build/arithmetic.ts';
import {
  calibrationGiven,
  curveDecision,
  holeCapture,
  reflectorAt,
  sensitivityOf,
  timeAtMm,
} from '../build/sensitivity.ts';
import { trace } from '../build/trace.ts';

const distances = [30, 50, 70, 90];
const holes = distances.map((mm, i) => holeCapture(mm, { gainDb: 40 + 6 * i, seed: i + 1 }));
const parts = [
  holeCapture(60, { gainDb: 54, named: 'part-1.csv', seed: 9, offPeakDb: 8 }),
  holeCapture(50, { gainDb: 66, named: 'part-2.csv', clip: 100 }),
  holeCapture(120, { gainDb: 66, named: 'part-3.csv' }),
];
const plate = (first: number, name: string, gainDb: number) =>
  trace()
    .record(0, 6000)
    .burst({ timeUs: timeAtMm(50), amplitudePercent: first })
    .burst({ timeUs: timeAtMm(100), amplitudePercent: first * 0.4 })
    .noise(0.1, 3)
    .gain(gainDb)
    .named(name)
    .capture();
const plates = [plate(60, 'low.csv', 30), plate(150, 'high.csv', 40)];

const review = (given: Parameters<typeof curveDecision>[1] = {}): Review => ({
  ...emptyReview,
  calibration: calibrationGiven,
  readings: {
    captures: parts.map(({ file }) => file),
    gates: [{ name: 'weld', span: { axis: 'path', fromMm: 40, toMm: 130 }, thresholdPercent: 5 }],
    timing: 'peak',
    beam: null,
    uAngleDeg: null,
    series: null,
  },
  sensitivity: sensitivityOf(
    curveDecision(distances, {
      levels: { kind: 'published', name: 'minus-6-minus-14' },
      transferCorrectionDb: 2,
      uTransferCorrectionDb: 0.5,
      ...given,
    }),
    {
      attenuation: {
        captures: ['low.csv', 'high.csv'],
        near: reflectorAt(50, 'low.csv'),
        far: reflectorAt(100, 'high.csv'),
        thresholdPercent: 5,
      },
      probe: { elementMm: 6, frequencyMHz: 4, velocityMPerS: null },
    },
  ),
});
const captures = [...holes, ...parts, ...plates];
const inDb = review();
const evaluation = evaluate(inDb, captures);
const metric: FigureStyle = { units: 'metric', decimalMark: '.' };

const everything: readonly SensitivityFigureAsked[] = [
  ...(['reference-gain', 'attenuation', 'apparent-attenuation', 'near-field'] as const).map(
    (figure) => ({ kind: 'sensitivity', figure }) as const,
  ),
  ...distances.flatMap((distanceMm) =>
    (['point-amplitude', 'point-level', 'point-height', 'curve', 'added-gain'] as const).map(
      (figure) => ({ kind: 'sensitivity', figure, distanceMm }) as const,
    ),
  ),
  ...[50, 100].map((distanceMm) => ({ kind: 'sensitivity', figure: 'back-wall-amplitude', distanceMm }) as const),
  ...parts.flatMap(({ id: captureId }) =>
    (['reading-level', 'curve-at-reading', 'to-curve', 'percent-of-curve'] as const).map(
      (figure) => ({ kind: 'sensitivity', figure, captureId, gate: 'weld' }) as const,
    ),
  ),
];

describe('the numbers put into a formula of sensitivity', () => {
  const styles: [string, FigureStyle, Review][] = [
    ['metric, point, straight in dB', metric, inDb],
    ['metric, comma, straight in %', { units: 'metric', decimalMark: ',' }, review({ straightIn: 'percent' })],
    ['inch, point, gain stated', { units: 'inch', decimalMark: '.' }, review({ referenceGainDb: 44 })],
    [
      'inch, comma, straight in %',
      { units: 'inch', decimalMark: ',' },
      review({ straightIn: 'percent', transferCorrectionDb: 0 }),
    ],
  ];
  it.each(styles)('give the value shown to its last digit, worked out by hand: %s', (_, style, asked) => {
    const found = evaluate(asked, captures);
    let count = 0;
    for (const figure of everything) {
      const origin = originOf(figure, asked, found, style);
      if (origin === null) throw new Error(`nothing is known of ${JSON.stringify(figure)}`);
      for (const shown of [origin.formula, origin.uncertaintyFormula]) {
        if (shown === null) continue;
        const [formula, result] = shown.withNumbers.split(' = ');
        const stated = /^-?[\d.,]+/.exec(result!)![0].replace(',', '.');
        const decimals = stated.split('.')[1]?.length ?? 0;
        const worked = Number(workOut(formula!, style.decimalMark).toFixed(decimals)) + 0;
        expect(worked, `${origin.title}: ${shown.withNumbers}`).toBeCloseTo(Number(stated), 9);
        count += 1;
      }
    }
    expect(count).toBeGreaterThan(25);
  });

  it('give what the evaluation has', () => {
    const { curve, attenuation, nearField } = evaluation.sensitivity!;
    const value = (figure: FigureAsked) => Number.parseFloat(originOf(figure, inDb, evaluation, metric)!.value);
    const [held] = curve!.readings;
    const reading = { kind: 'sensitivity', captureId: parts[0]!.id, gate: 'weld' } as const;
    expect(value({ ...reading, figure: 'to-curve' })).toBeCloseTo(held!.toCurveDb!.value, 1);
    expect(value({ ...reading, figure: 'percent-of-curve' })).toBeCloseTo(held!.percentOfCurve!.value, 0);
    expect(value({ kind: 'sensitivity', figure: 'attenuation' })).toBeCloseTo(
      1000 * curve!.law!.attenuationDbPerMm.value,
      1,
    );
    expect(value({ kind: 'sensitivity', figure: 'apparent-attenuation' })).toBeCloseTo(
      1000 * attenuation!.attenuationDbPerMm.value,
      1,
    );
    expect(value({ kind: 'sensitivity', figure: 'near-field' })).toBeCloseTo(nearField!.lengthMm, 1);
  });

  const ofPart = (part: number) =>
    originOf(
      { kind: 'sensitivity', figure: 'to-curve', captureId: parts[part]!.id, gate: 'weld' },
      inDb,
      evaluation,
      metric,
    )!;

  it('mark a lower bound', () => {
    const bound = ofPart(1);
    expect(bound.value).toMatch(/^≥ /);
    expect(bound.flags.map(({ flag }) => flag)).toContain('saturated');
    expect(bound.source).toMatch(/cut off: the echo stands at least so high/);
  });

  it('are not there for a reading outside the curve, which says why', () => {
    const outside = ofPart(2);
    expect([outside.value, outside.formula]).toEqual(['–', null]);
    expect(outside.flags.map(({ flag }) => flag)).toEqual(['outside-curve']);
    expect(outside.source).toMatch(/behind the last point/);
  });
});

describe('walking back', () => {
  it('every input that can be asked has an answer with the value that the input had', () => {
    const seen = new Set<string>();
    const walk = (figure: FigureAsked): void => {
      const key = JSON.stringify(figure);
      if (seen.has(key)) return;
      seen.add(key);
      const origin = originOf(figure, inDb, evaluation, metric);
      expect(origin, key).not.toBeNull();
      for (const { name, value, asked } of origin!.inputs) {
        if (asked === null) continue;
        expect(originOf(asked, inDb, evaluation, metric)?.value, `${key}: ${name}`).toBe(value.replace(/ ± \S+/, ''));
        walk(asked);
      }
    };
    everything.forEach(walk);
    expect(seen.size).toBeGreaterThan(everything.length);
  });

  it('ends at the samples of the reflector’s own capture', () => {
    const end = originOf({ kind: 'sensitivity', figure: 'point-amplitude', distanceMm: 50 }, inDb, evaluation, metric)!;
    expect(end.capture).toMatchObject({ captureId: 'hole-50.csv', timeUs: expect.closeTo(timeAtMm(50), 2) });
  });

  it('there is no answer to what is not there', () => {
    const at = (figure: 'point-level' | 'curve', distanceMm: number) =>
      originOf({ kind: 'sensitivity', figure, distanceMm }, inDb, evaluation, metric);
    expect([at('point-level', 31), at('curve', 100)]).toEqual([null, null]);
    const nothing = evaluate(emptyReview, []);
    expect(originOf({ kind: 'sensitivity', figure: 'attenuation' }, emptyReview, nothing, metric)).toBeNull();
  });
});
