// Whether a day has left anything behind: by what was counted after each block of rounds, with nothing open.

/** What must be as many in the evening as at noon. */
const counted = ['workers', 'urls', 'listeners', 'documents', 'observers', 'kept'];
/** Of its level at noon, so much may come to it until the evening: what the browser itself compiles and remembers is in it. */
const bands = { heapMb: 0.06, arraysMb: 0.06, workerMb: 0.06, workerArraysMb: 0.06, nodes: 0.02 };
const fewest = 4;

/** In sentences: what was held and what was not. The first half of a day loads what is loaded when it is first wanted. */
export function judge(samples) {
  const half = samples.slice(samples.length >> 1);
  if (half.length < fewest)
    return { held: [], faults: [`Too few blocks to see a trend: at least ${2 * fewest} are needed.`] };
  const held = [];
  const faults = [];
  for (const [name, band] of Object.entries(bands)) {
    const { level, rise } = trend(half.map((sample) => sample[name]));
    const share = rise / Math.max(1, level);
    const words = `${name}: ${level.toFixed(2)} at noon, ${percent(share)} more by the evening (at most ${percent(band)})`;
    (share > band ? faults : held).push(words);
  }
  for (const name of counted) {
    const [noon, evening] = [half[0][name], half.at(-1)[name]];
    (evening > noon ? faults : held).push(`${name}: ${noon} at noon, ${evening} in the evening`);
  }
  return { held, faults };
}

/** A straight line through values that follow one another: where it begins, and by how much it rises until the last. */
function trend(values) {
  const n = values.length;
  const middle = (n - 1) / 2;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const slope =
    values.reduce((sum, value, i) => sum + (i - middle) * (value - mean), 0) /
    values.reduce((sum, _, i) => sum + (i - middle) ** 2, 0);
  return { level: mean - slope * middle, rise: slope * (n - 1) };
}

function percent(share) {
  return `${(100 * share).toFixed(1)} %`;
}
