import { incompleteBeta } from './incomplete-beta.ts';
import type { Sample } from './sample.ts';

/** Whether two means differ, where the spreads may differ too. */
export interface WelchTest {
  /** First less second. */
  readonly difference: number;
  readonly uDifference: number;
  readonly t: number;
  /** By Welch and Satterthwaite; not a whole number. */
  readonly degreesOfFreedom: number;
  /** Two-sided: how often chance alone would part two samples of one mean as far. */
  readonly p: number;
}

export type WelchOutcome =
  | { readonly ok: true; readonly test: WelchTest }
  | { readonly ok: false; readonly reason: 'too-few-values' | 'no-spread' };

/**
 * Welch's t: t = (m₁ − m₂) / √(s₁²/n₁ + s₂²/n₂), with
 * ν = (s₁²/n₁ + s₂²/n₂)² / ((s₁²/n₁)²/(n₁ − 1) + (s₂²/n₂)²/(n₂ − 1)), and the two-sided p of Student's distribution.
 * Two values of each are the fewest; where neither spreads at all nothing can be tested.
 * Source: Welch 1947, Biometrika 34, 28; Satterthwaite 1946 (both from memory); checked against SciPy's ttest_ind with equal_var=False.
 */
export function welchTest(first: Sample, second: Sample): WelchOutcome {
  if (first.sd === null || second.sd === null) return { ok: false, reason: 'too-few-values' };
  const a = first.sd ** 2 / first.count;
  const b = second.sd ** 2 / second.count;
  if (!(a + b > 0)) return { ok: false, reason: 'no-spread' };
  const difference = first.mean - second.mean;
  const uDifference = Math.sqrt(a + b);
  const t = difference / uDifference;
  // By shares, so that no spread is too small or too great for its square.
  const share = a / (a + b);
  const degreesOfFreedom = 1 / (share ** 2 / (first.count - 1) + (1 - share) ** 2 / (second.count - 1));
  return {
    ok: true,
    test: { difference, uDifference, t, degreesOfFreedom, p: studentBeyond(t, degreesOfFreedom) },
  };
}

/** The probability that |t| of Student's distribution is at least `t`, for any number of degrees of freedom from 1 on. Source: DLMF 8.17 (from memory). */
export function studentBeyond(t: number, degreesOfFreedom: number): number {
  return incompleteBeta(degreesOfFreedom / (degreesOfFreedom + t * t), degreesOfFreedom / 2, 0.5);
}
