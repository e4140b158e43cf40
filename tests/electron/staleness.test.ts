import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { isStale, stampOf } from '../../electron/staleness.mjs';

const root = `${mkdtempSync(`${tmpdir()}/workbench-`)}/`;
afterAll(() => rmSync(root, { recursive: true }));

function write(path: string, second: number): void {
  writeFileSync(root + path, '');
  date(path, second);
}

function date(path: string, second: number): void {
  utimesSync(root + path, second, second);
}

describe('isStale', () => {
  beforeEach(() => {
    rmSync(root, { recursive: true });
    for (const folder of ['', 'build', 'core', 'core/gate', 'electron', 'electron/cli', 'renderer']) {
      mkdirSync(root + folder, { recursive: true });
    }
    for (const file of ['core/gate/gate.ts', 'electron/cli/main.ts', 'electron/main.ts', 'renderer/App.tsx'])
      write(file, 100);
    for (const folder of ['core', 'core/gate', 'electron', 'electron/cli', 'renderer']) date(folder, 100);
    write('build/cli.stamp', 200);
    write('build/desktop.stamp', 200);
  });

  it('is true before the first build', () => {
    rmSync(stampOf('cli', root));
    expect(isStale('cli', root)).toBe(true);
  });

  it('is false where every source is older', () => {
    expect([isStale('cli', root), isStale('desktop', root)]).toEqual([false, false]);
  });

  it.each([
    ['a file deep in core', 'core/gate/gate.ts', true, true],
    ['a file of the command line', 'electron/cli/main.ts', true, true],
    ['a file of the window', 'electron/main.ts', false, true],
    ['a screen', 'renderer/App.tsx', false, true],
  ])('sees a change of %s', (_name, file, cli, desktop) => {
    write(file, 300);
    expect([isStale('cli', root), isStale('desktop', root)]).toEqual([cli, desktop]);
  });

  it('sees that a file was deleted', () => {
    rmSync(`${root}core/gate/gate.ts`);
    expect(isStale('cli', root)).toBe(true);
  });
});
