import { hypot } from '../elementary/hypotenuse.ts';
import { normalBelow } from '../statistics/normal-probability.ts';
import { ratioFromDb } from '../units/decibel.ts';
import { type Measured, measured, notMeasurable } from './measured.ts';
import { pointsForSample } from './oversampled.ts';

/** One half wave: where it is highest, of either sign. */
interface Crest {
  readonly point: number;
  readonly height: number;
}

/** An unrectified echo between its samples, and its half waves. */
export interface HalfWaves {
  readonly rf: Float64Array;
  readonly stepUs: number;
  readonly crests: readonly Crest[];
  readonly highest: number;
  /** Standard deviation of the noise of one sample, in the unit of the RF; `null` where it is not known. */
  readonly noiseSd: number | null;
}

/** @param rf as `oversampled` gives it @param stepUs of the samples, not of the points */
export function halfWavesOf(rf: Float64Array, stepUs: number, noiseSd: number | null): HalfWaves {
  const crests: Crest[] = [];
  let from = 0;
  for (let i = 1; i <= rf.length; i++) {
    if (i < rf.length && Math.sign(rf[i]) === Math.sign(rf[from])) continue;
    let point = from;
    for (let k = from + 1; k < i; k++) if (Math.abs(rf[k]) > Math.abs(rf[point])) point = k;
    if (rf[point] !== 0) crests.push({ point, height: Math.abs(rf[point]) });
    from = i;
  }
  const highest = crests.reduce((most, crest) => Math.max(most, crest.height), 0);
  return { rf, stepUs, crests, highest, noiseSd };
}

/** A level must stand so far above the noise for its crossings to be the echo's, as an echo itself must (15.6 dB): nearer, noise moves the outermost crossing outward (tried by Monte Carlo). */
export const leastLevelOfNoise = 6;

/**
 * From the first to the last time at which the unrectified echo, of either sign, exceeds a level of its highest crest.
 *
 *     level  ----/\--------------/\----
 *              _/  \    /\      /  \__
 *            first  \__/  \_..._/  last
 *
 * The uncertainty has three shares: the noise at both crossings, the noise of the highest crest (which sets the level), and that a half wave
 * whose crest stands near the level counts wrongly, or is wrongly left out (the time it would change, times the root of the chance of that).
 * @param levelDb below the highest crest, above 0
 * Source: ASTM E1065 (from memory); the uncertainty is derived and tried by Monte Carlo.
 */
export function pulseDuration(waves: HalfWaves, levelDb: number): Measured {
  const { crests, highest, noiseSd, rf, stepUs } = waves;
  const share = ratioFromDb(-levelDb);
  const level = share * highest;
  if (noiseSd !== null && level < leastLevelOfNoise * noiseSd) return notMeasurable('level-in-noise');
  const above = crests.flatMap(({ height }, i) => (height >= level ? [i] : []));
  const first = above[0];
  const last = above[above.length - 1];
  const begin = crossingAt(rf, crests[first].point, level, -1);
  const end = crossingAt(rf, crests[last].point, level, 1);
  if (begin === null || end === null) return notMeasurable('cut-by-gate');
  const perPoint = stepUs / pointsForSample;
  const value = (end.point - begin.point) * perPoint;
  if (noiseSd === null) return measured(value, null);
  const uLevel = noiseSd * hypot(1, share);
  const crossings = noiseSd * hypot(1 / begin.slope, 1 / end.slope);
  const ofHighest = noiseSd * share * (1 / begin.slope + 1 / end.slope);
  const byChance = (at: number, beside: number, sign: -1 | 1, edge: number): number => {
    const crest = crests[at];
    const next = crests[beside];
    let variance = 0;
    if (crest !== undefined && crest.height < highest) {
      const inner = crests[at - sign];
      const stays = normalBelow((crest.height - level) / uLevel);
      if (inner !== undefined)
        variance += (1 - stays) * Math.abs((crossingAt(rf, inner.point, level, sign)?.point ?? edge) - edge) ** 2;
    }
    if (next !== undefined) {
      const comes = normalBelow((next.height - level) / uLevel);
      variance += comes * (next.point - edge) ** 2;
    }
    return variance;
  };
  const jumps = byChance(first, first - 1, -1, begin.point) + byChance(last, last + 1, 1, end.point);
  return measured(value, hypot(crossings, ofHighest, Math.sqrt(jumps)) * perPoint);
}

/** Half waves whose crest exceeds a level of the highest one; the uncertainty is that of those which stand near it. */
export function halfCycles(waves: HalfWaves, levelDb: number): Measured {
  const { crests, highest, noiseSd } = waves;
  const share = ratioFromDb(-levelDb);
  const level = share * highest;
  if (noiseSd !== null && level < leastLevelOfNoise * noiseSd) return notMeasurable('level-in-noise');
  const count = crests.filter(({ height }) => height >= level).length;
  if (noiseSd === null) return measured(count, null);
  const uLevel = noiseSd * hypot(1, share);
  let variance = 0;
  for (const { height } of crests) {
    if (height === highest || Math.abs(height - level) > 3 * uLevel) continue;
    const exceeds = normalBelow((height - level) / uLevel);
    variance += height >= level ? 1 - exceeds : exceeds;
  }
  return measured(count, Math.sqrt(variance));
}

/** From a crest outward to where it falls through the level, between points; `null` where the record ends before. `slope` by points, above 0. */
function crossingAt(
  rf: Float64Array,
  crest: number,
  level: number,
  step: -1 | 1,
): { readonly point: number; readonly slope: number } | null {
  for (let i = crest; i + step >= 0 && i + step < rf.length; i += step) {
    const here = Math.abs(rf[i]);
    // A half wave may fall through nothing to the other sign within one point.
    const next = Math.sign(rf[i + step]) === Math.sign(rf[crest]) ? Math.abs(rf[i + step]) : -Math.abs(rf[i + step]);
    if (next >= level) continue;
    return { point: i + (step * (here - level)) / (here - next), slope: here - next };
  }
  return null;
}
