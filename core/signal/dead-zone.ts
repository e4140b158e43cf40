/** The main bang begins within this time of the trigger. */
const beginsWithinUs = 1;
/** It stands at least so high; a record gated to begin later does not. */
const leastBangPercent = 20;
/** It has died away when the envelope stays below this, or below four times the noise, for this long. */
const ringsAbovePercent = 8;
const quietForUs = 0.5;

/**
 * Until when the main bang of a record rings, in µs; `null` where the record has none: it begins too late after the
 * trigger, or nothing stands at its beginning, or nothing ever dies away (a base line that was left in).
 *
 *     envelope |##
 *              |####_
 *     limit  --|-----#--#------------------------
 *              |       #_##__~__~_  /\ first echo
 *              +----------|---------------- time
 *              0       dead zone ends
 *
 * @param envelope in % FSH
 * @param noise of the envelope in % FSH; `null` where unknown
 * Source: common practice (dead zone of the initial pulse); the limits are this program's own.
 */
export function deadZoneEndUs(
  envelope: Float64Array,
  startUs: number,
  stepUs: number,
  noise: number | null,
): number | null {
  const begin = Math.max(0, Math.ceil(-startUs / stepUs));
  const until = Math.min(envelope.length - 1, Math.floor((beginsWithinUs - startUs) / stepUs));
  let highest = begin;
  for (let i = begin; i <= until; i++) if (envelope[i] > envelope[highest]) highest = i;
  if (begin > until || envelope[highest] < leastBangPercent) return null;
  const limit = Math.max(ringsAbovePercent, 4 * (noise ?? 0));
  const quietSamples = Math.max(1, Math.ceil(quietForUs / stepUs));
  let quiet = 0;
  for (let i = highest; i < envelope.length; i++) {
    quiet = envelope[i] < limit ? quiet + 1 : 0;
    if (quiet === quietSamples) return startUs + (i - quietSamples + 1) * stepUs;
  }
  return null;
}
