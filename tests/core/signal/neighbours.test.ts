import { describe, expect, it } from 'vitest';
import { interferenceAt } from '../../../core/signal/neighbours.ts';

const sigma = 10;
const gauss = (i: number, middle: number, height: number) => height * Math.exp(-0.5 * ((i - middle) / sigma) ** 2);
/** Two echoes as they show, the second half as high. */
const beside = (distance: number) =>
  Float64Array.from({ length: 300 }, (_, i) => Math.max(gauss(i, 100, 80), gauss(i, 100 + distance, 40)));

describe('what an echo beside one adds to it', () => {
  it.each([
    { name: 'an echo by itself', envelope: Float64Array.from({ length: 300 }, (_, i) => gauss(i, 100, 80)) },
    { name: 'another farther than five σ', envelope: beside(60) },
    { name: 'one nearer than one and a half', envelope: beside(12) },
  ])('$name: nothing', ({ envelope }) => {
    expect(interferenceAt(envelope, 100, sigma, 1, 100)).toEqual({ height: 0, slope: 0 });
  });

  it('is B·exp(−d²/2σ²)/√2 of its height, and that times d/σ² in slope (closed form)', () => {
    const { height, slope } = interferenceAt(beside(35), 100, sigma, 1, 100);
    expect(height).toBeCloseTo((40 * Math.exp(-0.5 * 3.5 ** 2)) / Math.SQRT2, 9);
    expect(slope).toBeCloseTo((40 * Math.exp(-0.5 * 3.5 ** 2) * 3.5) / sigma / Math.SQRT2, 9);
  });

  it('is nothing of what stands out no more than noise', () => {
    expect(interferenceAt(beside(35), 100, sigma, 20.5, 100)).toEqual({ height: 0, slope: 0 });
  });
});
