import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../core/capture/capture.ts';
import { evaluate } from '../../../core/evaluate.ts';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import type { CurveDecision, SensitivityDecision } from '../../../core/review/sensitivity-decision.ts';
import type { CurveResult, SensitivityResult } from '../../../core/steps/sensitivity.ts';
import {
  calibrationGiven,
  curveDecision,
  holeCapture,
  reflectorAt,
  sensitivityOf,
  timeAtMm,
} from '../../build/sensitivity.ts';
import { trace } from '../../build/trace.ts';

const distances = [30, 50, 70, 90];
/** Each 6 dB more gain than the one before. */
const holes = distances.map((mm, i) => holeCapture(mm, { gainDb: 40 + 6 * i, seed: i + 1 }));
const part = holeCapture(60, { gainDb: 54, named: 'part.csv', seed: 9, offPeakDb: 8 });
const probe = { elementMm: 6, frequencyMHz: 4, velocityMPerS: null };
const gate = { name: 'weld', span: { axis: 'path', fromMm: 40, toMm: 80 }, thresholdPercent: 5 } as const;

function evaluated(
  sensitivity: SensitivityDecision,
  captures: readonly Capture[] = [...holes, part],
  review: Partial<Review> = {},
) {
  return evaluate(
    {
      ...emptyReview,
      calibration: calibrationGiven,
      readings: { captures: ['part.csv'], gates: [gate], timing: 'peak', beam: null, uAngleDeg: null, series: null },
      sensitivity,
      ...review,
    },
    captures,
  );
}
const result = (decision: SensitivityDecision, captures?: readonly Capture[]): SensitivityResult =>
  evaluated(decision, captures).sensitivity!;
const curveFrom = (
  captures: readonly Capture[],
  given: Partial<CurveDecision> = {},
): { curve: CurveResult; codes: string[]; sentences: string[] } => {
  const decision = curveDecision(distances, { captures: captures.map(({ file }) => file), ...given });
  const { curve, problems, warnings } = result(sensitivityOf(decision, { probe }), [...captures, part]);
  return {
    curve: curve!,
    codes: [...problems, ...warnings].map(({ code }) => code),
    sentences: problems.map(({ sentence }) => sentence),
  };
};

describe('what makes no curve, and why', () => {
  it('no reflectors at all', () => {
    const { curve, codes } = curveFrom(holes, { reflectors: [] });
    expect([curve.curve, curve.reference, curve.points]).toEqual([null, null, []]);
    expect(codes).toEqual(['too-few-reflectors']);
  });

  it('two reflectors: they stand as points with their reference, and the reading has its level', () => {
    const { curve, codes } = curveFrom(holes.slice(0, 2), {
      reflectors: distances.slice(0, 2).map((mm) => reflectorAt(mm)),
    });
    expect([curve.curve, curve.timeCorrectedGain, curve.law]).toEqual([null, [], null]);
    expect(curve.points).toHaveLength(2);
    expect(curve.readings[0].levelDb).not.toBeNull();
    expect(curve.readings[0].toCurveDb).toBeNull();
    expect(codes).toEqual(['too-few-reflectors']);
  });

  it('one distance twice', () => {
    const { curve, codes } = curveFrom(holes, { reflectors: [30, 30, 50, 70].map((mm) => reflectorAt(mm)) });
    expect(curve.curve).toBeNull();
    expect(codes).toContain('distance-twice');
  });

  it('a window without an echo leaves the other points standing', () => {
    const astray = { ...reflectorAt(90), fromUs: 45, toUs: 50 };
    const { curve, codes, sentences } = curveFrom(holes, {
      reflectors: [...distances.slice(0, 3).map((mm) => reflectorAt(mm)), astray],
    });
    expect(curve.points.map(({ distanceMm }) => distanceMm)).toEqual([30, 50, 70]);
    expect(curve.curve).not.toBeNull();
    expect([codes, sentences[0]]).toEqual([
      ['reflector-not-found'],
      expect.stringMatching(/no echo between 45 and 50 µs.*90 mm/),
    ]);
  });

  it('an echo cut off by the screen is no point, and says so', () => {
    const clipped = holeCapture(50, { gainDb: 60, clip: 100 });
    const { curve, codes, sentences } = curveFrom([holes[0], clipped, holes[2], holes[3]]);
    expect(curve.points.map(({ distanceMm }) => distanceMm)).toEqual([30, 70, 90]);
    expect(codes).toEqual(['echo-cut-off']);
    expect(sentences[0]).toMatch(/50 mm is cut off.*lower bound.*less gain/);
  });

  it('an echo cut by its window neither', () => {
    const narrow = { ...reflectorAt(50), fromUs: timeAtMm(50) + 0.1 };
    const { curve, codes } = curveFrom(holes, {
      reflectors: [reflectorAt(30), narrow, reflectorAt(70), reflectorAt(90)],
    });
    expect(curve.points).toHaveLength(3);
    expect(codes).toEqual(['echo-cut-by-gate']);
  });

  it('nor a whole echo off the peak beside a peak that is cut off at the same gain', () => {
    const peak = holeCapture(50, { gainDb: 60, clip: 100, named: 'peak.csv' });
    const shoulder = holeCapture(50, { gainDb: 60, offPeakDb: 7, named: 'shoulder.csv' });
    const { curve, codes, sentences } = curveFrom([holes[0], peak, shoulder, holes[2], holes[3]]);
    expect(curve.points).toHaveLength(3);
    expect(codes).toEqual(['peak-cut-off']);
    expect(sentences[0]).toMatch(/at least \d+(\.\d)? dB higher/);
  });

  it('but a peak cut off at much more gain hinders nothing', () => {
    const again = holeCapture(50, { gainDb: 66, clip: 100, named: 'again.csv' });
    const { curve, codes } = curveFrom([...holes, again]);
    expect([curve.points.length, codes]).toEqual([4, []]);
  });

  it('a capture without a gain among captures with one is left out by name', () => {
    const gainless = holeCapture(50, { gainDb: null });
    const { curve, codes } = curveFrom([holes[0], gainless, holes[2], holes[3]]);
    expect(curve.points.map(({ distanceMm }) => distanceMm)).toEqual([30, 70, 90]);
    expect(codes).toEqual(['gain-partly-stated', 'reflector-not-found']);
  });

  it('levels that nobody published', () => {
    const { codes } = curveFrom(holes, { levels: { kind: 'published', name: 'yesterday' } });
    expect(codes).toEqual(['unknown-levels']);
  });
});

describe('the curve from captures', () => {
  const { curve, codes } = curveFrom(holes, { levels: { kind: 'published', name: 'minus-6-minus-14' } });

  it('has the levels that the holes were made with, whatever their gain', () => {
    expect(codes).toEqual([]);
    const made = (mm: number) => -30 * Math.log10(mm / 30) - 0.02 * (mm - 30);
    for (const { distanceMm, levelDb } of curve.points)
      expect(Math.abs(levelDb.value - made(distanceMm))).toBeLessThan(
        3 * Math.hypot(levelDb.standardUncertainty!, curve.points[0].levelDb.standardUncertainty!),
      );
  });

  it('stands at the reference height where it is highest', () => {
    expect(curve.reference).toMatchObject({ percent: 80, by: 'highest-point', setAtDb: 40 });
    expect(curve.points[0].heightPercent.value).toBeCloseTo(80, 9);
    expect(curve.reference!.gainDb! - 40).toBeCloseTo(20 * Math.log10(80 / curve.points[0].amplitudePercent), 9);
  });

  it('finds the attenuation that the holes were made with', () => {
    const { law } = curve;
    expect(law!.exponent).toBe(1.5);
    expect(Math.abs(law!.attenuationDbPerMm.value - 0.01)).toBeLessThan(law!.attenuationHalfWidth95DbPerMm!);
  });

  it('holds the reading 8 dB below a hole against it', () => {
    const [held] = curve.readings;
    expect(Math.abs(held.toCurveDb!.value + 8)).toBeLessThan(2 * held.toCurveDb!.standardUncertainty! + 0.05);
    expect(held.levels.map(({ outcome }) => outcome)).toEqual(['below', 'above']);
  });

  it('of several captures of one hole the highest serves, gain taken out, and the others say how far below they stand', () => {
    const louder = holeCapture(50, { gainDb: 47, offPeakDb: 3, named: 'shoulder.csv' });
    const { points } = curveFrom([...holes, louder]).curve;
    expect(points[1]).toMatchObject({ captureId: 'hole-50.csv', others: [{ captureId: 'shoulder.csv' }] });
    expect(Math.abs(points[1].others[0].belowDb - 3)).toBeLessThan(0.1);
  });

  it('a reflector that one capture alone shows is taken from that one', () => {
    const shoulder = holeCapture(50, { gainDb: 46, offPeakDb: 3, named: 'shoulder.csv' });
    const reflectors = distances.map((mm) => reflectorAt(mm, mm === 50 ? 'shoulder.csv' : null));
    expect(curveFrom([...holes, shoulder], { reflectors }).curve.points[1].captureId).toBe('shoulder.csv');
  });

  it('without any gain is the same, and says what was taken for granted', () => {
    const without = distances.map((mm, i) => holeCapture(mm, { gainDb: null, seed: i + 1 }));
    const partWithout = { ...part, gainDb: null };
    const decision = curveDecision(distances);
    const { curve: gainless, warnings } = result(sensitivityOf(decision, { probe }), [...without, partWithout]);
    expect(gainless!.reference).toMatchObject({ gainDb: null, setAtDb: null });
    expect(gainless!.points[0].levelDb.value).toBeCloseTo(0, 9);
    expect(warnings.map(({ code, place }) => [code, place.file])).toEqual([
      ['gain-not-stated', 'sensitivity'],
      ['gain-not-stated', 'readings'],
    ]);
  });

  it('doubts a distance that is not where the calibration puts the echo', () => {
    const wrong = distances.map((mm) => ({ ...reflectorAt(mm), distanceMm: mm === 50 ? 43.3 : mm }));
    const { points } = curveFrom(holes, { reflectors: wrong }).curve;
    expect(points.find(({ distanceMm }) => distanceMm === 43.3)!.flags).toEqual(['distance-implausible']);
    expect(points.filter(({ flags }) => flags.length > 0)).toHaveLength(1);
  });
});

describe('where the laws of spreading do not hold', () => {
  it('points in the near field stay in the curve and out of the law', () => {
    const wide = { ...probe, elementMm: 9.5 };
    const { curve } = result(sensitivityOf(curveDecision(distances), { probe: wide }));
    // λ 1.48 mm, N 15.2 mm, 3 N 45.7 mm.
    expect(curve!.points.map(({ inNearField }) => inNearField)).toEqual([true, false, false, false]);
    expect(curve!.law!.points.map(({ distanceMm }) => distanceMm)).toEqual([50, 70, 90]);
    expect(curve!.remarks.join(' ')).toMatch(/Nearer than three near-field lengths \(45\.7 mm\): 30 mm\./);
  });

  it('with fewer than three beyond it there is no law, and says so', () => {
    const { curve } = result(sensitivityOf(curveDecision(distances), { probe: { ...probe, elementMm: 12 } }));
    expect(curve!.curve).not.toBeNull();
    expect([curve!.law, curve!.withoutLaw]).toEqual([null, expect.stringMatching(/Fewer than three points/)]);
  });

  it('an unknown near field is said', () => {
    const { curve, nearField } = result(sensitivityOf(curveDecision(distances)));
    expect(nearField).toBeNull();
    expect(curve!.law).not.toBeNull();
    expect(curve!.remarks.join(' ')).toMatch(/near field is not known/);
  });

  it('another kind of reflector has no law', () => {
    const { curve } = result(sensitivityOf(curveDecision(distances, { kind: 'other' }), { probe }));
    expect([curve!.law, curve!.withoutLaw]).toEqual([null, expect.stringMatching(/No law of spreading is known/)]);
  });

  it('the wrong kind shows as an attenuation that cannot be', () => {
    const { curve } = result(sensitivityOf(curveDecision(distances, { kind: 'flat-bottomed-hole' }), { probe }));
    expect(curve!.doubts.map(({ flag }) => flag)).toEqual(['attenuation-implausible']);
  });
});

describe('remarks', () => {
  const remarksOf = (decision: SensitivityDecision) => result(decision).curve!.remarks.join(' ');

  it('tell what the uncertainties leave out', () => {
    expect(remarksOf(sensitivityOf(curveDecision(distances)))).toMatch(
      /take the coupling and the steps of the gain as exact/,
    );
    expect(remarksOf(sensitivityOf(curveDecision(distances), { uCouplingDb: 0.3 }))).toMatch(
      /take the steps of the gain as exact/,
    );
    expect(remarksOf(sensitivityOf(curveDecision(distances), { uCouplingDb: 0.3, uGainDb: 0.3 }))).not.toMatch(
      /as exact/,
    );
  });

  it('tell of a reference gain that does not bring the curve near its height', () => {
    expect(remarksOf(sensitivityOf(curveDecision(distances, { referenceGainDb: 36 })))).toMatch(
      /stands at 26\.8 % FSH, not within 5 %/,
    );
    expect(remarksOf(sensitivityOf(curveDecision(distances, { referenceGainDb: 45.5 })))).not.toMatch(/not within/);
  });

  it('tell of lines that hide something, and of echoes that rise', () => {
    const far = [30, 90, 150].map((mm, i) => holeCapture(mm, { gainDb: 40 + 12 * i, noise: 0.1, seed: i }));
    const decision = curveDecision([30, 90, 150]);
    const { curve } = result(sensitivityOf(decision, { probe }), [...far, part]);
    expect(curve!.remarks.join(' ')).toMatch(/Between 30 and 90 mm the line lies up to 2\.1 dB above/);
    const rising = [holeCapture(30, { gainDb: 40, offPeakDb: 12 }), ...holes.slice(1)];
    expect(curveFrom(rising).curve.remarks.join(' ')).toMatch(/The echo at 50 mm stands .* above the one at 30 mm/);
  });
});

describe('attenuation from two back-wall echoes', () => {
  /** 0.02 dB per mm of travel behind 1/path. */
  const backWall = (gainDb: number | null, clip: number | null = null, name = 'plate.csv', first = 80) => {
    const second = first * 10 ** (-(20 * Math.log10(2) + 0.02 * 2 * 50) / 20);
    const words = trace()
      .record(0, 6000)
      .burst({ timeUs: timeAtMm(50), amplitudePercent: first })
      .burst({ timeUs: timeAtMm(100), amplitudePercent: second })
      .noise(0.1, 3)
      .named(name);
    const shown = clip === null ? words : words.clippedAt(clip);
    return (gainDb === null ? shown : shown.gain(gainDb)).capture();
  };
  const decision = (captures: readonly string[], given: Partial<SensitivityDecision> = {}) =>
    sensitivityOf(null, {
      attenuation: { captures: [...captures], near: reflectorAt(50), far: reflectorAt(100), thresholdPercent: 5 },
      probe,
      ...given,
    });

  it('finds what the plate was made with', () => {
    const { attenuation, problems } = result(decision(['plate.csv']), [backWall(null)]);
    expect(problems).toEqual([]);
    const { value, standardUncertainty } = attenuation!.attenuationDbPerMm;
    expect(Math.abs(value - 0.02)).toBeLessThan(3 * standardUncertainty!);
    expect(standardUncertainty).toBeLessThan(0.001);
    expect(attenuation!.doubts).toEqual([]);
  });

  it('takes both from one capture where one shows both whole', () => {
    const low = backWall(30, null, 'low.csv', 60);
    const high = backWall(40, 100, 'high.csv', 60 * 10 ** 0.5);
    const { attenuation } = result(decision(['low.csv', 'high.csv']), [low, high]);
    expect([attenuation!.near.captureId, attenuation!.far.captureId]).toEqual(['low.csv', 'low.csv']);
  });

  it('takes the gain out where it takes two captures', () => {
    const low = { ...backWall(30, null, 'low.csv', 60) };
    const onlyFar = trace()
      .record(0, 6000)
      .burst({ timeUs: timeAtMm(100), amplitudePercent: 60 * 10 ** (-(6.0206 + 2 - 10) / 20) })
      .noise(0.1, 4)
      .gain(40)
      .named('high.csv')
      .capture();
    const { attenuation } = result(
      {
        ...decision(['low.csv', 'high.csv']),
        attenuation: {
          captures: ['low.csv', 'high.csv'],
          near: reflectorAt(50, 'low.csv'),
          far: reflectorAt(100, 'high.csv'),
          thresholdPercent: 5,
        },
        uGainDb: 0.5,
      },
      [low, onlyFar],
    );
    expect([attenuation!.near.captureId, attenuation!.far.captureId]).toEqual(['low.csv', 'high.csv']);
    expect(attenuation!.attenuationDbPerMm.value).toBeCloseTo(0.02, 3);
    expect(attenuation!.dropDb.standardUncertainty).toBeCloseTo(0.5, 1);
  });

  it('is doubted in the near field, and where it comes out below zero', () => {
    const near = result(decision(['plate.csv'], { probe: { ...probe, elementMm: 15 } }), [backWall(null)]);
    expect(near.attenuation!.doubts.map(({ flag }) => flag)).toEqual(['in-near-field']);
    const wrong = {
      ...decision(['plate.csv']),
      attenuation: {
        captures: ['plate.csv'],
        near: { ...reflectorAt(50), distanceMm: 25 },
        far: reflectorAt(100),
        thresholdPercent: 5,
      },
    };
    expect(result(wrong, [backWall(null)]).attenuation!.doubts.map(({ flag }) => flag)).toContain(
      'attenuation-implausible',
    );
  });

  it.each<[string, SensitivityDecision, Capture, string]>([
    [
      'the near echo given second',
      {
        ...decision(['plate.csv']),
        attenuation: { captures: ['plate.csv'], near: reflectorAt(100), far: reflectorAt(50), thresholdPercent: 5 },
      },
      backWall(null),
      'distances-reversed',
    ],
    ['a near echo cut off by the screen', decision(['plate.csv']), backWall(null, 60), 'echo-cut-off'],
    [
      'no far echo',
      {
        ...decision(['plate.csv']),
        attenuation: { captures: ['plate.csv'], near: reflectorAt(50), far: reflectorAt(140), thresholdPercent: 5 },
      },
      backWall(null),
      'reflector-not-found',
    ],
  ])('is not told: %s', (_, asked, capture, code) => {
    const { attenuation, problems } = result(asked, [capture]);
    expect(attenuation).toBeNull();
    expect(problems.map((p) => p.code)).toEqual([code]);
  });
});

describe('evaluate', () => {
  it('puts the problems of sensitivity among all, and leaves the other parts standing', () => {
    const { problems, readings, sensitivity } = evaluated(sensitivityOf(curveDecision([30, 50])));
    expect(problems.map(({ code }) => code)).toEqual(['too-few-reflectors']);
    expect(readings!.readings).toHaveLength(1);
    expect(sensitivity!.curve!.readings).toHaveLength(1);
  });

  it('asks nothing where nothing was decided', () => {
    expect(evaluate(emptyReview, holes).sensitivity).toBeNull();
    expect(evaluated(sensitivityOf(null)).sensitivity).toMatchObject({ curve: null, attenuation: null, problems: [] });
  });
});
