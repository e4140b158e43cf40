// `npm run endings -- [--kills N] [--seed S]`: sudden ends in the midst of every work and every command that writes, at each of its calls, and a draft that is
// kept again and again killed N times (200) at moments drawn from the seed. `npm test` holds a small, fixed portion of the same.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const root = fileURLToPath(new URL('../..', import.meta.url));
const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '200' },
    seed: { type: 'string', default: String(Date.now() % 2 ** 31) },
  },
});
const numbers = [values.kills, values.seed].map(Number);
if (!numbers.every((number) => Number.isSafeInteger(number) && number > 0)) {
  console.error('Give whole numbers: npm run endings -- --kills 200 --seed 7');
  process.exit(2);
}
console.log(`${values.kills} kills at moments drawn from the seed ${values.seed}`);
const { status } = spawnSync(
  `${root}node_modules/.bin/vitest`,
  ['run', '--config', 'tests/vitest.config.ts', '--testTimeout=1800000', '--reporter=verbose', 'tests/endings'],
  { cwd: root, stdio: 'inherit', env: { ...process.env, ENDINGS_KILLS: values.kills, ENDINGS_SEED: values.seed } },
);
process.exitCode = status ?? 1;
