import { log } from '../elementary/exponential.ts';
import { cos } from '../elementary/trigonometric.ts';

const modulus = 2_147_483_647;
const multiplier = 16_807;

/**
 * The same normal numbers every time, of mean 0 and standard deviation 1: noise to try a method with. Nothing random.
 * Source: the generator of Park and Miller 1988, the transform of Box and Muller 1958 (both from memory).
 */
export function normalNumbers(count: number, seed: number): Float64Array {
  let state = seed;
  const next = () => {
    state = (state * multiplier) % modulus;
    return state / modulus;
  };
  for (let i = 0; i < 8; i++) next();
  return Float64Array.from({ length: count }, () => Math.sqrt(-2 * log(next())) * cos(2 * Math.PI * next()));
}
