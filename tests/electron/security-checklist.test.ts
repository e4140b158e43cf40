import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { stage } from '../../electron/stage.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const read = (name: string) => readFileSync(join(root, name), 'utf8');

const hostSources = readdirSync(join(root, 'electron'))
  .filter((name) => name.endsWith('.ts'))
  .map((name) => [name, read(`electron/${name}`)] as const);

describe('the table of Electron’s security checklist in DEVELOPERS.md', () => {
  const rows = [
    ...read('DEVELOPERS.md').matchAll(/^\| (\d+)\. [^|]+\| [^|]+\| `([a-z-]+\.test\.ts)`: ([^|]+?) \|$/gm),
  ].map(([, item, file, name]) => [Number(item), file!, name!] as const);

  it('has each of the twenty items once, in order', () => {
    expect(rows.map(([item]) => item)).toEqual(Array.from({ length: 20 }, (_, i) => i + 1));
  });

  it.each(rows)('item %i names a test that there is: %s, %s', (_item, file, name) => {
    const titles = [...read(`tests/electron/${file}`).matchAll(/(?:describe|it|\))\(\s*(['"`])(.*?)\1,/g)].map(
      ([, , title]) => title!,
    );
    expect(titles.filter((title) => title.includes(name))).not.toEqual([]);
  });
});

describe('the desktop host', () => {
  it('sets nothing that weakens a window', () => {
    const weakening =
      /allowRunningInsecureContent|experimentalFeatures|enableBlinkFeatures|allowpopups|nodeIntegration\w*: true|webviewTag: true|webSecurity: false|contextIsolation: false|sandbox: false|no-sandbox/;
    expect(hostSources.filter(([, text]) => weakening.test(text)).map(([name]) => name)).toEqual([]);
    expect(hostSources.length).toBeGreaterThan(15);
  });

  it('never opens anything outside, and starts no program', () => {
    const outside =
      /\bshell\b[^.\n]*from 'electron'|openExternal|openPath|child_process|autoUpdater|\bnet\b[^.\n]*from 'electron'/;
    expect(hostSources.filter(([, text]) => outside.test(text)).map(([name]) => name)).toEqual([]);
  });

  it('is built upon one exact version of Electron', () => {
    const wanted = JSON.parse(read('package.json')).dependencies.electron;
    const locked = JSON.parse(read('package-lock.json')).packages['node_modules/electron'].version;
    expect(wanted).toMatch(/^\d+\.\d+\.\d+$/);
    expect(locked).toBe(wanted);
  });
});

describe('the installer', () => {
  const config = JSON.parse(read('electron/installer.json'));

  it('sets the fuses: no Node by environment or argument, the program from its archive alone and whole', () => {
    expect(config.asar).toBe(true);
    expect(config.electronFuses).toMatchObject({
      runAsNode: false,
      enableNodeOptionsEnvironmentVariable: false,
      enableNodeCliInspectArguments: false,
      enableEmbeddedAsarIntegrityValidation: true,
      onlyLoadAppFromAsar: true,
      enableCookieEncryption: true,
      grantFileProtocolExtraPrivileges: false,
    });
  });

  it('opens the program for the ending that reviews are saved with', () => {
    expect(config.fileAssociations.map(({ ext }: { ext: string }) => `.${ext}`)).toEqual([
      read('electron/launch.ts').match(/reviewEnding = '([^']+)'/)?.[1],
    ]);
  });

  it('takes what runs and the sample, and nothing of how they were made', () => {
    const folder = mkdtempSync(join(tmpdir(), 'stage-'));
    try {
      stage(root, `${folder}/`);
      const names = readdirSync(folder, { recursive: true, encoding: 'utf8' });
      for (const name of [
        'build/main.js',
        'build/preload.cjs',
        'build/renderer/index.html',
        'build/renderer/licences.txt',
        'sample-data/review.json',
      ]) {
        expect(names).toContain(join(name));
      }
      expect(names.filter((name) => /node_modules|\.ts$|\.mjs$|\.map$|\b(?:cli|serve|tests?)\b/.test(name))).toEqual(
        [],
      );
      const { main, type, ...rest } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
      expect(existsSync(join(folder, main))).toBe(true);
      expect(type).toBe('module');
      expect(Object.keys(rest).sort()).toEqual(['description', 'name', 'private', 'version']);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it('has every file that the built host imports', () => {
    const imported = [...read('build/main.js').matchAll(/from\s*["'](\.[^"']+)["']/g)].map(([, name]) => name!);
    expect(imported.filter((name) => !existsSync(join(root, 'build', name)) || !name.endsWith('.chunk.js'))).toEqual(
      [],
    );
  });
});
