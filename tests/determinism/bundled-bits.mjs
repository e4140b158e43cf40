// `bits.ts` as one script for a runtime that is not this one: it leaves both sums in `bits`.
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

export async function bundledBits() {
  const built = await build({
    configFile: false,
    logLevel: 'silent',
    build: {
      write: false,
      minify: false,
      lib: { entry: fileURLToPath(new URL('bits.ts', import.meta.url)), formats: ['iife'], name: 'made' },
    },
  });
  const [{ output }] = Array.isArray(built) ? built : [built];
  return `${output[0].code};var bits = [made.bitsOfFunctions(), made.bitsOfRecords()];`;
}
