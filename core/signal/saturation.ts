import type { SampleRange, Waveform } from '../capture/waveform.ts';

/** A crest is flat when at least so many successive samples are equal (common practice). */
const leastFlat = 3;
/** No converter has fewer than six bits (common practice): one count is at most this part of the screen. */
const coarsestCount = 1 / 31;

/**
 * The smallest step between two successive unequal samples, in the waveform's unit: one count of the converter where the
 * record is quantised, next to nothing where it is not. `null` where all samples are equal.
 */
export function resolutionOf(samples: Float64Array): number | null {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < samples.length; i++) {
    const step = Math.abs(samples[i] - samples[i - 1]);
    if (step < least && step > 0) least = step;
  }
  return Number.isFinite(least) ? least : null;
}

/**
 * Runs of samples cut off by the screen or the converter, from the raw record. A sample is cut off when
 *
 * - it stands at or above 100 % of full screen height, or one count of its converter below (whose highest code may be
 *   that, and the one sample that a crest just beyond it shows is all there is to see), or
 * - it stands at the record's extreme, and that extreme is a limit: somewhere three successive samples or more are equal
 *   there, and either it lies within one count of full scale, or the other sign has its flat crest at the same height,
 *   or the flat crest breaks off more sharply than any rounded one could.
 *
 *        ____                __
 *       |    |   cut off    /  \   quantised: the next sample is at most a few counts lower
 *      /      \           _/    \_
 *
 * A base line that is flat is no crest: only samples at least half as far from the zero level as the farthest count.
 * Once a level is known as a limit every sample at it counts, for at a few samples to the period a cut crest shows only
 * one or two.
 * @param resolution one count, as `resolutionOf` gives it
 * Source: common practice (flat crests at full scale); the test of sharpness is derived from a parabola through the crest.
 */
export function saturatedRuns(waveform: Waveform, resolution: number | null): SampleRange[] {
  const { samples, fullScreen, zeroLevel, rectification } = waveform;
  if (samples.length === 0) return [];
  let top = samples[0];
  let bottom = samples[0];
  for (let i = 1; i < samples.length; i++) {
    const sample = samples[i];
    if (sample > top) top = sample;
    if (sample < bottom) bottom = sample;
  }
  const screen = fullScreen === null ? Number.POSITIVE_INFINITY : fullScreen;
  const count = resolution ?? 0;
  const farthest = Math.max(top - zeroLevel, zeroLevel - bottom);
  const upper = isCrest(top - zeroLevel, farthest) ? flatCrest(samples, top, count) : null;
  const lower =
    rectification === 'rf' && isCrest(zeroLevel - bottom, farthest) ? flatCrest(samples, bottom, count) : null;
  const slack = count * (1 + 1e-6);
  const bothSigns = upper !== null && lower !== null && Math.abs(top + bottom - 2 * zeroLevel) <= slack;
  // Steps that are no converter's have no highest code.
  const reach = slack <= screen * coarsestCount ? screen - slack : screen;
  const isLimit = (height: number, crest: { readonly sharp: boolean } | null) =>
    height >= reach || (crest !== null && (crest.sharp || bothSigns || height >= screen - slack));
  const topIsLimit = isLimit(top - zeroLevel, upper);
  const bottomIsLimit = rectification === 'rf' && isLimit(zeroLevel - bottom, lower);

  const high = Math.min(topIsLimit ? top : Number.POSITIVE_INFINITY, zeroLevel + screen);
  const low = Math.max(
    bottomIsLimit ? bottom : Number.NEGATIVE_INFINITY,
    rectification === 'rf' ? zeroLevel - screen : Number.NEGATIVE_INFINITY,
  );
  return high <= top || low >= bottom ? runsOutside(samples, low, high) : [];
}

function isCrest(height: number, farthest: number): boolean {
  return height > 0 && height >= farthest / 2;
}

/**
 * Is there a flat crest at this extreme, and does one break off sharply? A crest rounded to whole counts that shows n
 * equal samples is a parabola that falls one count within (n − 1)/2 samples of its middle or farther out, so the next
 * sample lies at most ((n + 1)/(n − 1))² counts below, and one more for the rounding.
 */
function flatCrest(samples: Float64Array, extreme: number, count: number): { readonly sharp: boolean } | null {
  let found = false;
  for (let i = 0; i < samples.length; i++) {
    if (samples[i] !== extreme) continue;
    let end = i;
    while (end + 1 < samples.length && samples[end + 1] === extreme) end += 1;
    const length = end - i + 1;
    if (length >= leastFlat && length < samples.length) {
      found = true;
      const allowed = count * (((length + 1) / (length - 1)) ** 2 + 1) * (1 + 1e-6);
      const fallBefore = i > 0 ? Math.abs(extreme - samples[i - 1]) : Number.POSITIVE_INFINITY;
      const fallAfter = end + 1 < samples.length ? Math.abs(extreme - samples[end + 1]) : Number.POSITIVE_INFINITY;
      if (fallBefore > allowed && fallAfter > allowed) return { sharp: true };
    }
    i = end;
  }
  return found ? { sharp: false } : null;
}

function runsOutside(samples: Float64Array, low: number, high: number): SampleRange[] {
  const runs: SampleRange[] = [];
  for (let i = 0; i < samples.length; i++) {
    if (samples[i] < high && samples[i] > low) continue;
    const first = i;
    while (i + 1 < samples.length && (samples[i + 1] >= high || samples[i + 1] <= low)) i += 1;
    runs.push({ first, last: i });
  }
  return runs;
}
