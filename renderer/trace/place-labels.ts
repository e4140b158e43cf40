/** A rectangle in pixels, y downwards. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** How much worse it is to lie outside the plot, or on another label, than on something that is drawn. */
const outsideWeight = 20;
const labelWeight = 10;

/**
 * Chooses a place for each label out of those that would do for it, the best first: the one that covers the least of the labels placed before it,
 * of the plot's outside, and of the obstacles. A label always gets a place, even a bad one. `words` stand already, and weigh as labels do.
 */
export function placeLabels(
  candidates: readonly (readonly Box[])[],
  obstacles: readonly Box[],
  within: Box,
  words: readonly Box[] = [],
): Box[] {
  const placed: Box[] = [];
  for (const places of candidates) {
    const costs = places.map((box) => costOf(box, obstacles, [...words, ...placed], within));
    const least = Math.min(...costs);
    placed.push(places[costs.indexOf(least)]!);
  }
  return placed;
}

function costOf(box: Box, obstacles: readonly Box[], placed: readonly Box[], within: Box): number {
  const covered = (others: readonly Box[]) => others.reduce((sum, other) => sum + overlapOf(box, other), 0);
  const outside = box.width * box.height - overlapOf(box, within);
  return covered(obstacles) + labelWeight * covered(placed) + outsideWeight * outside;
}

/** The area that two boxes share. */
export function overlapOf(a: Box, b: Box): number {
  const width = Math.min(a.left + a.width, b.left + b.width) - Math.max(a.left, b.left);
  const height = Math.min(a.top + a.height, b.top + b.height) - Math.max(a.top, b.top);
  return width > 0 && height > 0 ? width * height : 0;
}
