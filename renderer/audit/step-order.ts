import type { StepOrder } from '../../core/steps/linearity.ts';

/** How the captures of a stepped check came into their order. */
export const orderWords: Readonly<Record<StepOrder, string>> = {
  'step-table': 'The captures stand in the order of the step table.',
  'time-taken': 'The captures stand in the order in which they were taken.',
  'as-given': 'The captures stand in the order given: not all of them say when they were taken.',
};
