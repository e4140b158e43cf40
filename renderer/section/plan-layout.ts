import type { PlotArea } from '../series/Axis.tsx';
import type { ItemSign } from './section-items.ts';

/** One end of an indication along the weld. */
export interface PlanEnd {
  readonly positionMm: number;
  /** k = 2; `null` where it is not known. */
  readonly expandedMm: number | null;
  /** The reflector ends here or farther out. */
  readonly isOpen: boolean;
}

/** An indication as it lies along the weld. */
export interface PlanItem {
  readonly id: string;
  readonly name: string;
  readonly sign: ItemSign;
  /** `null` where it has no length: then it lies from the first to the last of its positions. */
  readonly ends: readonly [PlanEnd, PlanEnd] | null;
  readonly span: readonly [number, number];
  readonly peakMm: number | null;
  /** From the weld's middle; `null` where that is not known. */
  readonly acrossMm: number | null;
  /** Everything in a sentence, as it is read out and stands in the readout. */
  readonly words: string;
}

export interface Along {
  readonly fromMm: number;
  readonly toMm: number;
}

/** What the scan and the indications cover along the weld, with some room on either side; `null` where there is nothing. */
export function wholeAlong(positionsMm: readonly number[], items: readonly PlanItem[]): Along | null {
  const all = [
    ...positionsMm,
    ...items.flatMap(({ span, ends }) => [...span, ...(ends ?? []).map(({ positionMm }) => positionMm)]),
  ];
  if (all.length === 0) return null;
  const [from, to] = [Math.min(...all), Math.max(...all)];
  const room = Math.max(1, (to - from) * 0.03);
  return { fromMm: from - room, toMm: to + room };
}

/** Where items stand down the plan: by their place across the weld where all are known, else each in a lane. */
export type Down =
  | { readonly kind: 'across'; readonly fromMm: number; readonly toMm: number }
  | { readonly kind: 'lanes'; readonly laneOf: ReadonlyMap<string, number>; readonly count: number };

export function downOf(items: readonly PlanItem[], weldAcrossMm: readonly [number, number] | null): Down {
  const places = items.map(({ acrossMm }) => acrossMm);
  if (places.every((mm) => mm !== null) && (places.length > 0 || weldAcrossMm !== null)) {
    const all = [...(places as number[]), ...(weldAcrossMm ?? []), 0];
    const [from, to] = [Math.min(...all), Math.max(...all)];
    const room = Math.max(2, (to - from) * 0.2);
    return { kind: 'across', fromMm: from - room, toMm: to + room };
  }
  return { kind: 'lanes', ...lanesOf(items) };
}

/** As few lanes as keep items that overlap along the weld apart. */
function lanesOf(items: readonly PlanItem[]): { laneOf: ReadonlyMap<string, number>; count: number } {
  const laneOf = new Map<string, number>();
  const endsAt: number[] = [];
  for (const { id, span } of items.toSorted((a, b) => a.span[0] - b.span[0])) {
    const free = endsAt.findIndex((end) => end < span[0]);
    const lane = free < 0 ? endsAt.length : free;
    endsAt[lane] = span[1];
    laneOf.set(id, lane);
  }
  return { laneOf, count: Math.max(1, endsAt.length) };
}

export function yOf(item: PlanItem, down: Down, { top, height }: PlotArea): number {
  if (down.kind === 'across') return top + (((item.acrossMm ?? 0) - down.fromMm) / (down.toMm - down.fromMm)) * height;
  return top + (((down.laneOf.get(item.id) ?? 0) + 0.5) / down.count) * height;
}

export function xOf(mm: number, { fromMm, toMm }: Along, { left, width }: PlotArea): number {
  return left + ((mm - fromMm) / (toMm - fromMm)) * width;
}

/** Larger or smaller about a place, never beyond the whole. */
export function zoomedAlong({ fromMm, toMm }: Along, aboutMm: number, factor: number, whole: Along): Along {
  const length = Math.min(whole.toMm - whole.fromMm, Math.max(1, (toMm - fromMm) * factor));
  const share = (aboutMm - fromMm) / (toMm - fromMm);
  return movedTo(aboutMm - share * length, length, whole);
}

export function movedAlong({ fromMm, toMm }: Along, byMm: number, whole: Along): Along {
  return movedTo(fromMm + byMm, toMm - fromMm, whole);
}

function movedTo(fromMm: number, length: number, whole: Along): Along {
  const from = Math.min(whole.toMm - length, Math.max(whole.fromMm, fromMm));
  return { fromMm: from, toMm: from + length };
}
