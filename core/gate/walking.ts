/** What the walk is judged on: where a reading stands in its series, and the time of its echo. */
export interface WalkingPoint {
  /** Probe position in mm, or the place in the order where there are no positions; never falling. */
  readonly at: number;
  readonly timeUs: number;
  readonly uTimeUs: number | null;
}

/** How far a path must have moved at the least, whatever its uncertainty, in mm of sound path. */
export const leastWalkMm = 0.2;
/** The total movement must exceed this many expanded uncertainties (k = 2) of one reading. */
const leastWalkInExpandedUncertainties = 4;
const fewest = 4;

/**
 * Which points of a series walk: their time moves steadily over at least four successive points.
 *
 * Readings at one position count as one point (their mean). Windows of 4, 8, 16 … successive points are tried all along the series. A window
 * walks when all of this holds of the straight line through it:
 *
 * 1. its slope exceeds 3 of its standard errors (from the scatter about the line, or from the uncertainty of one reading, whichever is larger);
 * 2. from end to end it moves by at least 4 expanded uncertainties of one reading and by `leastWalkUs` (0.2 mm of sound path);
 * 3. each of its halves moves the same way, at half that slope or more: a jump and a turning point are no steady movement.
 *
 * The uncertainty of one reading is the one stated, or the scatter found from third differences of the whole series (median; a smooth curve leaves
 * nearly nothing there), whichever is larger. Where the movement turns or comes to rest, the points within the distance of rule 2 of its end stand
 * still: over a side-drilled hole the path falls, then rises, and the few points at the vertex do not walk.
 *
 * Returns one value per point, `false` for all of fewer than four positions. Source: common practice ('a reading that walks as the probe moves is not yet a
 * reading'); the test itself is this project's own, its false alarms on noise alone, in series of
 * 4 to 40 captures: none in 2,000 where the uncertainty stated is true, at most 3 in 1,000 where it is five or ten times too small or unknown.
 */
export function walkingPoints(points: readonly WalkingPoint[], leastWalkUs: number): boolean[] {
  const { stops, stopOf } = stopsOf(points);
  if (stops.length < fewest) return points.map(() => false);
  const u = uncertaintyOfOne(stops);
  const least = Math.max(leastWalkUs, leastWalkInExpandedUncertainties * 2 * (u ?? 0));
  const line = windowLines(stops);
  const direction = new Int8Array(stops.length);
  for (let width = fewest; width <= stops.length; width = nextWidth(width, stops.length)) {
    // What the window before has marked the same way is not marked again: in a long walk each would mark nearly all that the one before did.
    let markedTo = 0;
    let markedWay = 0;
    for (let first = 0; first + width <= stops.length; first++) {
      const way = steadyDirection(line, stops, first, width, u, least);
      if (way === 0) continue;
      direction.fill(way, way === markedWay ? Math.max(first, markedTo) : first, first + width);
      markedTo = first + width;
      markedWay = way;
    }
  }
  const walks = withoutTurningEnds(stops, direction, least);
  return points.map((_, i) => walks[stopOf[i]]);
}

interface Stop {
  at: number;
  timeUs: number;
  uTimeUs: number | null;
}

/** Points at one position become one stop: mean time, uncertainty of the mean. */
function stopsOf(points: readonly WalkingPoint[]): { stops: Stop[]; stopOf: number[] } {
  const groups: WalkingPoint[][] = [];
  const stopOf: number[] = [];
  for (const point of points) {
    if (groups.at(-1)?.[0].at === point.at) groups[groups.length - 1].push(point);
    else groups.push([point]);
    stopOf.push(groups.length - 1);
  }
  const stops = groups.map((group) => ({
    at: group[0].at,
    timeUs: group.reduce((sum, point) => sum + point.timeUs, 0) / group.length,
    uTimeUs: group.every((point) => point.uTimeUs !== null)
      ? Math.sqrt(group.reduce((sum, point) => sum + point.uTimeUs! ** 2, 0)) / group.length
      : null,
  }));
  return { stops, stopOf };
}

function nextWidth(width: number, count: number): number {
  return width < count ? Math.min(width * 2, count) : count + 1;
}

/** Standard uncertainty of one stop; `null` where none is stated and the scatter shows none. */
function uncertaintyOfOne(stops: readonly Stop[]): number | null {
  const stated = stops.every((stop) => stop.uTimeUs !== null)
    ? Math.sqrt(stops.reduce((sum, stop) => sum + stop.uTimeUs! ** 2, 0) / stops.length)
    : 0;
  const deviations: number[] = [];
  for (let first = 0; first + 4 <= stops.length; first++) deviations.push(Math.abs(thirdDifference(stops, first)));
  // 1.4826 turns the median deviation of a normal law into its standard deviation.
  const scatter = 1.4826 * median(deviations);
  return Math.max(stated, scatter) || null;
}

/** The third difference of four stops from `first` on, at any spacing, scaled so that independent readings of standard deviation σ give one of σ. */
function thirdDifference(stops: readonly Stop[], first: number): number {
  let difference = 0;
  let norm = 0;
  for (let i = first; i < first + 4; i++) {
    let others = 1;
    for (let k = first; k < first + 4; k++) if (k !== i) others *= stops[i].at - stops[k].at;
    difference += stops[i].timeUs / others;
    norm += 1 / (others * others);
  }
  return difference / Math.sqrt(norm);
}

function median(values: number[]): number {
  const sorted = values.sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

/** The straight line through `width` stops from `first`, in constant time each (running sums about the means of all). */
function windowLines(stops: readonly Stop[]) {
  const meanAt = stops.reduce((sum, stop) => sum + stop.at, 0) / stops.length;
  const meanTime = stops.reduce((sum, stop) => sum + stop.timeUs, 0) / stops.length;
  const sums = [
    new Float64Array(stops.length + 1),
    new Float64Array(stops.length + 1),
    new Float64Array(stops.length + 1),
  ];
  const [sx, sy, sxx] = sums;
  const sxy = new Float64Array(stops.length + 1);
  const syy = new Float64Array(stops.length + 1);
  for (let i = 0; i < stops.length; i++) {
    const x = stops[i].at - meanAt;
    const y = stops[i].timeUs - meanTime;
    sx[i + 1] = sx[i] + x;
    sy[i + 1] = sy[i] + y;
    sxx[i + 1] = sxx[i] + x * x;
    sxy[i + 1] = sxy[i] + x * y;
    syy[i + 1] = syy[i] + y * y;
  }
  return (first: number, width: number): { slope: number; sxx: number; residualSd: number } => {
    const end = first + width;
    const x = sx[end] - sx[first];
    const y = sy[end] - sy[first];
    const centredXx = sxx[end] - sxx[first] - (x * x) / width;
    const centredXy = sxy[end] - sxy[first] - (x * y) / width;
    const centredYy = syy[end] - syy[first] - (y * y) / width;
    const slope = centredXy / centredXx;
    const rest = Math.max(0, centredYy - slope * centredXy);
    return { slope, sxx: centredXx, residualSd: width > 2 ? Math.sqrt(rest / (width - 2)) : 0 };
  };
}

/** +1 or −1 for a window that moves steadily later or earlier, 0 for any other. */
function steadyDirection(
  line: ReturnType<typeof windowLines>,
  stops: readonly Stop[],
  first: number,
  width: number,
  u: number | null,
  least: number,
): -1 | 0 | 1 {
  const { slope, sxx, residualSd } = line(first, width);
  const total = slope * (stops[first + width - 1].at - stops[first].at);
  if (Math.abs(total) < least) return 0;
  const standardError = Math.max(residualSd, u ?? 0) / Math.sqrt(sxx);
  if (Math.abs(slope) <= 3 * standardError) return 0;
  const half = width >> 1;
  const early = line(first, half).slope / slope;
  const late = line(first + width - half, half).slope / slope;
  if (early < 0.5 || late < 0.5) return 0;
  return slope > 0 ? 1 : -1;
}

/** Takes the points at a turning point, or where the movement comes to rest, out of each run; an end of the series itself is no turning point. */
function withoutTurningEnds(stops: readonly Stop[], direction: Int8Array, least: number): boolean[] {
  const walks = Array.from(direction, (way) => way !== 0);
  for (let first = 0; first < stops.length; ) {
    let last = first;
    while (last + 1 < stops.length && direction[last + 1] === direction[first]) last++;
    if (direction[first] !== 0) {
      const near = (i: number, end: number) => Math.abs(stops[i].timeUs - stops[end].timeUs) < least;
      if (first > 0) for (let i = first; i <= last && near(i, first); i++) walks[i] = false;
      if (last < stops.length - 1) for (let i = last; i >= first && near(i, last); i--) walks[i] = false;
    }
    first = last + 1;
  }
  return walks;
}
