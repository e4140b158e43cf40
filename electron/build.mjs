// Builds what runs: `node electron/build.mjs [cli] [desktop] [gallery]`, the first two without an argument.
//
//   cli      core, electron/cli             -> build/cli/main.js, worker.js   Node, everything in the bundle
//   desktop  renderer, core                 -> build/renderer/                the page, its worker, styles, typeface
//            electron/main, serve           -> build/main.js, serve.js        the two hosts of that page
//            electron/preload               -> build/preload.cjs              alone and CommonJS: a sandboxed preload can load no second file
//   gallery  renderer, core                 -> build/gallery/                 every component in every state: for development, no part of the product
//
// Several processes may find the build stale at once: one builds, the others wait for it.
import { existsSync, mkdirSync, readFileSync, rmdirSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { stripVTControlCharacters } from 'node:util';
import react from '@vitejs/plugin-react';
import { build } from 'vite';
import { licences } from './licences.mjs';
import { isStale, stampOf } from './staleness.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const lock = `${root}build/lock`;
const abandonedAfterMs = 120_000;
const { version } = JSON.parse(readFileSync(`${root}package.json`, 'utf8'));

const common = { configFile: false, root, logLevel: 'warn', clearScreen: false };

/** A Node program as one ES module with its dependencies inside; `external` stays a plain import. */
function nodeProgram(entries, outDir, external = []) {
  return build({
    ...common,
    ssr: { noExternal: true, target: 'node' },
    build: {
      ssr: true,
      target: 'node20',
      outDir,
      emptyOutDir: false,
      minify: false,
      reportCompressedSize: false,
      rollupOptions: {
        input: entries,
        external,
        output: { entryFileNames: '[name].js', chunkFileNames: '[name].chunk.js' },
      },
    },
  });
}

async function buildCli() {
  const entries = { main: `${root}electron/cli/main.ts` };
  if (existsSync(`${root}electron/cli/worker.ts`)) entries.worker = `${root}electron/cli/worker.ts`;
  await nodeProgram(entries, `${root}build/cli`);
}

/** Names in the page's head what it will load in any case, so that all of it is on its way at once and none waits until another has asked for it. */
const askedInHead = {
  name: 'asked-in-head',
  transformIndexHtml: {
    order: 'post',
    handler(_html, { bundle = {}, chunk }) {
      const scripts = neededAtFirst(bundle, chunk);
      const faces = Object.keys(bundle).filter(
        (name) => /latin-wght-normal.*\.woff2$/.test(name) && !/latin-ext/.test(name),
      );
      return [
        ...scripts.map((name) => inHead({ rel: 'modulepreload', href: `./${name}` })),
        ...faces.map((name) =>
          inHead({ rel: 'preload', as: 'font', type: 'font/woff2', crossorigin: '', href: `./${name}` }),
        ),
      ];
    },
  },
};

/** The scripts behind an entry: what it imports, and the page and the review, which it imports as they are needed. */
function neededAtFirst(bundle, entry) {
  const needed = new Set();
  const visit = (name) => {
    if (needed.has(name)) return;
    needed.add(name);
    const { imports = [], dynamicImports = [] } = bundle[name] ?? {};
    for (const next of imports) visit(next);
    for (const next of dynamicImports) if (/^(main|ReviewPage)$/.test(bundle[next]?.name)) visit(next);
  };
  if (entry !== undefined) visit(entry.fileName);
  needed.delete(entry?.fileName);
  return [...needed];
}

function inHead(attrs) {
  return { tag: 'link', attrs, injectTo: 'head-prepend' };
}

/** Pages of the renderer with their worker, styles and typeface; `asOne`: all styles in one file. */
function buildPages(outDir, pages, { plugins = [], asOne = false } = {}) {
  return build({
    ...common,
    root: `${root}renderer`,
    base: './',
    publicDir: false,
    // Elements are made by renderer/shown, so that no text comes onto the page as it came from a file.
    plugins: [react({ jsxImportSource: '#shown' }), ...plugins],
    define: { 'import.meta.env.VITE_VERSION': JSON.stringify(version) },
    worker: { format: 'es' },
    build: {
      target: 'chrome120',
      outDir,
      emptyOutDir: true,
      assetsInlineLimit: 0,
      modulePreload: false,
      cssCodeSplit: !asOne,
      reportCompressedSize: false,
      chunkSizeWarningLimit: 1000,
      rollupOptions: { input: pages.map((page) => `${root}renderer/${page}.html`) },
    },
  });
}

/** The gallery, and the empty page that the time to open the workbench is held against. */
async function buildGallery() {
  await buildPages(`${root}build/gallery`, ['gallery', 'empty']);
}

async function buildDesktop() {
  await buildPages(`${root}build/renderer`, ['index'], { plugins: [askedInHead], asOne: true });
  writeFileSync(`${root}build/renderer/licences.txt`, licences());
  await nodeProgram({ main: `${root}electron/main.ts`, serve: `${root}electron/serve.ts` }, `${root}build`, [
    'electron',
  ]);
  await build({
    ...common,
    build: {
      target: 'chrome120',
      outDir: `${root}build`,
      emptyOutDir: false,
      minify: false,
      reportCompressedSize: false,
      copyPublicDir: false,
      lib: { entry: `${root}electron/preload.ts`, formats: ['cjs'], fileName: () => 'preload.cjs' },
      rollupOptions: { external: ['electron'], output: { codeSplitting: false } },
    },
  });
}

const builders = { cli: buildCli, desktop: buildDesktop, gallery: buildGallery };
/** What is built where nothing is named: what a person runs. */
const product = ['cli', 'desktop'];

/** Builds the parts named that are stale, or all that are named where `evenIfFresh`. */
async function buildParts(parts, { evenIfFresh = false } = {}) {
  await takeLock();
  try {
    for (const part of parts) {
      if (!evenIfFresh && !isStale(part)) continue;
      const began = new Date();
      await builders[part]();
      writeFileSync(stampOf(part), '');
      // The stamp bears the time at which the build began, so that a source saved meanwhile is seen.
      utimesSync(stampOf(part), began, began);
    }
  } finally {
    rmdirSync(lock);
  }
}

/** Builds, and ends the process with the compiler's own words where that fails. */
export async function buildOrExit(parts, options) {
  try {
    await buildParts(parts, options);
  } catch (error) {
    console.error(process.stderr.isTTY ? error.message : stripVTControlCharacters(error.message));
    console.error('The build failed; mend what stands above, then: npm run build');
    process.exit(1);
  }
}

async function takeLock() {
  mkdirSync(`${root}build`, { recursive: true });
  for (;;) {
    try {
      mkdirSync(lock);
      return;
    } catch (error) {
      if (error.code !== 'EEXIST') throw error;
    }
    const age = Date.now() - (statSync(lock, { throwIfNoEntry: false })?.mtimeMs ?? Date.now());
    if (age > abandonedAfterMs) rmdirSync(lock);
    else await wait(50);
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const named = process.argv.slice(2);
  const unknown = named.filter((part) => !(part in builders));
  if (unknown.length > 0) {
    console.error(
      `There is no part "${unknown.join('", "')}" to build: give ${Object.keys(builders).join(' or ')}, or nothing for ${product.join(' and ')}.`,
    );
    process.exit(2);
  }
  await buildOrExit(named.length > 0 ? named : product, { evenIfFresh: true });
}
