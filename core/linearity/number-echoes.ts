/** Echoes of one plate, numbered; `null` for one that does not belong to the series. */
export interface Numbered {
  readonly numbers: readonly (number | null)[];
  /** Time from one echo to the next, as the series has it on the whole. */
  readonly spacingUs: number;
}

/** How far from a whole number of spacings after the echo before an echo may stand, in spacings. A time base that bends by 5 % of ten echoes stays within it. */
const mostOff = 0.25;

/**
 * Numbers echoes that should stand equally far apart, from 1 for the first. A missing echo leaves its number out; one that stands between belongs to
 * none.
 *
 *     |    |         |    |         time
 *     1    2         4    5         numbers: echo 3 is missing
 *
 * Each is counted by rounding its time since the echo before in spacings, so that a bent time base does not add up to a wrong number. The spacing is that of the
 * neighbours which numbers most echoes and leaves out fewest numbers.
 * @param timesUs in order @returns `null` for fewer than two echoes
 */
export function numberEchoes(timesUs: readonly number[]): Numbered | null {
  let best: { score: number; numbers: (number | null)[]; spacingUs: number } | null = null;
  for (let start = 0; start < Math.min(3, timesUs.length - 1); start++) {
    for (const spacing of spacings(timesUs)) {
      const numbers = walk(timesUs, start, spacing);
      const counted = numbers.filter((number) => number !== null);
      if (counted.length < 2) continue;
      const missing = counted[counted.length - 1] - counted.length;
      const score = counted.length - missing;
      if (best === null || score > best.score) {
        const last = numbers.lastIndexOf(counted[counted.length - 1]);
        const spacingUs = (timesUs[last] - timesUs[start]) / (counted[counted.length - 1] - 1);
        best = { score, numbers, spacingUs };
      }
    }
  }
  return best;
}

/** From one echo to one of the next two, the longest first: of two that number as many, the longer has no gaps. */
function spacings(timesUs: readonly number[]): number[] {
  const found = timesUs.flatMap((time, i) => [1, 2].map((ahead) => timesUs[i + ahead] - time));
  return found.filter((spacing) => spacing > 0).sort((a, b) => b - a);
}

function walk(timesUs: readonly number[], start: number, spacing: number): (number | null)[] {
  const numbers: (number | null)[] = timesUs.map(() => null);
  numbers[start] = 1;
  let before = start;
  for (let i = start + 1; i < timesUs.length; i++) {
    const away = (timesUs[i] - timesUs[before]) / spacing;
    const steps = Math.round(away);
    if (steps < 1 || Math.abs(away - steps) > mostOff) continue;
    numbers[i] = (numbers[before] as number) + steps;
    before = i;
  }
  return numbers;
}
