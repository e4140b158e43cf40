import { figures, figureWithUncertainty } from '../../core/origin/figure.ts';
import type { PlaceInPart } from '../../core/part/locate-in-part.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { Quantity } from '../../core/units/quantity.ts';

/** What lies in the section and can be chosen in its drawing. */
export interface SectionItem {
  readonly id: string;
  readonly name: string;
  readonly kind: 'indication' | 'reading';
  /** What a person took it for; `null`: nothing yet. */
  readonly taken: 'reflector' | 'geometry' | null;
  /** The part's own shape would show at this place. */
  readonly isGeometryExpected: boolean;
  readonly place: PlaceInPart;
  readonly soundPathMm: Quantity | null;
}

/** How an item is drawn: its shape says what it is, without its colour. */
export type ItemSign = 'indication' | 'reading' | 'geometry';

export function signOf({ kind, taken }: SectionItem): ItemSign {
  return taken === 'geometry' ? 'geometry' : kind;
}

/** What an item is, in words. */
export function whatItIs({ kind, taken, isGeometryExpected }: SectionItem): string {
  if (taken === 'geometry') return 'taken for geometry';
  if (taken === 'reflector') return 'taken for a reflector';
  return isGeometryExpected ? 'geometry expected here' : kind;
}

/** Its place in figures, each with its name; what is not known is left out. */
export function placeFigures(
  { place, soundPathMm }: SectionItem,
  origin: 'weld-middle' | 'index-point',
  style: FigureStyle,
): readonly { readonly name: string; readonly text: string }[] {
  const length = (known: Quantity | null) =>
    known === null ? null : figureWithUncertainty(figures.lengthMm(known, style), style);
  const across = origin === 'weld-middle' ? place.acrossMm : place.surfaceDistanceMm;
  return [
    { name: 'Depth', text: length(place.depthMm) },
    { name: origin === 'weld-middle' ? 'Across' : 'From the index', text: length(across) },
    { name: 'Leg', text: String(place.leg) },
    { name: 'Sound path', text: length(soundPathMm) },
  ].flatMap(({ name, text }) => (text === null ? [] : [{ name, text }]));
}

/** All in one line, for a readout and for those who do not see the drawing. */
export function itemWords(item: SectionItem, origin: 'weld-middle' | 'index-point', style: FigureStyle): string {
  const parts = placeFigures(item, origin, style).map(({ name, text }) => `${name.toLowerCase()} ${text}`);
  return [item.name, whatItIs(item), ...parts].join(', ');
}
