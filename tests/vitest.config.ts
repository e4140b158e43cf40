import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  // The package itself is never loaded: it would fetch its binary.
  resolve: {
    alias: [
      { find: /^electron$/, replacement: fileURLToPath(new URL('electron/electron-double.ts', import.meta.url)) },
    ],
  },
  test: {
    include: ['tests/**/*.test.ts'],
    environment: 'node',
    // The same zone everywhere, except where the run in another zone and locale asks for its own.
    env: process.env.ELSEWHERE === undefined ? { TZ: 'UTC', LC_ALL: 'C' } : {},
    testTimeout: 60_000,
  },
});
