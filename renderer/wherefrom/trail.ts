import type { FigureAsked } from '../../core/origin.ts';

/** The way from the figure that was asked first to the one that is shown: each was asked of an input of the one before. */
export type Trail = readonly FigureAsked[];

const same = (a: FigureAsked, b: FigureAsked): boolean => JSON.stringify(a) === JSON.stringify(b);

/** One step further. A figure that was passed on the way already is gone back to, so that no trail goes in circles. */
export function deeper(trail: Trail, asked: FigureAsked): Trail {
  const before = trail.findIndex((step) => same(step, asked));
  return before < 0 ? [...trail, asked] : trail.slice(0, before + 1);
}

/** Back to a step of the trail, by its index. */
export function backTo(trail: Trail, index: number): Trail {
  return trail.slice(0, Math.max(0, index) + 1);
}

/** The trail that belongs to what is asked now: as it is where it ends there, else a new one. */
export function trailFor(trail: Trail, asked: FigureAsked): Trail {
  const last = trail.at(-1);
  return last !== undefined && same(last, asked) ? trail : [asked];
}
