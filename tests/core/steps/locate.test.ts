import { describe, expect, it } from 'vitest';
import { evaluate } from '../../../core/evaluate.ts';
import { evaluationDocument } from '../../../core/report/document.ts';
import type { PartDecision } from '../../../core/review/part-decision.ts';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import { partOf } from '../../build/part.ts';
import { calibrationGiven } from '../../build/sensitivity.ts';
import { type TraceInWords, trace } from '../../build/trace.ts';

const calibration = { ...calibrationGiven, velocityMPerS: 3255 };
const timeAtMm = (pathMm: number): number => 0.5 + (2 * pathMm) / 3.255;

/** Echoes at sound paths in mm, heights in % FSH. */
function captureAt(
  file: string,
  echoes: readonly (readonly [pathMm: number, percent: number])[],
  seed = 1,
): TraceInWords {
  let words = trace().record(0, 8000).noise(0.2, seed).named(file);
  for (const [pathMm, amplitudePercent] of echoes)
    words = words.burst({ timeUs: timeAtMm(pathMm), amplitudePercent, frequencyMHz: 4 });
  return words;
}

const offsetMm = 27.7;
const placement: PartDecision['placements'][number] = {
  captures: ['weld.csv'],
  side: 'left',
  offsetMm,
  uOffsetMm: 0.3,
  position: 'along',
};
const weld = {
  outline: [
    { acrossMm: -9, depthMm: 0 },
    { acrossMm: 9, depthMm: 0 },
    { acrossMm: 1, depthMm: 16 },
    { acrossMm: -1, depthMm: 16 },
  ],
  toleranceMm: 0.3,
};

const reviewOf = (
  part: PartDecision,
  captures: readonly string[] = ['weld.csv'],
  given: Partial<Review> = {},
): Review => ({
  ...emptyReview,
  calibration,
  readings: {
    captures: [...captures],
    gates: [
      { name: 'first leg', span: { axis: 'path', fromMm: 20, toMm: 40 }, thresholdPercent: 10 },
      { name: 'second leg', span: { axis: 'path', fromMm: 41, toMm: 63 }, thresholdPercent: 10 },
    ],
    timing: 'peak',
    beam: null,
    uAngleDeg: null,
    series: null,
  },
  part,
  ...given,
});

const captures = [
  captureAt('weld.csv', [
    [32.4, 40],
    [50, 60],
  ])
    .at(120)
    .capture(),
];
const located = (part: PartDecision) => evaluate(reviewOf(part), captures).location!;

describe('a part that cannot be used', () => {
  it.each<[string, Parameters<typeof partOf>[0], string]>([
    ['a thickness of nought', { shape: { kind: 'plate', thicknessMm: 0, uThicknessMm: 0 } }, 'thickness-not-positive'],
    [
      'an angle beyond the critical one',
      { probe: { angleDeg: 85, wedgeVelocityMPerS: 3300, velocityMPerS: null } },
      'angle-beyond-critical',
    ],
  ])('leaves no number of a place, and says why: %s', (_, given, code) => {
    const evaluation = evaluate(reviewOf(partOf(given)), captures);
    expect(evaluation.problems.map((found) => found.code)).toEqual([code]);
    const { beam, readings, expected } = evaluation.location!;
    expect([beam, expected]).toEqual([null, []]);
    expect(readings.map(({ place, without }) => [place, without])).toEqual(
      Array(2).fill([null, 'the part cannot be used; the problems say why']),
    );
    expect(evaluation.readings?.readings[0]?.soundPathMm?.value).toBeCloseTo(32.4, 1);
  });

  it.each<[string, readonly (readonly [number, number])[], Partial<Review>, RegExp]>([
    ['no echo', [], {}, /no echo was read/],
    ['no calibration', [[32, 40]], { calibration: null }, /there is no calibration/],
  ])('has no place for a reading with %s', (_, echoes, given, why) => {
    const evaluation = evaluate(reviewOf(partOf(), ['weld.csv'], given), [captureAt('weld.csv', echoes).capture()]);
    for (const { place, without } of evaluation.location!.readings) {
      expect(place).toBeNull();
      expect(without).toMatch(why);
    }
  });

  it('has no place for an echo before the sound entered it', () => {
    const early = { name: 'early', span: { axis: 'time' as const, fromUs: 0.1, toUs: 3 }, thresholdPercent: 10 };
    const at = timeAtMm(-1);
    const capture = trace()
      .record(-5, 4000)
      .noise(0.2)
      .burst({ timeUs: at, amplitudePercent: 50 })
      .named('weld.csv')
      .capture();
    const review = reviewOf(partOf());
    const gates = [{ ...early, span: { ...early.span, fromUs: at - 0.5, toUs: at + 0.5 } }];
    const found = evaluate({ ...review, readings: { ...review.readings!, gates } }, [capture]).location!;
    expect(found.readings[0]).toMatchObject({
      place: null,
      without: 'the echo came before the sound entered the part',
    });
  });
});

describe('readings in the part', () => {
  it('lie at a depth on a leg, and across the weld where the probe’s place is known', () => {
    const { readings, beam } = located(partOf({ placements: [placement] }));
    const [first, second] = readings;
    expect(first!.place!.leg).toBe(2);
    expect(second!.place).toMatchObject({ leg: 2, depthMm: { value: expect.closeTo(7, 1) } });
    expect(second!.place!.acrossMm!.value).toBeCloseTo(50 * Math.sin(Math.PI / 3) - offsetMm, 1);
    expect(second!.place!.fromFrontMm!.value).toBeCloseTo(50 * Math.sin(Math.PI / 3) - 12, 1);
    expect(second!.place!.ellipse!.semiMajorMm).toBeGreaterThan(0.5);
    expect(second!.alongWeldMm).toBe(120);
    expect(beam!.skips!.halfSkipMm).toBeCloseTo(16 * Math.tan(Math.PI / 3), 9);
    expect(beam!.incidenceDeg).toBeCloseTo(46.581, 3);
    expect(beam!.nearField!.lengthMm).toBeCloseTo(100 / (4 * (3.255 / 4)), 6);
  });

  it('lie nowhere across it where it is not', () => {
    const [first] = located(partOf()).readings;
    expect(first!.place!.acrossMm).toBeNull();
    expect(first!.place!.depthMm.value).toBeGreaterThan(0);
    expect([first!.probe, first!.alongWeldMm]).toEqual([null, null]);
  });

  it('follow a probe whose own position counts away from the weld; one without a position has no place', () => {
    const part = partOf({ placements: [{ ...placement, position: 'away', offsetMm: 10 }] });
    expect(located(part).readings[1]!.probe).toMatchObject({ offsetMm: 130 });
    const nowhere = evaluate(reviewOf(part), [captureAt('weld.csv', [[50, 60]]).capture()]).location!;
    expect(nowhere.readings[1]!.probe).toBeNull();
    expect(nowhere.readings[1]!.place!.acrossMm).toBeNull();
  });

  it('of a step block lie in the step of their capture; a capture on no step has no place', () => {
    const steps = [{ captures: ['weld.csv'], thicknessMm: 25, uThicknessMm: 0 }];
    const block = partOf({ shape: { kind: 'step-block', steps }, probe: { angleDeg: 0 } });
    const two = [
      captureAt('weld.csv', [
        [25, 80],
        [50, 40],
      ]).capture(),
      captureAt('other.csv', [[30, 40]]).capture(),
    ];
    const { readings, expected } = evaluate(reviewOf(block, ['weld.csv', 'other.csv']), two).location!;
    expect(readings[0]).toMatchObject({
      place: { leg: expect.any(Number), depthMm: { value: expect.closeTo(25, 1) } },
      geometry: [{ expected: { name: 'back wall' } }],
    });
    expect(readings[1]!.geometry[0]!.expected.name).toBe('back wall, echo 2');
    expect(readings[2]).toMatchObject({ place: null, without: 'no step of the block is named for this capture' });
    expect(expected).toHaveLength(1);
  });
});

describe('echoes of the part’s own shape', () => {
  it('are named, flagged and left where they are until a person decides', () => {
    const part = partOf({ weld, placements: [placement] });
    const [root, flaw] = located(part).readings;
    expect(root!.geometry[0]!.expected.name).toMatch(/^weld root, 1 mm to the (left|right)$/);
    expect(root!.flags).toContain('geometry-expected');
    expect(root!.taken).toBeNull();
    expect(root!.place).not.toBeNull();
    expect(flaw!.geometry).toEqual([]);
    expect(flaw!.flags).not.toContain('geometry-expected');
    const confirmed = { capture: 'weld.csv', gate: 'first leg', taken: 'geometry' as const, notes: '' };
    const [taken] = located({ ...part, confirmed: [confirmed] }).readings;
    expect(taken).toMatchObject({ taken: 'geometry', geometry: root!.geometry, flags: root!.flags });
  });

  it('are not predicted without the beam’s spread or the probe’s place', () => {
    const noElement = partOf({ weld, placements: [placement], probe: { elementMm: null } });
    expect(located(noElement).expected.flatMap(({ echoes }) => echoes)).toEqual([]);
    expect(located(noElement).beam).toMatchObject({ edgesMinus6Db: null, nearField: null });
    expect(located(partOf({ weld })).expected.flatMap(({ echoes }) => echoes)).toEqual([]);
  });
});

describe('a damping test in a review', () => {
  const before = captureAt('before.csv', [
    [25, 50],
    [32, 60],
    [50, 40],
    [55, 30],
  ]).capture();
  const after = captureAt(
    'after.csv',
    [
      [25, 50],
      [32, 25],
      [50, 40],
      [55, 30],
    ],
    2,
  ).capture();
  const damping = { before: 'before.csv', after: 'after.csv', abovePercent: 5, uCouplingDb: 0.3 };

  it('tells which echo fell', () => {
    const part = partOf({ damping: [damping] });
    const found = evaluate(reviewOf(part, ['before.csv']), [before, after]).location!;
    expect(found.damping).toHaveLength(1);
    expect(found.damping[0]!.echoes.map(({ outcome }) => outcome)).toEqual([
      'unchanged',
      'changed',
      'unchanged',
      'unchanged',
    ]);
  });

  it('needs one capture before and one after', () => {
    const evaluation = evaluate(reviewOf(partOf({ damping: [damping] }), ['before.csv']), [before]);
    expect(evaluation.location!.damping).toEqual([]);
    expect(evaluation.problems).toEqual([
      expect.objectContaining({
        code: 'damping-not-a-pair',
        sentence: expect.stringContaining('before.csv and after.csv'),
      }),
    ]);
  });
});

describe('a review whose readings and part differ', () => {
  const withBeam = (part: PartDecision, beam: { angleDeg: number; thicknessMm: number | null }) => {
    const review = reviewOf(part);
    return evaluate({ ...review, readings: { ...review.readings!, beam } }, captures).location!.warnings;
  };

  it('says so; alike, it does not', () => {
    expect(withBeam(partOf(), { angleDeg: 45, thicknessMm: 16 })).toEqual([
      expect.objectContaining({ code: 'beam-differs', sentence: expect.stringContaining('45° in 16 mm') }),
    ]);
    expect(withBeam(partOf(), { angleDeg: 60, thicknessMm: 16 })).toEqual([]);
    const pipe = partOf({
      shape: { kind: 'pipe', outsideRadiusMm: 300, thicknessMm: 16, uThicknessMm: 0, from: 'outside' },
    });
    expect(withBeam(pipe, { angleDeg: 60, thicknessMm: 16 })[0]!.sentence).toMatch(/those of a flat plate/);
  });
});

describe('a velocity that is not the calibration’s', () => {
  it.each([
    [5920, ['velocity-differs']],
    [3230, []],
    [null, []],
  ])('%s m/s: %s', (velocityMPerS, codes) => {
    const found = located(partOf({ probe: { velocityMPerS, wedgeVelocityMPerS: null } }));
    expect(found.warnings.map(({ code }) => code)).toEqual(codes);
  });
});

describe('the document of a location', () => {
  it('has its quantities by unit, uncertainties beside them, nulls for what is not known', () => {
    const review = reviewOf(partOf({ weld, placements: [placement] }));
    const { location } = evaluationDocument(evaluate(review, captures), review, {});
    expect(location!.readings[1]).toMatchObject({
      file: 'weld.csv',
      gate: 'second leg',
      leg: 2,
      depth_mm: expect.closeTo(7, 1),
      u_depth_mm: expect.any(Number),
      across_mm: expect.any(Number),
      along_weld_mm: 120,
      ellipse: { coverage_factor: 2, semi_major_mm: expect.any(Number) },
      geometry_expected: [],
      taken: null,
      without: null,
    });
    expect(location!.readings[0]!.geometry_expected[0]).toMatchObject({ name: expect.stringContaining('weld root') });
    expect(location!.probe_checks).toBeNull();
    expect(evaluationDocument(evaluate({ ...review, part: null }, captures), review, {}).location).toBeNull();
  });
});

describe('what the part’s own shape should show where nothing stands', () => {
  const part = partOf({ placements: [placement], weld });
  const silent = [captureAt('weld.csv', []).at(120).capture()];
  const names = (expected: readonly { echoes: readonly { name: string; leg: number }[] }[]) =>
    expected.flatMap(({ echoes }) => echoes.map(({ name, leg }) => `${name}, leg ${leg}`));
  const reviewed = reviewOf(part);
  const withGates = (gates: NonNullable<Review['readings']>['gates']): Review => ({
    ...reviewed,
    readings: { ...reviewed.readings!, gates },
  });

  it('in sound path and in time alike, though the gate reads nothing', () => {
    const inPath = evaluate(
      withGates([{ name: 'weld', span: { axis: 'path', fromMm: 20, toMm: 63 }, thresholdPercent: 10 }]),
      silent,
    );
    const inTime = evaluate(
      withGates([
        { name: 'weld', span: { axis: 'time', fromUs: timeAtMm(20), toUs: timeAtMm(63) }, thresholdPercent: 10 },
      ]),
      silent,
    );
    expect(inTime.readings!.readings.map(({ soundPathMm }) => soundPathMm)).toEqual([null]);
    expect(names(inPath.location!.expected).length).toBeGreaterThan(1);
    expect(names(inTime.location!.expected)).toEqual(names(inPath.location!.expected));
  });

  it('where captures of a scan were taken that no gate reads', () => {
    const scan: NonNullable<Review['scan']> = {
      captures: ['weld.csv'],
      fromMm: 20,
      toMm: 63,
      level: { kind: 'screen', percent: 20 },
      scanningGainDb: null,
      sizing: { kind: 'drop-6-db' },
      beamWidthMm: null,
      uBeamWidthMm: 0,
      uPositionMm: 0,
      reference: null,
      rating: null,
      indications: [],
    };
    const evaluation = evaluate({ ...reviewed, readings: null, scan }, silent);
    expect(evaluation.location!.expected).toEqual([]);
    expect(evaluation.scan!.indications).toEqual([]);
    expect(evaluation.scan!.expected[0]!.captures).toEqual(['weld.csv']);
    const read = evaluate(
      withGates([{ name: 'weld', span: { axis: 'path', fromMm: 20, toMm: 63 }, thresholdPercent: 10 }]),
      silent,
    );
    expect(names(evaluation.scan!.expected)).toEqual(names(read.location!.expected));
  });
});
