import { describe, expect, it } from 'vitest';
import { evaluate } from '../../core/evaluate.ts';
import { inferEverything } from '../../core/import/import-recipe.ts';
import { type FigureAsked, type Origin, originOf } from '../../core/origin.ts';
import { emptyReview, type Review } from '../../core/review/review.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { workOut } from '../build/arithmetic.ts';
import { trace } from '../build/trace.ts';

/** Transverse waves at 3,240 m/s behind a zero offset of 7.3 µs. */
const timeUs = (pathMm: number): number => 7.3 + (2 * pathMm) / 3.24;
const echo = (pathMm: number, amplitudePercent: number) => ({
  timeUs: timeUs(pathMm),
  amplitudePercent,
  frequencyMHz: 4,
});

const block = trace()
  .record(50, 20_000)
  .burst(echo(100, 80))
  .burst(echo(225, 42))
  .burst(echo(350, 22))
  .noise(0.3)
  .gain(42)
  .named('block.csv')
  .capture();
/** Over one reflector at 30 mm: a parabola of 0.5 dB/mm² about 1 mm; the third with 6 dB more gain. */
const part = [-2, -1, 0, 1, 2, 3, 4].map((positionMm, i) => {
  const gainDb = i === 2 ? 54 : 48;
  const levelDb = -0.5 * (positionMm - 1) ** 2 + gainDb - 48;
  return {
    ...trace()
      .record(10, 6_000)
      .burst(echo(30, 40 * 10 ** (levelDb / 20)))
      .burst(echo(52, 30))
      .noise(0.3, 10 + i)
      .gain(gainDb)
      .named(`part-${i}.csv`)
      .capture(),
    positionMm,
  };
});
const checks = [0, 0.5].map((shiftUs, i) =>
  trace()
    .record(50, 12_000)
    .burst({ ...echo(100, 40), timeUs: timeUs(100) + shiftUs })
    .burst({ ...echo(225, 21), timeUs: timeUs(225) + shiftUs })
    .noise(0.3, 4 + i)
    .gain(36)
    .takenAt(`2026-03-02T1${i}:00:00Z`)
    .named(`check-${i}.csv`)
    .capture(),
);
const captures = [block, ...part, ...checks];

const reflectors = [
  { distanceMm: 100, toleranceMm: 0.1, fromUs: 66, toUs: 73, capture: null },
  { distanceMm: 225, toleranceMm: 0.1, fromUs: 143, toUs: 150, capture: null },
  { distanceMm: 350, toleranceMm: 0.1, fromUs: 219, toUs: 227, capture: null },
];

const review: Review = {
  ...emptyReview,
  sources: captures.map(({ file }) => ({
    file,
    sha256: null,
    recipe: structuredClone(inferEverything) as Review['sources'][number]['recipe'],
    facts: [],
  })),
  calibration: {
    kind: 'fit',
    captures: ['block.csv'],
    reflectors: { kind: 'windows', list: reflectors },
    timing: 'peak',
    thresholdPercent: 10,
    nominal: { material: 'steel', mode: 'transverse' },
  },
  readings: {
    captures: part.map(({ file }) => file),
    gates: [
      { name: 'root', span: { axis: 'path', fromMm: 24, toMm: 36 }, thresholdPercent: 10 },
      { name: 'cap', span: { axis: 'path', fromMm: 48, toMm: 56 }, thresholdPercent: 10 },
      { name: 'nothing', span: { axis: 'path', fromMm: 70, toMm: 80 }, thresholdPercent: 10 },
    ],
    timing: 'peak',
    beam: { angleDeg: 60, thicknessMm: 16 },
    uAngleDeg: 0.5,
    series: { offPeakDb: 1 },
  },
  drift: {
    captures: checks.map(({ file }) => file),
    reflectors: reflectors.slice(0, 2),
    amplitudePercent: 80,
    thresholdPercent: 5,
    rangeMm: 20,
    rule: { kind: 'published', name: 'iso-17640' },
    decision: 'with-uncertainty',
  },
};
const evaluation = evaluate(review, captures);
const metric: FigureStyle = { units: 'metric', decimalMark: '.' };

const ofReading = (figure: Extract<FigureAsked, { kind: 'reading' }>['figure'], gate = 'root', capture = part[0]!) =>
  ({ kind: 'reading', captureId: capture.id, gate, figure }) as const;
const asked = (figure: FigureAsked, of: Review = review, by = evaluation): Origin => {
  const origin = originOf(figure, of, by, metric);
  if (origin === null) throw new Error(`nothing is known of ${JSON.stringify(figure)}`);
  return origin;
};
const readingAt = (gate: string, index = 0) =>
  evaluation.readings!.readings.find((r) => r.gate === gate && r.captureId === part[index]!.id)!;

const readingFigures = [
  'time',
  'amplitude',
  'sound-path',
  'depth',
  'surface-distance',
  'leg',
  'below-peak',
  'crossing',
  'signal-to-noise',
] as const;

/** Every figure that the screens show. */
const everything: readonly FigureAsked[] = [
  ...part.flatMap(({ id }) =>
    ['root', 'cap', 'nothing'].flatMap((gate) =>
      readingFigures.map((figure) => ({ kind: 'reading', captureId: id, gate, figure }) as const),
    ),
  ),
  ...(['peak', 'peak-position', 'path-range'] as const).map(
    (figure) => ({ kind: 'series', gate: 'root', figure }) as const,
  ),
  { kind: 'calibration', figure: 'velocity' },
  { kind: 'calibration', figure: 'zero-offset' },
  ...reflectors.flatMap(({ distanceMm }) =>
    (['time', 'residual', 'amplitude'] as const).map(
      (figure) => ({ kind: 'calibration-point', distanceMm, figure }) as const,
    ),
  ),
  ...checks.flatMap(({ id: captureId }) => [
    ...(['velocity-change', 'zero-offset-change', 'verdict', 'velocity', 'zero-offset'] as const).map(
      (figure) => ({ kind: 'drift', captureId, distanceMm: null, figure }) as const,
    ),
    ...[100, 225].flatMap((distanceMm) =>
      (['distance-error', 'amplitude-change', 'verdict', 'time', 'amplitude', 'sound-path'] as const).map(
        (figure) => ({ kind: 'drift', captureId, distanceMm, figure }) as const,
      ),
    ),
  ]),
];

const decimalsOf = (text: string) => /[.,](\d+)/.exec(text)?.[1]?.length ?? 0;

/** Each `formula = result` of a text: the formula worked out, and the result as it stands. */
function equations(
  text: string,
  mark: '.' | ',',
): readonly (readonly [worked: number, stated: number, decimals: number])[] {
  return [...text.matchAll(/(?:^|; |\n)([^;=\n]+) = (-?[\d.,]+)/g)].map(([, formula, result]) => {
    const plain = result!.replace(/[.,]$/, '');
    return [workOut(formula!, mark), Number(plain.replace(',', '.')), decimalsOf(plain)];
  });
}

describe('the numbers put into a formula', () => {
  it.each<[string, FigureStyle]>([
    ['metric, point', metric],
    ['metric, comma', { units: 'metric', decimalMark: ',' }],
    ['inch, point', { units: 'inch', decimalMark: '.' }],
    ['inch, comma', { units: 'inch', decimalMark: ',' }],
  ])('give the value shown to its last digit, worked out by hand: %s', (_, style) => {
    let count = 0;
    for (const figure of everything) {
      const origin = originOf(figure, review, evaluation, style)!;
      for (const formula of [origin.formula, origin.uncertaintyFormula]) {
        for (const [worked, stated, decimals] of equations(formula?.withNumbers ?? '', style.decimalMark)) {
          expect(Number(worked.toFixed(decimals)), `${origin.title}: ${formula?.withNumbers}`).toBeCloseTo(stated, 9);
          count += 1;
        }
      }
    }
    expect(count).toBeGreaterThan(100);
  });

  it.each<[string, FigureAsked, number]>([
    ['sound path', ofReading('sound-path'), readingAt('root').soundPathMm!.value],
    ['depth on the first leg', ofReading('depth'), readingAt('root').depthMm!.value],
    ['depth on the second leg', ofReading('depth', 'cap'), readingAt('cap').depthMm!.value],
    ['surface distance', ofReading('surface-distance'), readingAt('root').surfaceDistanceMm!.value],
    ['dB below the peak at another gain', ofReading('below-peak', 'root', part[2]!), readingAt('root', 2).belowPeakDb!],
    ['signal to noise', ofReading('signal-to-noise'), readingAt('root').signalToNoiseDb!],
    [
      'velocity, in mm/µs',
      { kind: 'calibration', figure: 'velocity' },
      evaluation.calibration!.calibration!.velocityMPerS.value / 1000,
    ],
    [
      'zero offset',
      { kind: 'calibration', figure: 'zero-offset' },
      evaluation.calibration!.calibration!.zeroOffsetUs.value,
    ],
    [
      'residual',
      { kind: 'calibration-point', distanceMm: 225, figure: 'residual' },
      evaluation.calibration!.calibration!.points[1]!.residualMm,
    ],
    [
      'distance error',
      { kind: 'drift', captureId: checks[1]!.id, distanceMm: 225, figure: 'distance-error' },
      evaluation.drift!.checks[1]!.reflectors[1]!.distanceErrorMm!.value,
    ],
    [
      'amplitude change, gain taken out',
      { kind: 'drift', captureId: checks[1]!.id, distanceMm: 225, figure: 'amplitude-change' },
      evaluation.drift!.checks[1]!.reflectors[1]!.amplitudeChangeDb!.value,
    ],
    [
      'velocity change',
      { kind: 'drift', captureId: checks[1]!.id, distanceMm: null, figure: 'velocity-change' },
      evaluation.drift!.checks[1]!.velocityChangePercent!.value,
    ],
    [
      'zero offset change',
      { kind: 'drift', captureId: checks[1]!.id, distanceMm: null, figure: 'zero-offset-change' },
      evaluation.drift!.checks[1]!.zeroOffsetChangeUs!.value,
    ],
  ])('give what the evaluation has: %s', (_, figure, value) => {
    const [[worked, , decimals]] = equations(asked(figure).formula!.withNumbers, '.') as [[number, number, number]];
    expect(Number(worked.toFixed(decimals)) + 0).toBe(Number(value.toFixed(decimals)) + 0);
  });

  it.each<[string, FigureAsked, number]>([
    ['sound path', ofReading('sound-path'), readingAt('root').soundPathMm!.standardUncertainty!],
    ['depth on the second leg', ofReading('depth', 'cap'), readingAt('cap').depthMm!.standardUncertainty!],
    ['surface distance', ofReading('surface-distance'), readingAt('root').surfaceDistanceMm!.standardUncertainty!],
  ])('give the uncertainty too: %s', (_, figure, u) => {
    const [[worked, , decimals]] = equations(asked(figure).uncertaintyFormula!.withNumbers, '.') as [
      [number, number, number],
    ];
    expect(worked.toFixed(decimals)).toBe(u.toFixed(decimals));
  });

  it('are those of a limit worked out for a verdict', () => {
    const failing = asked({ kind: 'drift', captureId: checks[1]!.id, distanceMm: 100, figure: 'verdict' });
    expect(failing.value).toBe('fail');
    expect(failing.formula?.withNumbers).toMatch(
      /0\.\d+ mm − 2 · 0\.\d+ mm = 0\.\d+ mm; .*allowed -0\.40 mm to 0\.40 mm: fail/,
    );
    expect(failing.inputs.find((input) => input.name === 'allowed')?.value).toMatch(/2 % of the range of 20 mm/);
  });
});

describe('walking back', () => {
  it('every input that can be asked has an answer, and the answer has the value that the input had', () => {
    const seen = new Set<string>();
    const walk = (figure: FigureAsked): void => {
      const key = JSON.stringify(figure);
      if (seen.has(key)) return;
      seen.add(key);
      for (const input of asked(figure).inputs) {
        if (input.asked === null) continue;
        const answer = originOf(input.asked, review, evaluation, metric);
        expect(answer, `${key}: ${input.name}`).not.toBeNull();
        // Without the uncertainty, which stands apart in the answer; a peak's own answer adds the gain.
        const value = input.value.replace(/ ± \S+/, '').replace(/ at .*$/, '');
        expect(answer!.value.replace(/ at .*$/, ''), `${key}: ${input.name}`).toBe(value);
        walk(input.asked);
      }
    };
    everything.forEach(walk);
    expect(seen.size).toBeGreaterThanOrEqual(everything.length);
  });

  it('leads from a depth by the sound path and the velocity to the samples of the calibration’s echo', () => {
    const stepTo = (origin: Origin, name: string) => asked(origin.inputs.find((input) => input.name === name)!.asked!);
    const velocity = stepTo(stepTo(asked(ofReading('depth')), 'sound path'), 'velocity');
    const time = stepTo(velocity, 'echo of the reflector at 225 mm');
    expect(time.capture?.captureId).toBe(block.id);
    const peakSample = (timeUs(225) - 50) * 100;
    expect(time.capture!.samples!.first).toBeLessThanOrEqual(peakSample);
    expect(time.capture!.samples!.last).toBeGreaterThanOrEqual(peakSample);
  });
});

describe('what is told beside the number', () => {
  it('capture, samples and flags with what to do', () => {
    const origin = asked(ofReading('below-peak'));
    expect(origin.capture).toEqual({
      captureId: part[0]!.id,
      samples: readingAt('root').from,
      timeUs: readingAt('root').peakUs,
    });
    expect(origin.flags.map(({ flag }) => flag)).toEqual(readingAt('root').flags);
    expect(origin.flags[0]?.advice).not.toBe('');
  });

  it('a figure that is not there says why by its flags, and has no formula', () => {
    const origin = asked(ofReading('sound-path', 'nothing'));
    expect([origin.value, origin.uncertainty, origin.formula]).toEqual(['–', null, null]);
    expect(origin.flags.map(({ flag }) => flag)).toEqual(['no-echo']);
  });

  it('the 95 % interval of the fit, and the doubts about it with their numbers', () => {
    const { calibration } = evaluation.calibration!;
    expect(asked({ kind: 'calibration', figure: 'velocity' }).uncertainty).toMatch(
      new RegExp(`k = 1\\); 95 % interval ± ${calibration!.velocityHalfWidth95MPerS!.toFixed(1)} m/s`),
    );
    const wrong: Review = {
      ...review,
      calibration: {
        ...review.calibration,
        reflectors: { kind: 'windows', list: [reflectors[0]!, { ...reflectors[1]!, distanceMm: 200 }] },
      } as Review['calibration'],
    };
    const doubted = asked({ kind: 'calibration', figure: 'velocity' }, wrong, evaluate(wrong, captures));
    expect(doubted.flags.map(({ flag }) => flag)).toContain('velocity-implausible');
    expect(doubted.flags.find(({ flag }) => flag === 'velocity-implausible')?.sentence).toMatch(
      /2592 m\/s is .* below/,
    );
    expect(doubted.formula?.withNumbers).toMatch(/^2 · \(200 mm − 100 mm\) \/ \(/);
  });

  it('a calibration taken over names its file', () => {
    const given: Review = {
      ...review,
      calibration: {
        kind: 'given',
        file: 'cal.json',
        sha256: null,
        velocityMPerS: 3241,
        uVelocityMPerS: null,
        zeroOffsetUs: 7.3,
        uZeroOffsetUs: null,
        covarianceUsUsPerMm: null,
        degreesOfFreedom: 0,
        timing: 'peak',
        points: [],
      },
    };
    const origin = asked({ kind: 'calibration', figure: 'velocity' }, given, evaluate(given, captures));
    expect([origin.value, origin.uncertainty, origin.formula]).toEqual(['3241.0 m/s', null, null]);
    expect(origin.inputs).toEqual([{ name: 'taken from', value: 'cal.json', asked: null }]);
  });

  it.each<[string, FigureAsked]>([
    ['a capture that is gone', { kind: 'reading', captureId: 'gone', gate: 'root', figure: 'time' }],
    ['a gate that is gone', ofReading('time', 'gone')],
    ['a reflector that is gone', { kind: 'calibration-point', distanceMm: 99, figure: 'time' }],
    ['a check that is gone', { kind: 'drift', captureId: 'gone', distanceMm: null, figure: 'verdict' }],
    ['a series that is gone', { kind: 'series', gate: 'gone', figure: 'peak' }],
  ])('nothing of %s', (_, figure) => {
    expect(originOf(figure, review, evaluation, metric)).toBeNull();
  });
});
