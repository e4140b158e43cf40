import type { CaptureId } from '../capture/capture.ts';
import type { ScanLine } from './scan-lines.ts';

/** The sound paths that are read on a line. */
export interface PathWindow {
  readonly fromMm: number;
  readonly toMm: number;
}

/** So many usual distances apart two lines are no neighbours any more. */
const widestGap = 2.5;

/** The first and last line that hold captures of an indication, by their place in the list; `null` where none does. */
export function linesTouched(
  lines: readonly ScanLine[],
  captures: readonly CaptureId[],
): { readonly first: number; readonly last: number; readonly count: number } | null {
  const own = new Set(captures);
  const touched = lines.flatMap(({ stations }, i) => (stations.some(({ captureId }) => own.has(captureId)) ? [i] : []));
  return touched.length === 0 ? null : { first: touched[0], last: touched[touched.length - 1], count: touched.length };
}

/**
 * Where the echo of an indication would lie on lines of a raster that do not show it above the level: those next to its first and last line, and between. As a probe moves
 * across, the path to a reflector changes; it is followed on a straight line through the windows of the two nearest lines that show it, and given half of that change more to
 * either side.
 *
 *     path |    ..                    .. : a window foretold
 *          |      ..
 *          |        ==  ==  ==        == : windows about what stands on the level
 *          +------------------------ across
 *
 * @param windows of the lines that show it, by their place in the list, two or more
 * @returns by the line's place in the list; a line that lies too far off is none of its neighbours
 */
export function windowsBeside(
  lines: readonly ScanLine[],
  windows: ReadonlyMap<number, PathWindow>,
): ReadonlyMap<number, PathWindow> {
  const shown = [...windows.keys()].sort((a, b) => a - b);
  const beside = new Map<number, PathWindow>();
  if (shown.length < 2) return beside;
  const gaps = lines
    .slice(1)
    .map(({ acrossMm }, i) => acrossMm! - lines[i].acrossMm!)
    .sort((a, b) => a - b);
  const usual = gaps[(gaps.length - 1) >> 1];
  const at = (i: number): number => lines[i].acrossMm!;
  for (let i = Math.max(0, shown[0] - 1); i <= Math.min(lines.length - 1, shown[shown.length - 1] + 1); i++) {
    if (windows.has(i)) continue;
    const [near, next] = shown.toSorted((a, b) => Math.abs(at(a) - at(i)) - Math.abs(at(b) - at(i)));
    if (Math.abs(at(near) - at(i)) > widestGap * usual) continue;
    const share = (at(i) - at(near)) / (at(near) - at(next));
    const foretold = (end: keyof PathWindow) => {
      const [there, farther] = [windows.get(near)![end], windows.get(next)![end]];
      return there + (there - farther) * share;
    };
    const spare = Math.abs(foretold('fromMm') - windows.get(near)!.fromMm) / 2;
    beside.set(i, { fromMm: Math.max(0, foretold('fromMm') - spare), toMm: foretold('toMm') + spare });
  }
  return beside;
}
