import { describe, expect, it } from 'vitest';
import { blockByName } from '../../../core/block/block-by-name.ts';
import { type DistanceCalibration, fitDistance } from '../../../core/calibration/distance.ts';
import { doubtsAbout, materialInWords } from '../../../core/calibration/plausibility.ts';
import { nominalVelocity } from '../../../core/material/velocities.ts';

/** A calibration on echoes that came from these distances, which were entered as those. */
function calibrated(
  entered: readonly number[],
  truth: readonly number[],
  { velocityMPerS = 3241, zeroOffsetUs = 7.31, uTimeUs = 0.002 as number | null } = {},
): DistanceCalibration {
  const outcome = fitDistance(
    entered.map((distanceMm, i) => ({
      distanceMm,
      uDistanceMm: 0,
      timeUs: zeroOffsetUs + (2000 * truth[i]) / velocityMPerS,
      uTimeUs,
      amplitudePercent: 80,
      captureId: null,
      from: null,
      flags: [],
    })),
  );
  if (!outcome.ok) throw new Error(outcome.problems[0].sentence);
  return outcome.value;
}

const inches = (...list: readonly number[]) => list.map((d) => d * 25.4);
const transverse = nominalVelocity('block steel', 'transverse');
const longitudinal = nominalVelocity('block steel', 'longitudinal');
const flagsOf = (...args: Parameters<typeof doubtsAbout>) => doubtsAbout(...args).map((d) => d.flag);
const sentencesOf = (...args: Parameters<typeof doubtsAbout>) =>
  doubtsAbout(...args)
    .map((d) => d.sentence)
    .join('\n');

describe('doubtsAbout a good calibration', () => {
  it.each([
    { what: 'on its block', nominal: null, block: 'iso-2400/quadrant-return-25' },
    { what: 'against its nominal velocity', nominal: transverse, block: null },
    { what: 'against nothing', nominal: null, block: null },
  ])('has none $what', ({ nominal, block }) => {
    const context = { nominal, block: block === null ? null : blockByName(block) };
    expect(doubtsAbout(calibrated([100, 225], [100, 225]), context)).toEqual([]);
  });

  it('has none for a zero offset that is negative within its uncertainty', () => {
    expect(
      doubtsAbout(calibrated([25, 50], [25, 50], { velocityMPerS: 5920, zeroOffsetUs: -0.003 }), {
        nominal: longitudinal,
        block: null,
      }),
    ).toEqual([]);
  });
});

describe('a velocity far from nominal is doubted', () => {
  it('a 4-and-9 pair taken for 4 and 8: 0.8 of the velocity, and the pair is named', () => {
    const calibration = calibrated(inches(4, 8), inches(4, 9));
    expect(calibration.velocityMPerS.value).toBeCloseTo(3241 * 0.8, 6);
    expect(flagsOf(calibration, { nominal: transverse, block: null })).toContain('velocity-implausible');
    const sentence = sentencesOf(calibration, { nominal: transverse, block: null });
    expect(sentence).toContain('2593 m/s is 20.3 % below the 3255 m/s of block steel, transverse');
    expect(sentence).toContain('taken as 101.6 mm (4 in), 228.6 mm (9 in)');
    expect(sentence).toContain('3241 m/s and a zero offset of 7.31 µs');
  });

  it('and is found even where no nominal velocity is stated', () => {
    const context = { nominal: null, block: null };
    expect(flagsOf(calibrated(inches(4, 8), inches(4, 9)), context)).toContain('velocity-implausible');
    expect(sentencesOf(calibrated(inches(4, 8), inches(4, 9)), context)).toContain(
      'neither that of steel nor that of aluminium',
    );
  });

  it.each([
    {
      what: '100 and 225 taken for 100 and 200',
      entered: [100, 200],
      truth: [100, 225],
      says: 'taken as 100 mm, 225 mm',
    },
    {
      what: '100, 225, 350 taken for 100, 200, 300',
      entered: [100, 200, 300],
      truth: [100, 225, 350],
      says: 'taken as 100 mm, 225 mm, 350 mm',
    },
    { what: '25 and 175 taken for 25 and 100', entered: [25, 100], truth: [25, 175], says: 'taken as 25 mm, 175 mm' },
    {
      what: 'distances there and back',
      entered: [200, 450],
      truth: [100, 225],
      says: 'with half the distances (100 mm, 225 mm)',
    },
  ])('$what', ({ entered, truth, says }) => {
    const context = { nominal: transverse, block: null };
    expect(flagsOf(calibrated(entered, truth), context)).toContain('velocity-implausible');
    expect(sentencesOf(calibrated(entered, truth), context)).toContain(says);
  });

  it('an unknown mistake is doubted without an explanation', () => {
    const sentence = sentencesOf(calibrated([100, 217], [100, 190]), { nominal: transverse, block: null });
    expect(sentence).toContain('check that the echoes are the reflectors they were taken for');
  });

  it('just inside and just outside of what is ordinary', () => {
    const context = { nominal: transverse, block: null };
    expect(flagsOf(calibrated([100, 225], [100, 225], { velocityMPerS: 3255 * 1.0095 }), context)).toEqual([]);
    expect(flagsOf(calibrated([100, 225], [100, 225], { velocityMPerS: 3255 * 1.0105 }), context)).toEqual([
      'velocity-implausible',
    ]);
  });

  it('a bad fit does not excuse a wrong velocity by its own uncertainty', () => {
    const context = { nominal: longitudinal, block: null };
    const bad = calibrated([10, 20, 25], [10, 15, 29], { velocityMPerS: 5930, zeroOffsetUs: 0.3, uTimeUs: null });
    expect(bad.velocityMPerS.standardUncertainty!).toBeGreaterThan(400);
    expect(flagsOf(bad, context)).toContain('velocity-implausible');
  });

  it('the velocity of no solid is doubted without any nominal', () => {
    expect(flagsOf(calibrated([100, 225], [1, 2.25]), { nominal: null, block: null })).toContain(
      'velocity-implausible',
    );
  });

  it('but another solid’s is not', () => {
    expect(
      flagsOf(calibrated([25, 50], [25, 50], { velocityMPerS: 4700, zeroOffsetUs: 0.2 }), {
        nominal: null,
        block: null,
      }),
    ).toEqual([]);
  });
});

describe('a zero offset no probe has is doubted', () => {
  it('the other radius faced: velocity right, zero offset 15.36 µs too long (derived)', () => {
    const calibration = calibrated([25, 100, 175], [50, 125, 200], { velocityMPerS: 3255, zeroOffsetUs: 7 });
    expect(calibration.velocityMPerS.value).toBeCloseTo(3255, 6);
    expect(calibration.zeroOffsetUs.value - 7).toBeCloseTo(15.361, 3);
    const context = { nominal: null, block: blockByName('iso-7963/25') };
    expect(flagsOf(calibration, context)).toEqual(['zero-offset-implausible']);
    expect(sentencesOf(calibration, context)).toContain('with the other radius faced (50 mm) it would be 7 µs');
  });

  it('the same the other way: a negative zero offset, and the other radius is named', () => {
    const calibration = calibrated([50, 125], [25, 100], { velocityMPerS: 3255, zeroOffsetUs: 7 });
    const context = { nominal: null, block: blockByName('iso-7963/50') };
    expect(sentencesOf(calibration, context)).toContain('with the other radius faced (25 mm)');
  });

  it.each([
    { what: 'negative beyond its uncertainty', zeroOffsetUs: -0.5, says: 'is negative' },
    { what: 'longer than any wedge', zeroOffsetUs: 45, says: 'longer than any wedge' },
  ])('$what', ({ zeroOffsetUs, says }) => {
    const calibration = calibrated([100, 225], [100, 225], { zeroOffsetUs });
    expect(flagsOf(calibration, { nominal: transverse, block: null })).toEqual(['zero-offset-implausible']);
    expect(sentencesOf(calibration, { nominal: transverse, block: null })).toContain(says);
  });
});

describe('reflectors off the line are named', () => {
  const steel = { velocityMPerS: 5930, zeroOffsetUs: 0.3 };

  it('one among four by its distance', () => {
    const sentence = sentencesOf(calibrated([10, 15, 20, 25], [10, 15, 15.01, 25], steel), {
      nominal: longitudinal,
      block: null,
    });
    expect(sentence).toContain('off the line of the others, with the residual from the fit of all: 20 mm (-');
  });

  it('three by saying that they do not tell which', () => {
    const sentence = sentencesOf(calibrated([10, 20, 25], [10, 15, 25], steel), { nominal: longitudinal, block: null });
    expect(sentence).toContain('at least one is wrong, and these do not tell which');
  });
});

describe('materialInWords', () => {
  it('says what a velocity could be of', () => {
    const words = materialInWords(calibrated([25, 50], [25, 50], { velocityMPerS: 5925 }));
    expect(words).toContain('5925 m/s could be block steel (longitudinal, 5920 m/s)');
  });

  it('or that the tables have nothing like it', () => {
    expect(materialInWords(calibrated([25, 50], [25, 50], { velocityMPerS: 9500 }))).toContain('of no material');
  });
});
