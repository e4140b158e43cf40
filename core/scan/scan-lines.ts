import type { CaptureId } from '../capture/capture.ts';
import { comparableSeconds } from '../capture/order-in-time.ts';
import { type Problem, problem } from '../outcome.ts';

/** What of a capture says where in the scan it was taken. */
export interface PlacedCapture {
  readonly captureId: CaptureId;
  readonly file: string;
  readonly positionMm: number | null;
  readonly acrossMm: number | null;
  readonly takenAt: string | null;
  readonly probe: string | null;
}

/** One place of the scan. */
export interface Station {
  readonly captureId: CaptureId;
  readonly positionMm: number;
  readonly acrossMm: number | null;
}

/** The captures taken along one line, in order of position. */
export interface ScanLine {
  /** `null` where no capture tells a second position: there is one line. */
  readonly acrossMm: number | null;
  readonly stations: readonly Station[];
}

export interface ScanLines {
  /** In order of their place across. */
  readonly lines: readonly ScanLine[];
  /** The usual step from one position to the next (the median); `null` with fewer than two positions on every line. */
  readonly stepMm: number | null;
  readonly problems: readonly Problem[];
}

/** Two positions are the same when they differ by less. */
const sameMm = 1e-6;

/**
 * Sorts the captures of a scan into lines. What cannot be placed is left out, and a problem says so:
 *
 * - `mixed-probes`: more than one probe is named; nothing is taken from the series,
 * - `no-position`: a capture that does not say where it was taken,
 * - `across-partly-stated`: only some captures tell a second position; those that do not are left out,
 * - `position-goes-back`: taken later (by the time told, or by the order within one file) and yet before where the probe was already,
 * - `position-twice`: two captures of one line at one position; neither is taken, since which of them holds is not known.
 */
export function scanLines(captures: readonly PlacedCapture[]): ScanLines {
  const probes = [...new Set(captures.flatMap(({ probe }) => (probe === null ? [] : [probe])))];
  if (probes.length > 1) {
    const sentence = `the captures of this scan are of ${probes.length} probes (${probes.join(', ')}): heights and paths of different probes make no series, and nothing was taken from it; scan with one probe, or give each its own review`;
    return { lines: [], stepMm: null, problems: [problem('mixed-probes', { file: 'scan' }, sentence)] };
  }
  const problems: Problem[] = [];
  const placed = leaveOut(
    captures,
    ({ positionMm }) => positionMm === null,
    problems,
    'no-position',
    'does not state its position along the scan, and is left out; state it in the file, in the manifest or in the review',
  );
  const someAcross = placed.some(({ acrossMm }) => acrossMm !== null);
  const lined = leaveOut(
    placed,
    ({ acrossMm }) => someAcross && acrossMm === null,
    problems,
    'across-partly-stated',
    'does not state its position across the scan, though others do: its line is not known, and it is left out',
  );
  const groups = new Map<string, PlacedCapture[]>();
  for (const capture of lined) {
    const key = capture.acrossMm === null ? '' : capture.acrossMm.toFixed(6);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [capture]);
    else group.push(capture);
  }
  const lines = [...groups.values()]
    .map((group): ScanLine => lineOf(group, problems))
    .filter(({ stations }) => stations.length > 0)
    .sort((a, b) => (a.acrossMm ?? 0) - (b.acrossMm ?? 0));
  return { lines, stepMm: usualStep(lines), problems };
}

function leaveOut(
  captures: readonly PlacedCapture[],
  isOut: (capture: PlacedCapture) => boolean,
  problems: Problem[],
  code: string,
  words: string,
): PlacedCapture[] {
  const out = captures.filter(isOut);
  if (out.length > 0) problems.push(sentenceAbout(code, out, words));
  return captures.filter((capture) => !isOut(capture));
}

/** One problem about all of them, at the place of the first. */
function sentenceAbout(code: string, captures: readonly PlacedCapture[], words: string): Problem {
  const others = captures.length - 1;
  const who = others === 0 ? 'this capture' : `this capture (and ${others} more like it)`;
  return problem(code, { file: captures[0].captureId }, `${who} ${words}`);
}

function lineOf(group: readonly PlacedCapture[], problems: Problem[]): ScanLine {
  const back = new Set(goingBack(group));
  if (back.size > 0) {
    const words =
      'was taken after others and yet lies before where the probe was already: the position is in doubt, and it is left out; check the scanner’s count';
    problems.push(sentenceAbout('position-goes-back', [...back], words));
  }
  const sorted = group.filter((capture) => !back.has(capture)).sort((a, b) => a.positionMm! - b.positionMm!);
  const isTwin = (i: number, j: number) =>
    sorted[j] !== undefined && Math.abs(sorted[i].positionMm! - sorted[j].positionMm!) < sameMm;
  const twice = sorted.filter((_, i) => isTwin(i, i - 1) || isTwin(i, i + 1));
  if (twice.length > 0) {
    const words = `stands at a position of its line at which there is another (${twice[0].positionMm} mm): which of them holds is not known, and neither is taken; state the position across the scan of each line, or take one of them out`;
    problems.push(sentenceAbout('position-twice', twice, words));
  }
  const stations = sorted
    .filter((_, i) => !isTwin(i, i - 1) && !isTwin(i, i + 1))
    .map(({ captureId, positionMm, acrossMm }) => ({ captureId, positionMm: positionMm!, acrossMm }));
  return { acrossMm: group[0].acrossMm, stations };
}

/** Captures that lie against the direction in which the line was scanned. Their order is that of the times told, or that within their file. */
function goingBack(group: readonly PlacedCapture[]): PlacedCapture[] {
  const ordered = inOrderTaken(group);
  if (ordered === null) return [];
  const upward = rising(ordered.map(({ positionMm }) => positionMm!));
  const downward = rising(ordered.map(({ positionMm }) => -positionMm!));
  const { certain } = upward.length >= downward.length ? upward : downward;
  return ordered.filter((_, i) => !certain[i]);
}

function inOrderTaken(group: readonly PlacedCapture[]): readonly PlacedCapture[] | null {
  const seconds = comparableSeconds(group.map(({ takenAt }) => takenAt));
  if (seconds.every((time) => time !== null) && new Set(seconds).size === seconds.length)
    return group
      .map((capture, i) => ({ capture, at: seconds[i]! }))
      .sort((a, b) => a.at - b.at)
      .map(({ capture }) => capture);
  return new Set(group.map(({ file }) => file)).size === 1 ? group : null;
}

/**
 * The length of the longest subsequence that never falls, and which values stand in every such one: where 20 is followed by 15, either may be the wrong one, and both
 * are in doubt.
 */
function rising(values: readonly number[]): { readonly length: number; readonly certain: readonly boolean[] } {
  const until = longestUntil(values);
  const from = longestUntil(values.map((value) => -value).reverse()).reverse();
  const length = until.reduce((most, one) => Math.max(most, one), 0);
  const atRank = new Map<number, number>();
  const isOnOne = values.map((_, i) => until[i] + from[i] - 1 === length);
  values.forEach((_, i) => {
    if (isOnOne[i]) atRank.set(until[i], (atRank.get(until[i]) ?? 0) + 1);
  });
  return { length, certain: values.map((_, i) => isOnOne[i] && atRank.get(until[i]) === 1) };
}

/** For each value the length of the longest subsequence that never falls and ends with it (patience sorting). */
function longestUntil(values: readonly number[]): number[] {
  const tails: number[] = [];
  return values.map((value) => {
    let low = 0;
    for (let high = tails.length; low < high; ) {
      const middle = (low + high) >> 1;
      if (tails[middle] <= value) low = middle + 1;
      else high = middle;
    }
    tails[low] = value;
    return low + 1;
  });
}

function usualStep(lines: readonly ScanLine[]): number | null {
  const steps = lines
    .flatMap(({ stations }) => stations.slice(1).map(({ positionMm }, i) => positionMm - stations[i].positionMm))
    .sort((a, b) => a - b);
  return steps.length === 0 ? null : steps[(steps.length - 1) >> 1];
}
