import { describe, expect, it } from 'vitest';
import type { LinearityDecision } from '../../core/review/linearity-decision.ts';
import { defaultRecipe } from '../../core/signal/conditioning.ts';
import { examine } from '../../core/steps/examine.ts';
import { concludeGain, concludeScreenHeight, planForGain, planForScreenHeight } from '../../core/steps/linearity.ts';
import type { Quantity } from '../../core/units/quantity.ts';
import { type TraceInWords, trace } from '../build/trace.ts';

type TwoEcho = Extract<NonNullable<LinearityDecision['screenHeight']>, { form: 'two-echo' }>;

const decision: TwoEcho = {
  form: 'two-echo',
  captures: [],
  larger: { fromUs: 8, toUs: 12 },
  smaller: { fromUs: 16, toUs: 20 },
  thresholdPercent: 2,
  decision: 'with-uncertainty',
  rule: null,
};
const plan = planForScreenHeight({ conditioning: defaultRecipe }, decision);
const trials = 300;

interface Coverage {
  /** In how many trials an uncertainty was stated. */
  readonly told: number;
  readonly inside: number;
  readonly meanInU: number;
}

/** How often the truth lies within ± 2 u of what is read off noisy captures, and the mean error in u. */
function coverage(trial: (seed: number) => Quantity | null, truth: number): Coverage {
  let told = 0;
  let inside = 0;
  let sum = 0;
  for (let seed = 1; seed <= trials; seed++) {
    const read = trial(seed);
    if (read === null || read.standardUncertainty === null) continue;
    const inU = (read.value - truth) / read.standardUncertainty;
    told += 1;
    sum += inU;
    if (Math.abs(inU) <= 2) inside += 1;
  }
  return { told, inside: inside / told, meanInU: sum / told };
}

function expectCovered({ told, inside, meanInU }: Coverage): void {
  expect(told).toBeGreaterThan(0.95 * trials);
  expect(inside).toBeGreaterThan(0.954 - 3 * Math.sqrt((0.954 * 0.046) / trials));
  expect(Math.abs(meanInU)).toBeLessThan(0.5);
}

type Recorded = (words: TraceInWords) => TraceInWords;

function pairAt(seed: number, recorded: Recorded) {
  const place = (seed % 20) / 2000;
  const words = trace()
    .record(4, 2000)
    .burst({ timeUs: 10 + place, amplitudePercent: 70, phaseDeg: 37 * seed })
    .burst({ timeUs: 18 + place, amplitudePercent: 36, phaseDeg: 61 * seed });
  const { examinations } = examine([recorded(words.noise(0.6, seed)).capture()], plan);
  const check = concludeScreenHeight(decision, examinations);
  if (!check.ok) throw new Error('not judged');
  return check.value;
}

describe('heights read off noisy captures: ± 2 u covers at least 95 % of the time (seeded trials)', () => {
  it.each<[string, Recorded]>([
    ['RF', (words) => words],
    ['RF in counts of 1 % FSH', (words) => words.quantised(8)],
    ['rectified, both half waves', (words) => words.rectified('full')],
  ])('two echoes: %s', (_name, recorded) => {
    expectCovered(coverage((seed) => pairAt(seed, recorded).steps[0].deviation, 1));
  });

  it('two echoes on one half wave: no uncertainty is stated, and it is said why', () => {
    const check = pairAt(1, (words) => words.rectified('positive'));
    expect(check.steps[0].deviation?.standardUncertainty).toBeNull();
    expect(check.warnings.map((warning) => warning.code)).toEqual(['half-wave-heights']);
  });

  it.each<[string, Recorded]>([
    ['RF', (words) => words],
    ['one half wave', (words) => words.rectified('positive')],
  ])('one echo at two gains: %s', (_name, recorded) => {
    const window = { fromUs: 8, toUs: 12 };
    const gain = {
      captures: [],
      window,
      steps: null,
      thresholdPercent: 2,
      decision: 'with-uncertainty',
      rule: null,
    } as const;
    const trial = (seed: number) => {
      const at = (gainDb: number, noiseSeed: number) =>
        recorded(
          trace()
            .record(4, 2000)
            .burst({
              timeUs: 10 + (seed % 20) / 2000,
              amplitudePercent: 70 * 10 ** ((gainDb - 40) / 20),
              phaseDeg: 37 * seed,
            })
            .noise(0.6, noiseSeed),
        )
          .gain(gainDb)
          .named(`${gainDb}.csv`)
          .capture();
      const { examinations } = examine(
        [at(40, 2 * seed), at(34, 2 * seed + 1)],
        planForGain({ conditioning: defaultRecipe }, { ...gain, captures: [] }),
      );
      const check = concludeGain({ ...gain, captures: [] }, examinations);
      if (!check.ok) throw new Error('not judged');
      return check.value.steps[0].deviation;
    };
    expectCovered(coverage(trial, 0));
  });
});
