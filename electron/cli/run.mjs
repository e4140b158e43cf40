// `npm run cli`: builds the command line where it is missing or older than its sources, then hands over to it.
import { isStale } from '../staleness.mjs';

if (isStale('cli')) {
  console.error('Building the command line …');
  const { buildOrExit } = await import('../build.mjs');
  await buildOrExit(['cli']);
}
await import(new URL('../../build/cli/main.js', import.meta.url).href);
