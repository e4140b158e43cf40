import { binaryExponent, scaled, significand } from './double-bits.ts';

/*
 * Exponential and logarithm from additions, multiplications, divisions and square roots alone. Those give the same bits
 * wherever IEEE 754 is kept; what a runtime's own Math.exp, Math.log or ** gives in the last bits is its own affair
 * (ECMAScript: implementation-approximated), and did differ between the command line and the window. No error exceeds
 * three units in the last place (`tests/core/elementary`); only the power of a large exponent may be wrong by more.
 */

/** ln 2 in two parts, of which the first has zeros enough at its end for a product with any binary exponent to be exact. */
const ln2High = 0.6931471805598903;
const ln2Low = 5.497923018708371e-14;
const largestExponent = 709.782712893384;
const smallestExponent = -745.1332191019411;

/** e^x. Source: Taylor's series after x = k·ln 2 + r, |r| ≤ ln 2 / 2 (common practice). */
export function exp(x: number): number {
  if (Number.isNaN(x)) return x;
  if (x > largestExponent) return Number.POSITIVE_INFINITY;
  if (x < smallestExponent) return 0;
  const k = Math.round(x * Math.LOG2E);
  const high = x - k * ln2High;
  const low = k * ln2Low;
  const r = high - low;
  const series =
    0.5 +
    r *
      (1 / 6 +
        r *
          (1 / 24 +
            r *
              (1 / 120 +
                r *
                  (1 / 720 +
                    r *
                      (1 / 5040 +
                        r *
                          (1 / 40320 +
                            r *
                              (1 / 362880 +
                                r *
                                  (1 / 3628800 +
                                    r * (1 / 39916800 + r * (1 / 479001600 + r * (1 / 6227020800)))))))))));
  // What rounding took from r goes back in with the smaller terms.
  const lost = high - r - low;
  return scaled(1 + (r + (r * r * series + lost)), k);
}

/**
 * Natural logarithm. Source: x = 2^k·(1 + f) with 1 + f between √½ and √2, and ln(1 + f) = 2·artanh(s), s = f/(2 + f), with
 * 2s = f − s·f, so that the largest term is f itself, which is exact (derived).
 */
export function log(x: number): number {
  if (!(x > 0)) return x === 0 ? Number.NEGATIVE_INFINITY : Number.NaN;
  if (x === Number.POSITIVE_INFINITY) return x;
  if (x < 2.2250738585072014e-308) return log(x * 18_014_398_509_481_984) - 54 * ln2High - 54 * ln2Low;
  let k = binaryExponent(x);
  let m = significand(x);
  if (m > Math.SQRT2) {
    m /= 2;
    k += 1;
  }
  const f = m - 1;
  const s = f / (2 + f);
  const square = s * s;
  const series =
    2 / 3 +
    square *
      (2 / 5 +
        square *
          (2 / 7 +
            square *
              (2 / 9 +
                square *
                  (2 / 11 +
                    square *
                      (2 / 13 + square * (2 / 15 + square * (2 / 17 + square * (2 / 19 + square * (2 / 21)))))))));
  const beside = s * (f - square * series);
  return k * ln2High + (f - (beside - k * ln2Low));
}

/** ln(1 + x), true for small x too. Source: the error of 1 + x divided out again (Kahan, from memory). */
export function log1p(x: number): number {
  const u = 1 + x;
  if (u === 1) return x;
  return u === Number.POSITIVE_INFINITY ? u : log(u) * (x / (u - 1));
}

/** Decadic logarithm; of a power of ten the whole number itself. */
export function log10(x: number): number {
  const found = log(x) * Math.LOG10E;
  const whole = Math.round(found);
  return Math.abs(whole) <= 22 && power(10, whole) === x ? whole : found;
}

/** Binary logarithm; of a power of two the whole number itself. */
export function log2(x: number): number {
  const found = log(x) * Math.LOG2E;
  const whole = Math.round(found);
  return power(2, whole) === x ? whole : found;
}

const mostFactors = 1024;

/**
 * base^exponent. Whole exponents are products of the base (so 10³ is 1000); what is left is e^(part·ln base).
 * @param base above 0, or any with a whole exponent
 */
export function power(base: number, exponent: number): number {
  const whole = Math.round(exponent);
  if (!(Math.abs(whole) <= mostFactors)) return exp(exponent * log(base));
  const product = wholePower(base, Math.abs(whole));
  const powered = whole < 0 ? 1 / product : product;
  return whole === exponent ? powered : powered * exp((exponent - whole) * log(base));
}

function wholePower(base: number, exponent: number): number {
  let product = 1;
  for (let left = exponent, factor = base; left > 0; left = Math.floor(left / 2), factor *= factor) {
    if (left % 2 === 1) product *= factor;
  }
  return product;
}
