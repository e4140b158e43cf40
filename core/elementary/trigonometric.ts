/*
 * Sine, cosine and their inverses from additions, multiplications, divisions and square roots alone, for the same reason as
 * in `exponential.ts`: the same bits in every runtime. No error exceeds three units in the last place for arguments up to a
 * million radians (`tests/core/elementary`); beyond, digits are lost, but the same ones everywhere.
 */

/** π/2 in three parts; the first two have zeros enough at their ends for a product with any quadrant up to 2²⁰ to be exact. */
const quarterTurn = [1.5707963267341256, 6.077100506303966e-11, 2.0222662487959506e-21] as const;
const perQuarterTurn = 0.6366197723675814;
const farthestQuadrant = 1_048_576;

/** r + low is the angle, |r| ≤ π/4. Source: Taylor's series. */
function sineOf(r: number, low: number): number {
  const square = r * r;
  const series =
    -1 / 6 +
    square *
      (1 / 120 +
        square *
          (-1 / 5040 +
            square *
              (1 / 362880 +
                square *
                  (-1 / 39916800 +
                    square * (1 / 6227020800 + square * (-1 / 1307674368000 + square * (1 / 355687428096000)))))));
  return r + (r * square * series + low * (1 - square / 2));
}

function cosineOf(r: number, low: number): number {
  const square = r * r;
  const series =
    1 / 24 +
    square *
      (-1 / 720 +
        square *
          (1 / 40320 +
            square *
              (-1 / 3628800 + square * (1 / 479001600 + square * (-1 / 87178291200 + square * (1 / 20922789888000))))));
  const half = square / 2;
  const high = 1 - half;
  return high + (1 - high - half + (square * square * series - r * low));
}

let remainder = 0;
let remainderLow = 0;

/** The angle less whole quarter turns, into `remainder` and `remainderLow`; which quarter it lies about, 0 to 3. */
function reduce(x: number): number {
  if (Math.abs(x) < 0.785) {
    remainder = x;
    remainderLow = 0;
    return 0;
  }
  const near = Math.abs(x) < farthestQuadrant ? x : x % (2 * Math.PI);
  const quadrant = Math.round(near * perQuarterTurn);
  const first = near - quadrant * quarterTurn[0];
  const taken = quadrant * quarterTurn[1];
  const high = first - taken;
  const low = first - high - taken - quadrant * quarterTurn[2];
  remainder = high + low;
  remainderLow = high - remainder + low;
  return quadrant & 3;
}

/** Sine of an angle in radians. */
export function sin(x: number): number {
  if (x === 0) return x;
  const quarter = reduce(x);
  const value = quarter % 2 === 0 ? sineOf(remainder, remainderLow) : cosineOf(remainder, remainderLow);
  return quarter > 1 ? -value : value;
}

/** Cosine of an angle in radians. */
export function cos(x: number): number {
  const quarter = reduce(x);
  const value = quarter % 2 === 0 ? cosineOf(remainder, remainderLow) : sineOf(remainder, remainderLow);
  return quarter === 1 || quarter === 2 ? -value : value;
}

/** Tangent of an angle in radians. */
export function tan(x: number): number {
  if (x === 0) return x;
  const quarter = reduce(x);
  const sine = sineOf(remainder, remainderLow);
  const cosine = cosineOf(remainder, remainderLow);
  return quarter % 2 === 0 ? sine / cosine : -cosine / sine;
}

const sixthOfHalfTurn = 0.5235987755982989;
const sixthOfHalfTurnLow = -5.360408832255455e-17;
const tangentOfSixth = 0.5773502691896257;
const tangentOfSixthLow = 3.3450280739356345e-17;
/** tan(π/12): up to here the series of the arc tangent converges by a fourteenth with each term. */
const directly = 0.2679491924311227;

function arcTangentSeries(x: number): number {
  const square = x * x;
  const series =
    -1 / 3 +
    square *
      (1 / 5 +
        square *
          (-1 / 7 +
            square *
              (1 / 9 +
                square *
                  (-1 / 11 +
                    square *
                      (1 / 13 +
                        square *
                          (-1 / 15 +
                            square *
                              (1 / 17 +
                                square *
                                  (-1 / 19 +
                                    square *
                                      (1 / 21 +
                                        square *
                                          (-1 / 23 +
                                            square * (1 / 25 + square * (-1 / 27 + square * (1 / 29)))))))))))));
  return x * square * series;
}

/** For 0 ≤ x ≤ 1. Source: arctan x = π/6 + arctan((x − t)/(1 + x·t)), t = tan(π/6), and its series (common practice). */
function arcTangentToOne(x: number): number {
  if (x <= directly) return x + arcTangentSeries(x);
  const turned = (x - tangentOfSixth - tangentOfSixthLow) / (1 + x * tangentOfSixth);
  return sixthOfHalfTurn + (turned + (arcTangentSeries(turned) + sixthOfHalfTurnLow));
}

const halfPi = 1.5707963267948966;
const halfPiLow = 6.123233995736766e-17;

/** Arc tangent in radians, between −π/2 and π/2. */
export function atan(x: number): number {
  const size = Math.abs(x);
  if (!(size > 0)) return x;
  const angle = size <= 1 ? arcTangentToOne(size) : halfPi - (arcTangentToOne(1 / size) - halfPiLow);
  return x < 0 ? -angle : angle;
}

/** The angle of the point (x, y) in radians, between −π and π. */
export function atan2(y: number, x: number): number {
  if (Number.isNaN(x) || Number.isNaN(y)) return Number.NaN;
  const isLeft = x < 0 || Object.is(x, -0);
  const isBelow = y < 0 || Object.is(y, -0);
  const [across, up] = [Math.abs(x), Math.abs(y)];
  let angle: number;
  if (up === 0 && across === 0) angle = 0;
  else if (across === up) angle = halfPi / 2;
  else angle = up <= across ? arcTangentToOne(up / across) : halfPi - (arcTangentToOne(across / up) - halfPiLow);
  if (isLeft) angle = 2 * halfPi - (angle - 2 * halfPiLow);
  return isBelow ? -angle : angle;
}

/** Arc sine in radians. Source: the right triangle of hypotenuse 1. */
export function asin(x: number): number {
  return Math.abs(x) <= 1 ? atan2(x, Math.sqrt((1 - x) * (1 + x))) : Number.NaN;
}

/** Arc cosine in radians. Source: half the angle, whose sine and cosine lose no digits at either end. */
export function acos(x: number): number {
  return Math.abs(x) <= 1 ? 2 * atan2(Math.sqrt(1 - x), Math.sqrt(1 + x)) : Number.NaN;
}
