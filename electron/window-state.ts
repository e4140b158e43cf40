import * as v from 'valibot';

const whole = v.pipe(v.number(), v.integer());
export const windowStateSchema = v.strictObject({
  x: whole,
  y: whole,
  width: v.pipe(whole, v.minValue(1)),
  height: v.pipe(whole, v.minValue(1)),
  maximized: v.boolean(),
});

/** Where the window stood when it was last closed, in screen units. */
export type WindowState = v.InferOutput<typeof windowStateSchema>;

export interface Area {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export const smallestWindow = { width: 480, height: 400 } as const;
const firstSize = { width: 1440, height: 900 } as const;
/** So much of the window must be on a screen for a person to be able to take hold of it. */
const graspable = 100;

/**
 * Where to open the window: where it last stood, brought back where that screen is gone or has become smaller; without a place
 * (the first time) the system chooses one.
 */
export function placeOf(state: WindowState | null, screens: readonly Area[]): Partial<Area> & { maximized: boolean } {
  const largest = screens.toSorted((a, b) => b.width * b.height - a.width * a.height)[0];
  if (state === null || largest === undefined) {
    const width = Math.min(firstSize.width, largest?.width ?? firstSize.width);
    return { width, height: Math.min(firstSize.height, largest?.height ?? firstSize.height), maximized: false };
  }
  const on = screens.find((screen) => isGraspable(state, screen));
  const screen = on ?? largest;
  const width = Math.max(smallestWindow.width, Math.min(state.width, screen.width));
  const height = Math.max(smallestWindow.height, Math.min(state.height, screen.height));
  const place = { width, height, maximized: state.maximized };
  return on === undefined ? place : { ...place, x: state.x, y: Math.max(state.y, on.y) };
}

function isGraspable(state: Area, screen: Area): boolean {
  const across = Math.min(state.x + state.width, screen.x + screen.width) - Math.max(state.x, screen.x);
  // The head of the window, by which it is moved.
  return across >= graspable && state.y >= screen.y - graspable / 2 && state.y <= screen.y + screen.height - graspable;
}
