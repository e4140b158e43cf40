import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../core/capture/capture.ts';
import { evaluate } from '../../../core/evaluate.ts';
import { inferEverything } from '../../../core/import/import-recipe.ts';
import { bestIn } from '../../../core/probe/characteristics.ts';
import { defaultSpectrumSettings } from '../../../core/probe/window.ts';
import { apply } from '../../../core/review/edit.ts';
import { openReview, reviewText } from '../../../core/review/open-review.ts';
import type { ProbesDecision } from '../../../core/review/probes-decision.ts';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import { trace } from '../../build/trace.ts';

const capture = (
  probe: string | null,
  file: string,
  frequencyMHz: number,
  seed: number,
  percent = 70,
  more = 0,
): Capture => ({
  ...trace()
    .record(10, 2500)
    .burst({ timeUs: 20 + more, amplitudePercent: percent, frequencyMHz, bandwidthPercent: 55 })
    .noise(0.3, seed)
    .gain(40)
    .named(file)
    .capture(),
  probe,
});

const several = (probe: string, frequencyMHz: number, from: number, count = 4): Capture[] =>
  Array.from({ length: count }, (_, i) => capture(probe, `${probe}-${i}.csv`, frequencyMHz, from + i, 70 - i));

const decision = (captures: readonly Capture[], changes: Partial<ProbesDecision> = {}): ProbesDecision => ({
  captures: captures.map(({ id }) => id),
  gate: { fromUs: 18, toUs: 22 },
  spectrum: defaultSpectrumSettings as ProbesDecision['spectrum'],
  elementMm: 10,
  velocityMPerS: 5920,
  probes: [],
  reference: null,
  align: 'cross-correlation',
  normalised: true,
  significance: 0.05,
  decision: 'with-uncertainty',
  rule: null,
  ...changes,
});

function reviewOf(captures: readonly Capture[], changes: Partial<ProbesDecision> = {}): Review {
  return {
    ...emptyReview,
    sources: captures.map(({ file }) => ({
      file,
      sha256: null,
      recipe: structuredClone(inferEverything) as Review['sources'][number]['recipe'],
      facts: [],
    })),
    probes: decision(captures, changes),
  };
}

function probesOf(captures: readonly Capture[], changes: Partial<ProbesDecision> = {}) {
  const { probes } = evaluate(reviewOf(captures, changes), captures);
  if (probes === null) throw new Error('no probes');
  return probes;
}

const a = several('one', 5, 1);
const b = several('two', 4.6, 11);

describe('captures put together by probe', () => {
  it('mean, spread, and the larger of type A and noise as the uncertainty of the mean', () => {
    const [one] = probesOf(a).probes;
    const { quantity, sample, by, uNoise } = one.figures['centre-frequency-e1065'];
    expect(quantity?.value).toBeCloseTo(5, 1);
    expect(sample?.count).toBe(4);
    expect(quantity?.standardUncertainty).toBeCloseTo(Math.max(sample!.sd! / 2, uNoise! / 2), 12);
    expect(by).toBe(sample!.sd! >= uNoise! ? 'repeats' : 'noise');
    // Heights of 70, 69, 68, 67 %: their spread is no noise.
    expect(one.figures.height.by).toBe('repeats');
    expect(one.figures.height.sample?.sd).toBeCloseTo(1.29, 0);
  });

  it('of one capture the uncertainty is that of its noise', () => {
    const [one] = probesOf(a.slice(0, 1)).probes;
    expect(one.figures['centre-frequency-e1065'].by).toBe('noise');
    expect(one.figures['centre-frequency-e1065'].sample?.sd).toBeNull();
  });

  it('captures that state no probe stand for themselves, with a warning each', () => {
    const result = probesOf([capture(null, 'x.csv', 5, 1), capture(null, 'y.csv', 5, 2)]);
    expect(result.probes.map(({ probe }) => probe)).toEqual(['x.csv', 'y.csv']);
    expect(result.warnings.map(({ code }) => code)).toEqual(['no-probe-stated', 'no-probe-stated']);
  });

  it('a capture that cannot be measured is told, and the others stand', () => {
    const result = probesOf([...a, capture('one', 'late.csv', 5, 9, 70, 9)]);
    expect(result.problems.map(({ code, place }) => [code, place.file])).toEqual([['buried-in-noise', 'late.csv']]);
    const { sample, hindrances } = result.probes[0].figures['peak-frequency'];
    expect(sample?.count).toBe(4);
    expect(hindrances).toEqual([{ hindrance: 'buried-in-noise', count: 1 }]);
  });

  it('a probe may have its own gate and element', () => {
    const late = capture('three', 'late.csv', 5, 9, 70, 9);
    const own = { name: 'three', gate: { fromUs: 27, toUs: 31 }, elementMm: 5, stated: [] };
    const result = probesOf([...a, late], { probes: [own] });
    expect(result.problems).toEqual([]);
    const near = (probe: number) => result.probes[probe].figures['near-field'].quantity?.value ?? 0;
    expect(near(0) / near(1)).toBeCloseTo(4, 1);
  });

  it('leaves a band-pass out and says so', () => {
    const review = {
      ...reviewOf(a),
      conditioning: { ...emptyReview.conditioning, bandPass: { lowMHz: 4.5, highMHz: 5.5, order: 4 } },
    };
    const { probes } = evaluate(review, a);
    expect(probes?.warnings.map(({ code }) => code)).toEqual(['band-pass-left-out']);
    expect(probes?.probes[0].figures['bandwidth-6-db'].quantity?.value).toBeCloseTo(2.75, 1);
  });
});

describe('against a reference probe', () => {
  const result = probesOf([...a, ...b], { reference: 'one' });
  const two = result.probes[1];

  it('the reference has no comparison, the other has one figure by figure', () => {
    expect(result.probes[0].comparison).toBeNull();
    const found = two.comparison?.figures.find(({ figure }) => figure === 'centre-frequency-e1065');
    expect(found?.difference?.value).toBeCloseTo(-0.4, 1);
    expect(found?.differs).toBe(true);
    expect(found?.sentence).toMatch(/two lies 0\.\d+ MHz below one; .* they differ\./);
  });

  it('groups of one probe are called different about as often as the significance says: 5 % of 60 pairs', () => {
    let different = 0;
    for (let pair = 0; pair < 60; pair++) {
      const groups = [...several('here', 5, 1000 + 20 * pair), ...several('there', 5, 1010 + 20 * pair)];
      const { comparison } = probesOf(groups, { reference: 'here' }).probes[1];
      const found = comparison?.figures.find(({ figure }) => figure === 'centre-frequency-e1065');
      if (found?.differs === true) different += 1;
    }
    expect(different).toBeLessThanOrEqual(8);
  });

  it('one capture of a probe is not enough to claim a difference', () => {
    const single = probesOf([...a, ...b.slice(0, 1)], { reference: 'one' }).probes[1].comparison;
    for (const { differs, test, sentence } of single?.figures ?? []) {
      expect(differs).toBeNull();
      expect(test).toBeNull();
      expect(sentence).toMatch(/cannot be tested|not measurable/);
    }
  });

  it('overlays are aligned, and the difference of an echo with its delayed self is nothing but noise', () => {
    const delayed = capture('late', 'late.csv', 5, 77, 35, 0.3141);
    for (const align of ['cross-correlation', 'envelope-peak'] as const) {
      const { comparison } = probesOf([a[0], delayed], { reference: 'one', align }).probes[1];
      expect(comparison?.time?.alignment.shiftUs).toBeCloseTo(0.3141, align === 'envelope-peak' ? 2 : 3);
      expect(comparison?.time?.relativeRms).toBeLessThan(0.08);
      const { band, differenceDb, stepMHz } = comparison!.frequency!;
      expect(band!.fromMHz).toBeLessThan(3.7);
      expect(band!.toMHz).toBeGreaterThan(6.3);
      expect(Math.abs(differenceDb[Math.round(5 / stepMHz)])).toBeLessThan(0.3);
      expect(differenceDb[Math.round(20 / stepMHz)]).toBeNaN();
    }
  });

  it('as recorded, the level stands in the difference, gain taken out', () => {
    const quieter = { ...capture('low', 'low.csv', 5, 78, 35), gainDb: 34 };
    const { frequency } = probesOf([a[0], quieter], { reference: 'one', normalised: false }).probes[1].comparison!;
    expect(frequency!.differenceDb[Math.round(5 / frequency!.stepMHz)]).toBeCloseTo(20 * Math.log10(0.5) + 6, 0);
  });

  it('a reference that no capture states is a problem, and the figures stand', () => {
    const other = probesOf(a, { reference: 'nine' });
    expect(other.problems.map(({ code }) => code)).toEqual(['unknown-probe']);
    expect(other.problems[0].sentence).toContain('those stated are one');
    expect(other.probes[0].figures.height.quantity).not.toBeNull();
  });

  it('marks the best where one end is better', () => {
    expect(bestIn('bandwidth-6-db', result.probes)).toBe('one');
    expect(bestIn('duration-iso', result.probes)).toBe('one');
    expect(bestIn('centre-frequency-e1065', result.probes)).toBeNull();
    expect(bestIn('bandwidth-6-db', result.probes.slice(0, 1))).toBeNull();
  });
});

describe('against stated figures, ±10 % on the centre frequency and ±15 % on the bandwidth (ISO 22232-2, from memory)', () => {
  const statedOf = (value: number, bandwidth: number) => ({
    rule: { kind: 'published' as const, name: 'iso-22232-2' },
    probes: [
      {
        name: 'one',
        gate: null,
        elementMm: null,
        stated: [
          { figure: 'centre-frequency-e1065' as const, value },
          { figure: 'bandwidth-6-db' as const, value: bandwidth },
          { figure: 'half-cycles' as const, value: 5 },
        ],
      },
    ],
  });

  it.each([
    ['5 MHz as stated', 5, 2.75, ['pass', 'pass', null], 'pass'],
    ['11 % below 5.62 MHz', 5.62, 2.75, ['fail', 'pass', null], 'fail'],
    ['17 % above 2.35 MHz of bandwidth', 5, 2.35, ['pass', 'fail', null], 'fail'],
  ] as const)('%s', (_, value, bandwidth, verdicts, outcome) => {
    const [one] = probesOf(a, statedOf(value, bandwidth)).probes;
    expect(one.stated.map(({ verdict }) => verdict?.outcome ?? null)).toEqual(verdicts);
    expect(one.outcome).toBe(outcome);
  });

  it('what could not be measured is not assessed, never passed', () => {
    const broken = [capture('one', 'late.csv', 5, 9, 70, 9)];
    const [one] = probesOf(broken, statedOf(5, 2.75)).probes;
    expect(one.outcome).toBe('not-assessed');
  });

  it('without a rule there are deviations and no verdicts', () => {
    const [one] = probesOf(a, { ...statedOf(5, 2.75), rule: null }).probes;
    expect(one.outcome).toBeNull();
    expect(one.stated[0].deviation?.value).toBeCloseTo(0, 0);
  });

  it('a rule that nobody published is a problem', () => {
    const { problems } = probesOf(a, { ...statedOf(5, 2.75), rule: { kind: 'published', name: 'yesterday' } });
    expect(problems.map(({ code }) => code)).toEqual(['unknown-rule']);
  });
});

describe('in the review', () => {
  it('a review with probes is saved and opens as it was', () => {
    const review = reviewOf(a, { reference: 'one' });
    const opened = openReview('r.json', reviewText(review));
    if (!opened.ok) throw new Error(JSON.stringify(opened.problems));
    expect(opened.value).toEqual(review);
  });

  it('setting probes and material can be taken back', () => {
    const review = reviewOf(a);
    const edited = apply(emptyReview, { kind: 'set-probes', probes: review.probes });
    if (!edited.ok) throw new Error('refused');
    expect(edited.value.review.probes).toEqual(review.probes);
    expect(apply(edited.value.review, edited.value.inverse)).toMatchObject({
      ok: true,
      value: { review: emptyReview },
    });
  });
});
