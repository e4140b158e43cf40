const value = new Float64Array(1);
const words = new Uint32Array(value.buffer);
/** Which of the two words holds sign and exponent. */
const upper = new Uint8Array(Uint32Array.of(1).buffer)[0] === 1 ? 1 : 0;

/** 2^exponent, for whole exponents from −1022 to 1023. */
export function powerOfTwo(exponent: number): number {
  words[upper] = (exponent + 1023) << 20;
  words[1 - upper] = 0;
  return value[0];
}

/** The largest whole k with 2^k ≤ x, for normal positive x. */
export function binaryExponent(x: number): number {
  value[0] = x;
  return (words[upper] >>> 20) - 1023;
}

/** x / 2^binaryExponent(x): from 1 to below 2, for normal positive x. */
export function significand(x: number): number {
  value[0] = x;
  words[upper] = (words[upper] & 0xfffff) | 0x3ff00000;
  return value[0];
}

/** x · 2^exponent, where the product may be too small or too large for one factor. */
export function scaled(x: number, exponent: number): number {
  if (exponent >= -1022 && exponent <= 1023) return x * powerOfTwo(exponent);
  return exponent < 0
    ? x * powerOfTwo(Math.max(-1022, exponent + 200)) * powerOfTwo(-200)
    : x * powerOfTwo(Math.min(1023, exponent - 200)) * powerOfTwo(200);
}
