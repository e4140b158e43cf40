import type { Bound } from '../procedures/field-reading.ts';

export const angleInPart: Bound = {
  holds: (value) => value >= 0 && value < 90,
  sentence: 'give an angle from 0° (a straight beam) to below 90°',
};

export const bevel: Bound = {
  holds: (value) => value >= 0 && value < 90,
  sentence: 'give a bevel from 0° to below 90°',
};
