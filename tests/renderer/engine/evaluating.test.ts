import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../core/capture/capture.ts';
import { emptyReview } from '../../../core/review/review.ts';
import { type Examination, planFor } from '../../../core/steps/examine.ts';
import { ExaminationStore } from '../../../renderer/engine/evaluating.ts';

const waveform = {} as Capture['waveform'];
const examination = {} as Examination;

const planAt = (fromUs: number) => planFor(emptyReview, { echoes: { abovePercent: 5, fromUs, toUs: null } });

/** An evaluation with a step for each plan; how many of them found what was read before. */
function foundAgain(store: ExaminationStore, plans: readonly ReturnType<typeof planAt>[]): number {
  let found = 0;
  plans.forEach((plan, i) => {
    store.holdSteps(i + 1);
    const examined = store.of(plan);
    if (examined.has(waveform)) found++;
    examined.set(waveform, examination);
  });
  return found;
}

describe('what the steps of an evaluation read', () => {
  it.each([4, 14, 40])('is found again by the next one, with %i steps', (steps) => {
    const store = new ExaminationStore();
    const plans = Array.from({ length: steps }, (_, i) => planAt(i));
    expect(foundAgain(store, plans)).toBe(0);
    expect(foundAgain(store, plans)).toBe(steps);
  });

  it('is found again after a step was changed and taken back', () => {
    const store = new ExaminationStore();
    const plans = Array.from({ length: 14 }, (_, i) => planAt(i));
    foundAgain(store, plans);
    expect(foundAgain(store, plans.with(3, planAt(100)))).toBe(13);
    expect(foundAgain(store, plans)).toBe(14);
  });

  it('does not pile up while a step changes a hundred times', () => {
    const store = new ExaminationStore();
    const plans = Array.from({ length: 4 }, (_, i) => planAt(i));
    for (let change = 0; change < 100; change++) foundAgain(store, plans.with(1, planAt(1000 + change)));
    expect(store.of(planAt(1000)).has(waveform)).toBe(false);
    expect(foundAgain(store, plans.with(1, planAt(1099)))).toBe(4);
  });
});
