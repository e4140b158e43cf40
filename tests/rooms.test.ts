import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

/**
 * Who may import what. The first row that a file matches holds for it; what ends in `/` or `:` stands for all that begins so, what does not for itself.
 * `type:` permits the types alone, which leave no trace in what is built.
 */
const rooms: readonly (readonly [from: RegExp, may: readonly string[]])[] = [
  [/^core\/import\/table\.ts$/, ['core/', 'papaparse']],
  [/^core\/signal\/fft\.ts$/, ['core/', 'fft.js']],
  [/^core\/located-json\.ts$/, ['core/', 'jsonc-parser']],
  [/^core\/evidence\/(write-zip|inflate)\.ts$/, ['core/', 'fflate']],
  [
    /^core\/(review\/|check\/|evidence\/descriptor\.ts|[^/]+\/rule\.ts|sensitivity\/evaluation-levels\.ts|calibration\/|import\/recipe-|schema-problems\.ts)/,
    ['core/', 'valibot'],
  ],
  [/^core\//, ['core/']],
  [/^renderer\/trace\/TraceView\.tsx$/, ['core/', 'renderer/', 'react', 'uplot', 'uplot/']],
  [/^renderer\/probes\/png\.ts$/, ['core/', 'renderer/', 'fflate']],
  [/^renderer\/host\/desktop-host\.ts$/, ['core/', 'renderer/', 'type:electron/bridge.ts']],
  [/^renderer\/gallery\//, ['core/', 'renderer/', 'react', 'react-dom/', 'react-aria-components', 'zustand/']],
  [/^renderer\/main\.tsx$/, ['renderer/', 'react', 'react-dom/']],
  [
    /^renderer\/(captures\/CaptureList|procedures\/ResultGrid)\.tsx$/,
    ['core/', 'renderer/', 'react', '@tanstack/react-virtual', 'react-aria-components'],
  ],
  [/^renderer\/App\.tsx$/, ['core/', 'renderer/', 'react', 'react-aria-components', 'zustand', 'zustand/']],
  [/^renderer\/shell\/use-shortcuts\.ts$/, ['core/', 'renderer/', 'react', 'tinykeys']],
  [/^renderer\/shown\/jsx-(dev-)?runtime\.ts$/, ['renderer/shown/', 'react', 'react/']],
  [/^renderer\/state\//, ['core/', 'renderer/', 'react', 'zustand', 'zustand/']],
  [/^renderer\//, ['core/', 'renderer/', 'react', 'react-aria-components']],
  [/^electron\/cli\/run\.mjs$/, ['electron/build.mjs', 'electron/staleness.mjs']],
  [/^electron\/disk\//, ['electron/disk/', 'node:']],
  [/^electron\/cli\//, ['core/', 'electron/cli/', 'electron/disk/', 'node:', 'commander', 'valibot', 'package.json']],
  [/^electron\/[^/]+\.mjs$/, ['electron/', 'node:', 'vite', '@vitejs/plugin-react']],
  [/^electron\/suggested-name\.ts$/, ['core/visible-text.ts']],
  [/^electron\/content-policy\.ts$/, ['core/report/page/style.ts']],
  [/^electron\/(serve|assets|sample|page-address)\.ts$/, ['electron/', 'node:']],
  [/^electron\/bridge\.ts$/, ['valibot']],
  [/^electron\/preload\.ts$/, ['electron', 'electron/bridge.ts']],
  [/^electron\//, ['electron', 'electron/', 'node:', 'valibot']],
  [/^sample-data\//, ['sample-data/', 'node:']],
];

/** What would make the same input give other bytes on another day, machine or locale. */
const notInCore = /\bMath\.random\b|\bnew Date\b|\bDate\.\w+|\btoLocale\w+|\blocaleCompare\b|\bIntl\.|\bglobalThis\b/;

/** What ECMAScript leaves to the runtime in its last bits: `core/elementary` has its own. Squares, and powers of two, are exact everywhere. */
const leftToRuntime =
  /\bMath\.(?:a?(?:sin|cos|tan)h?|atan2|exp|expm1|log|log10|log2|log1p|pow|cbrt|hypot)\b|(?<!\b2 )\*\* (?!2\b)[\w(-]/;

interface Import {
  readonly target: string;
  readonly typeOnly: boolean;
}

function importsOf(file: string, text: string): Import[] {
  const found = [
    ...text.matchAll(/^\s*(?:import|export)\s+(?<type>type\s+)?[^'"();]*?\bfrom\s*['"](?<target>[^'"]+)['"]/gm),
    ...text.matchAll(/^\s*import\s*['"](?<target>[^'"]+)['"]/gm),
    ...text.matchAll(/\bimport\s*\(\s*['"](?<target>[^'"]+)['"]/g),
  ];
  return found.map(({ groups }) => {
    const target = groups?.target ?? '';
    return {
      target: target.startsWith('.') ? normalize(join(dirname(file), target)) : target,
      typeOnly: groups?.type !== undefined,
    };
  });
}

function trespasses(file: string, text: string): string[] {
  const may = rooms.find(([from]) => from.test(file))?.[1] ?? [];
  return importsOf(file, text)
    .filter(({ target, typeOnly }) => !may.some((permitted) => isPermitted(permitted, target, typeOnly)))
    .map(({ target }) => `${file} imports ${target}`);
}

function isPermitted(permitted: string, target: string, typeOnly: boolean): boolean {
  if (permitted.startsWith('type:')) return typeOnly && target === permitted.slice('type:'.length);
  return /[/:]$/.test(permitted) ? target.startsWith(permitted) : target === permitted;
}

const sources = ['core', 'renderer', 'electron', 'sample-data'].flatMap((room) =>
  readdirSync(join(root, room), { recursive: true, encoding: 'utf8' })
    .map((name) => `${room}/${name.replaceAll('\\', '/')}`)
    .filter((name) => /\.(ts|tsx|mjs)$/.test(name)),
);

describe('the rooms', () => {
  it('import nothing that the table does not permit (where a new import is right, add it to the table in tests/rooms.test.ts)', () => {
    expect(sources.length).toBeGreaterThan(30);
    expect(sources.flatMap((file) => trespasses(file, readFileSync(join(root, file), 'utf8')))).toEqual([]);
  });

  it('the gallery is for development: nothing outside imports of it', () => {
    const found = sources
      .filter((file) => !file.startsWith('renderer/gallery/'))
      .flatMap((file) =>
        importsOf(file, readFileSync(join(root, file), 'utf8')).map(({ target }) => ({ file, target })),
      )
      .filter(({ target }) => target.startsWith('renderer/gallery/'));
    expect(found).toEqual([]);
  });

  it('core has no clock, no randomness and no locale', () => {
    const found = sources
      .filter((file) => file.startsWith('core/'))
      .flatMap((file) =>
        readFileSync(join(root, file), 'utf8')
          .split('\n')
          .map((line, i) => `${file}:${i + 1}: ${line.trim()}`)
          .filter((line) => notInCore.test(line) && !/: (\/\/|\/?\*)/.test(line)),
      );
    expect(found).toEqual([]);
  });

  it('core leaves no last digit to the runtime’s own sines and powers (core/elementary has them all)', () => {
    const found = sources
      .filter((file) => file.startsWith('core/') && !file.startsWith('core/elementary/'))
      .flatMap((file) =>
        readFileSync(join(root, file), 'utf8')
          .split('\n')
          .map((line, i) => `${file}:${i + 1}: ${line.trim()}`)
          .filter((line) => leftToRuntime.test(line) && !/: (\/\/|\/?\*)/.test(line)),
      );
    expect(found).toEqual([]);
    for (const line of ['Math.sin(x)', 'Math.hypot(a, b)', '10 ** (db / 20)', 'x ** 3', 'x ** order'])
      expect(leftToRuntime.test(line), line).toBe(true);
    for (const line of ['x ** 2', '-(2 ** 50)', 'Math.sqrt(x)']) expect(leftToRuntime.test(line), line).toBe(false);
  });

  it.each([
    ['core reaching for Node', 'core/gate/gate.ts', "import { readFile } from 'node:fs';"],
    ['core reaching for a screen', 'core/gate/gate.ts', "import { App } from '../../renderer/App.tsx';"],
    [
      'core reaching for a type of the host',
      'core/gate/gate.ts',
      "import type { Bridge } from '../../electron/bridge.ts';",
    ],
    ['papaparse outside its file', 'core/import/dialect.ts', "import Papa from 'papaparse';"],
    ['fft.js outside its file', 'core/signal/envelope.ts', "import FFT from 'fft.js';"],
    ['uPlot outside the trace view', 'renderer/trace/Trace.tsx', "import uPlot from 'uplot';"],
    ['its style sheet, too', 'renderer/App.tsx', "import 'uplot/dist/uPlot.min.css';"],
    ['a screen reaching for Electron', 'renderer/App.tsx', "import { ipcRenderer } from 'electron';"],
    ['a screen reaching for the host', 'renderer/App.tsx', "import { calls } from '../electron/bridge.ts';"],
    [
      'the bridge as more than a type',
      'renderer/host/desktop-host.ts',
      "import { calls } from '../../electron/bridge.ts';",
    ],
    ['the command line reaching for Electron', 'electron/cli/main.ts', "import { app } from 'electron';"],
    ['the command line reaching for the window', 'electron/cli/main.ts', "import { openWindow } from '../window.ts';"],
    ['the server reaching for Electron', 'electron/serve.ts', "import { app } from 'electron';"],
    [
      'the preload script with a second dependency',
      'electron/preload.ts',
      "import { answerCalls } from './answer-calls.ts';",
    ],
    ['anything reaching for tests', 'core/gate/gate.ts', "import { trace } from '../../tests/build/trace.ts';"],
    ['a re-export', 'core/gate/gate.ts', "export * from '../../renderer/App.tsx';"],
    ['a dynamic import', 'core/gate/gate.ts', "const fs = await import('node:fs');"],
    [
      'a type brought in by a dynamic import',
      'core/gate/gate.ts',
      "type Host = import('../../renderer/host/host.ts').Host;",
    ],
    ['an import over several lines', 'core/gate/gate.ts', "import {\n  readFile,\n} from 'node:fs';"],
    ['a file in a room of its own', 'scripts/new.ts', "import { readFile } from 'node:fs';"],
  ])('the table bites: %s', (_name, file, text) => {
    expect(trespasses(file, text)).toHaveLength(1);
  });

  it('a comment that speaks of an import from somewhere is none', () => {
    const comment =
      "/** What an import took from 'elsewhere'. */\n// import it from 'elsewhere'\n * import of a file from 'elsewhere'";
    expect(trespasses('core/gate/gate.ts', comment)).toEqual([]);
  });

  it('the single crossing from the screens to the host is permitted as a type', () => {
    expect(
      trespasses('renderer/host/desktop-host.ts', "import type { Bridge } from '../../electron/bridge.ts';"),
    ).toEqual([]);
  });
});

describe('dependencies', () => {
  const anywhere =
    /^(MIT|Apache-2\.0|BSD-2-Clause|BSD-3-Clause|ISC|0BSD|BlueOak-1\.0\.0|CC0-1\.0|Unlicense|Python-2\.0)$/;
  const exceptions = [['node_modules/@fontsource', 'OFL-1.1']] as const;
  const lock: { packages: Record<string, { license?: string; dev?: boolean }> } = JSON.parse(
    readFileSync(join(root, 'package-lock.json'), 'utf8'),
  );
  const packages = Object.entries(lock.packages).filter(([path]) => path !== '');

  /** Of `MIT OR GPL-2.0` one may be chosen; of `MIT AND ISC` both hold. */
  function isFree(licence: string, also: string | null): boolean {
    const free = (one: string) => anywhere.test(one) || one === also;
    return licence
      .replace(/[()]/g, '')
      .split(' OR ')
      .some((choice) => choice.split(' AND ').every(free));
  }

  it('bear a licence that lets the program be passed on; MPL for development only, OFL for typefaces', () => {
    const refused = packages.filter(([path, { license = 'none', dev = false }]) => {
      const also = dev ? 'MPL-2.0' : (exceptions.find(([where]) => path.startsWith(where))?.[1] ?? null);
      return !isFree(license, also);
    });
    expect(packages.length).toBeGreaterThan(20);
    expect(refused.map(([path, { license }]) => `${path}: ${license}`)).toEqual([]);
  });
});
