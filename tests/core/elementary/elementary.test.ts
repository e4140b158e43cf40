import { describe, expect, it } from 'vitest';
import { exp, log, log1p, log2, log10, power } from '../../../core/elementary/exponential.ts';
import { hypot } from '../../../core/elementary/hypotenuse.ts';
import { acos, asin, atan, atan2, cos, sin, tan } from '../../../core/elementary/trigonometric.ts';
import { uniform } from '../../build/random.ts';

/** One unit in the last place of a number. */
function ulp(x: number): number {
  return 2 ** (Math.max(-1022, Math.floor(Math.log2(Math.abs(x)))) - 52);
}

/*
 * Against the runtime’s own functions, which are within one unit in the last place of the truth, but not the same ones
 * everywhere.
 */
const functions: readonly (readonly [string, (x: number) => number, (x: number) => number, number, number])[] = [
  ['sin', sin, Math.sin, -1000, 1000],
  ['sin of a small angle', sin, Math.sin, -1e-3, 1e-3],
  ['sin of a million', sin, Math.sin, -1e6, 1e6],
  ['cos', cos, Math.cos, -1000, 1000],
  ['cos of a million', cos, Math.cos, -1e6, 1e6],
  ['tan', tan, Math.tan, -1.57, 1.57],
  ['asin', asin, Math.asin, -1, 1],
  ['acos', acos, Math.acos, -1, 1],
  ['atan', atan, Math.atan, -5, 5],
  ['atan of what is large', atan, Math.atan, -1e6, 1e6],
  ['exp', exp, Math.exp, -700, 700],
  ['exp about 0', exp, Math.exp, -1, 1],
  ['log', log, Math.log, 1e-9, 1e3],
  ['log about 1', log, Math.log, 0.7, 1.5],
  ['log10', log10, Math.log10, 1e-9, 1e3],
  ['log2', log2, Math.log2, 1e-9, 1e4],
  ['log1p', log1p, Math.log1p, -0.9, 10],
  ['log1p of what is small', log1p, Math.log1p, -1e-5, 1e-5],
  ['10 to the power', (x) => power(10, x), (x) => 10 ** x, -3, 3],
  ['√(x² + 1)', (x) => hypot(x, 1), (x) => Math.hypot(x, 1), -10, 10],
  ['the angle of (x, 0.3)', (x) => atan2(0.3, x), (x) => Math.atan2(0.3, x), -2, 2],
  ['the angle of (−0.3, x)', (x) => atan2(x, -0.3), (x) => Math.atan2(x, -0.3), -2, 2],
];

describe('the elementary functions', () => {
  it.each(functions)('%s: within three units in the last place of the runtime’s', (_, own, theirs, from, to) => {
    const any = uniform(5);
    let worst = 0;
    for (let i = 0; i < 20_000; i++) {
      const x = from + (to - from) * any();
      worst = Math.max(worst, Math.abs(own(x) - theirs(x)) / ulp(theirs(x)));
    }
    expect(worst).toBeLessThanOrEqual(3);
  });

  it.each([
    ['log10 1000', log10(1000), 3],
    ['log10 1e-5', log10(1e-5), -5],
    ['log10 1e22', log10(1e22), 22],
    ['log2 8', log2(8), 3],
    ['log2 of 2⁻¹⁰⁰⁰', log2(2 ** -1000), -1000],
    ['10³', power(10, 3), 1000],
    ['10⁻³', power(10, -3), 0.001],
    ['10²²', power(10, 22), 1e22],
    ['4 to a half', power(4, 0.5), 2],
    ['(−2)³', power(-2, 3), -8],
    ['0⁰', power(0, 0), 1],
    ['e⁰', exp(0), 1],
    ['ln 1', log(1), 0],
    ['ln of the smallest number', log(5e-324), -744.4400719213812],
    ['sin π/2', sin(Math.PI / 2), 1],
    ['cos 0', cos(0), 1],
    ['asin 1', asin(1), Math.PI / 2],
    ['acos −1', acos(-1), Math.PI],
    ['atan 1', atan(1), Math.PI / 4],
    ['a triangle of 3, 4 and 5', hypot(3, 4), 5],
    ['a small triangle', hypot(3e-200, 4e-200), 5e-200],
    ['nothing', hypot(), 0],
  ])('%s is exact', (_, found, exact) => {
    expect(found).toBe(exact);
  });

  it('a large triangle does not overflow', () => {
    expect(hypot(3e200, 4e200) / 5e200).toBeCloseTo(1, 14);
  });

  const odd = [
    0,
    -0,
    1,
    -1,
    0.5,
    1e300,
    -1e300,
    5e-324,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NaN,
  ];
  const asTheirs = (found: number, theirs: number) =>
    Object.is(found, theirs) || Math.abs(found - theirs) <= 3 * ulp(theirs);

  it.each(odd.map((x) => [x]))('%s: infinite, no number or signed zero where the runtime says so', (x) => {
    for (const [own, theirs] of [
      [exp, Math.exp],
      [log, Math.log],
      [log10, Math.log10],
      [log2, Math.log2],
      [log1p, Math.log1p],
      [asin, Math.asin],
      [acos, Math.acos],
      [atan, Math.atan],
    ] as const) {
      expect(asTheirs(own(x), theirs(x)), `${theirs.name} ${x}: ${own(x)}, not ${theirs(x)}`).toBe(true);
    }
    // Beyond a million radians sine and cosine keep their bounds alone.
    for (const [own, theirs] of [
      [sin, Math.sin],
      [cos, Math.cos],
      [tan, Math.tan],
    ] as const) {
      const held = Math.abs(x) < 1e6 || !Number.isFinite(x);
      expect(held ? asTheirs(own(x), theirs(x)) : (own !== tan && Math.abs(own(x)) <= 1) || own === tan).toBe(true);
    }
    for (const y of odd) {
      expect(asTheirs(atan2(y, x), Math.atan2(y, x)), `atan2(${y}, ${x}): ${atan2(y, x)}`).toBe(true);
      if (!Number.isNaN(x) && !Number.isNaN(y)) expect(asTheirs(hypot(x, y), Math.hypot(x, y))).toBe(true);
    }
  });
});
