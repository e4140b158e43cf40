import { describe, expect, it } from 'vitest';
import { propagate, rectangularUncertainty } from '../../../core/units/quantity.ts';

describe('propagate', () => {
  it('has no uncertainty without contributions', () =>
    expect(propagate(5, [])).toEqual({ value: 5, standardUncertainty: 0 }));

  it('does not know what a part that matters does not know', () => {
    expect(
      propagate(5, [
        { sensitivity: 2, standardUncertainty: 1 },
        { sensitivity: 1, standardUncertainty: null },
      ]).standardUncertainty,
    ).toBeNull();
  });

  it('does not ask what does not matter', () => {
    expect(
      propagate(5, [
        { sensitivity: 2, standardUncertainty: 1 },
        { sensitivity: 0, standardUncertainty: null },
      ]).standardUncertainty,
    ).toBe(2);
  });

  it('adds independent parts as squares (GUM 5.1.2)', () => {
    expect(
      propagate(5, [
        { sensitivity: -3, standardUncertainty: 1 },
        { sensitivity: 2, standardUncertainty: 2 },
      ]).standardUncertainty,
    ).toBe(5);
  });
});

it('± 0.1 mm taken as rectangular is 0.0577 mm (GUM 4.3.7)', () =>
  expect(rectangularUncertainty(0.1)).toBeCloseTo(0.057735, 6));
