import type { FigureAsked } from '../../core/origin.ts';

/** Whether two figures asked are one. */
export function isSame(a: FigureAsked | null, b: FigureAsked | null): boolean {
  return a !== null && b !== null && JSON.stringify(a) === JSON.stringify(b);
}
