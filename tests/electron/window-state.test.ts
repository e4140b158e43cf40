import { describe, expect, it } from 'vitest';
import { placeOf, smallestWindow } from '../../electron/window-state.ts';

const desk = { x: 0, y: 0, width: 1920, height: 1080 };
const beside = { x: 1920, y: 0, width: 1280, height: 720 };
const stood = { x: 300, y: 100, width: 1400, height: 900, maximized: false };

describe('where the window opens', () => {
  it.each([
    ['the first time, at its own size', null, [desk], { width: 1440, height: 900, maximized: false }],
    [
      'the first time, on a small screen',
      null,
      [{ ...desk, width: 1024, height: 700 }],
      { width: 1024, height: 700, maximized: false },
    ],
    ['where it last stood', stood, [desk], stood],
    ['maximized, as it was', { ...stood, maximized: true }, [desk], { ...stood, maximized: true }],
    [
      'on the second screen',
      { ...stood, x: 2000, width: 900, height: 600 },
      [desk, beside],
      { ...stood, x: 2000, width: 900, height: 600 },
    ],
    [
      'on the first, where the second is gone',
      { ...stood, x: 2000 },
      [desk],
      { width: 1400, height: 900, maximized: false },
    ],
    [
      'smaller, where the screen has become smaller',
      { ...stood, x: 0 },
      [{ ...desk, width: 1024, height: 700 }],
      { ...stood, x: 0, width: 1024, height: 700 },
    ],
    ['with its head below the upper edge', { ...stood, y: -20 }, [desk], { ...stood, y: 0 }],
    [
      'large enough to be used',
      { ...stood, width: 3, height: 2 },
      [desk],
      { width: smallestWindow.width, height: smallestWindow.height, maximized: false },
    ],
    ['where no screen is known', stood, [], { width: 1440, height: 900, maximized: false }],
  ])('%s', (_name, state, screens, place) => {
    expect(placeOf(state, screens)).toEqual(place);
  });
});
