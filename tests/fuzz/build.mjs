// One file of plain JavaScript from a program of this folder, so that it runs in a process of its own with bounds on its memory.
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** @returns the path of what was built */
export async function buildFuzz(name) {
  await build({
    configFile: false,
    root,
    logLevel: 'warn',
    clearScreen: false,
    ssr: { noExternal: true, target: 'node' },
    build: {
      ssr: true,
      target: 'node20',
      outDir: `${root}build/fuzz/program`,
      emptyOutDir: false,
      minify: false,
      reportCompressedSize: false,
      rollupOptions: { input: { [name]: `${root}tests/fuzz/${name}.ts` }, output: { entryFileNames: '[name].mjs' } },
    },
  });
  return `${root}build/fuzz/program/${name}.mjs`;
}
