import type { CaptureId } from '../capture/capture.ts';
import type { IndicationDecision } from '../review/scan-decision.ts';

/** What belongs to one indication: the captures that show it, and the sound paths between which it lies. */
export interface Extent {
  readonly captures: readonly CaptureId[];
  readonly fromMm: number;
  readonly toMm: number;
}

/**
 * Both in one: the captures of either in the order of the scan, and all the paths between.
 * @param order all captures of the scan, in its order
 */
export function merge(a: Extent, b: Extent, order: readonly CaptureId[]): Extent {
  const either = new Set([...a.captures, ...b.captures]);
  return {
    captures: order.filter((captureId) => either.has(captureId)),
    fromMm: Math.min(a.fromMm, b.fromMm),
    toMm: Math.max(a.toMm, b.toMm),
  };
}

/** Where an indication is parted: at a position along the scan, or at a sound path. */
export type SplitAt = { readonly positionMm: number } | { readonly pathMm: number };

/**
 * Both parts, before and behind; `null` where one of them would hold nothing. A capture at the position itself belongs to the part before it.
 * `merge` puts them together again.
 */
export function split(
  extent: Extent,
  at: SplitAt,
  positionOf: (captureId: CaptureId) => number,
): readonly [Extent, Extent] | null {
  if ('pathMm' in at) {
    if (!(at.pathMm > extent.fromMm && at.pathMm < extent.toMm)) return null;
    return [
      { ...extent, toMm: at.pathMm },
      { ...extent, fromMm: at.pathMm },
    ];
  }
  const isBefore = (captureId: CaptureId) => positionOf(captureId) <= at.positionMm;
  const before = extent.captures.filter(isBefore);
  const behind = extent.captures.filter((captureId) => !isBefore(captureId));
  if (before.length === 0 || behind.length === 0) return null;
  return [
    { ...extent, captures: before },
    { ...extent, captures: behind },
  ];
}

/** Two indications as one, by the first one's name: notes of both, and what was decided of them where they agree. */
export function mergeIndications(
  a: IndicationDecision,
  b: IndicationDecision,
  order: readonly CaptureId[],
): IndicationDecision {
  const { captures, fromMm, toMm } = merge(a, b, order);
  return {
    name: a.name,
    captures: [...captures],
    fromMm,
    toMm,
    taken: a.taken === b.taken ? a.taken : null,
    notes: [a.notes, b.notes].filter((notes) => notes !== '').join('\n'),
  };
}

/** One indication as two, the first of them by its own name; `null` where one would hold nothing. */
export function splitIndication(
  indication: IndicationDecision,
  at: SplitAt,
  positionOf: (captureId: CaptureId) => number,
  nameOfSecond: string,
): readonly [IndicationDecision, IndicationDecision] | null {
  const parts = split(indication, at, positionOf);
  if (parts === null) return null;
  const [before, behind] = parts.map((part) => ({ ...indication, ...part, captures: [...part.captures] }));
  return [before, { ...behind, name: nameOfSecond, notes: '' }];
}
