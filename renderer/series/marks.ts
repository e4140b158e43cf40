import type { Standing } from './track.ts';

interface MarkAt {
  readonly x: number;
  readonly y: number;
  readonly standing: Standing;
}

/** The outline of each shape about a point: a disc, a hollow diamond, an arrow-head open upwards, a cross. */
const outlines: Record<Standing, (x: number, y: number, r: number) => string> = {
  'at-peak': (x, y, r) => `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`,
  'off-peak': (x, y, r) => `M${x} ${y - r - 1}l${r + 1} ${r + 1}l${-r - 1} ${r + 1}l${-r - 1} ${-r - 1}Z`,
  'cut-off': (x, y, r) => `M${x - r - 1} ${y}h${2 * r + 2}M${x} ${y}v${-3 * r}m${-r} ${r}l${r} ${-r}l${r} ${r}`,
  'no-echo': (x, y, r) => `M${x - r} ${y - r}l${2 * r} ${2 * r}M${x + r} ${y - r}l${-2 * r} ${2 * r}`,
};

/** What tells of a missing or untrue height stays plain to see among thousands. */
const leastPlainPx = 3;

export const standings: readonly Standing[] = ['at-peak', 'off-peak', 'cut-off', 'no-echo'];

/** All marks of one standing as a single path, however many they are: a page of five thousand elements would be slow, one path is not. */
export function markPath(marks: readonly MarkAt[], standing: Standing, halfSizePx = 4): string {
  const outline = outlines[standing];
  const r = standing === 'cut-off' || standing === 'no-echo' ? Math.max(leastPlainPx, halfSizePx) : halfSizePx;
  return marks
    .filter((mark) => mark.standing === standing)
    .map(({ x, y }) => outline(Math.round(x * 10) / 10, Math.round(y * 10) / 10, r))
    .join('');
}

/** A line through points, to a tenth of a pixel. */
export function linePath(points: readonly { readonly x: number; readonly y: number }[]): string {
  return points.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');
}
