import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { findBinary, whyNoWindow } from '../../electron/desktop-binary.mjs';

describe('whyNoWindow', () => {
  it.each([
    ['Linux without a display', { platform: 'linux', env: {}, userId: 1000 }, 'There is no display here'],
    [
      'Linux as root',
      { platform: 'linux', env: { DISPLAY: ':0' }, userId: 0 },
      'The desktop window keeps its sandbox, which root cannot have',
    ],
    ['Linux with X11', { platform: 'linux', env: { DISPLAY: ':0' }, userId: 1000 }, null],
    ['Linux with Wayland', { platform: 'linux', env: { WAYLAND_DISPLAY: 'wayland-0' }, userId: 1000 }, null],
    ['macOS', { platform: 'darwin', env: {}, userId: 501 }, null],
    ['Windows', { platform: 'win32', env: {}, userId: undefined }, null],
  ])('%s', (_name, machine, sentence) => {
    expect(whyNoWindow(machine)).toBe(sentence);
  });
});

describe('findBinary', () => {
  const folder = mkdtempSync(join(tmpdir(), 'workbench-'));
  afterAll(() => rmSync(folder, { recursive: true }));

  it('is null before the binary was fetched', () => {
    expect(findBinary({}, folder)).toBeNull();
  });

  it('is the path that the package names, once the file is there', () => {
    writeFileSync(join(folder, 'path.txt'), 'window');
    expect(findBinary({}, folder)).toBeNull();
    mkdirSync(join(folder, 'dist'));
    writeFileSync(join(folder, 'dist/window'), '');
    expect(findBinary({}, folder)).toBe(join(folder, 'dist/window'));
  });

  it('lies elsewhere where the environment says so', () => {
    expect(findBinary({ ELECTRON_OVERRIDE_DIST_PATH: folder }, folder)).toBeNull();
  });
});
