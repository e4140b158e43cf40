// npm run endure -- numbers [--calibrations 1000] [--echoes 400]: thousands of calibrations simulated from the waveform on, under noise, rounding, clipping,
// overlap, a wrong clock, gain steps and wandering base lines; and the bias of every way of timing. Both tables are printed. Exit status 1: an interval does not hold.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const { values } = parseArgs({
  options: { calibrations: { type: 'string', default: '1000' }, echoes: { type: 'string', default: '400' } },
});
const root = fileURLToPath(new URL('../..', import.meta.url));
const { status } = spawnSync(
  `${root}node_modules/.bin/vitest`,
  [
    ...['run', '--config', 'tests/vitest.config.ts', '--testTimeout', '3600000', '--disableConsoleIntercept=true'],
    ...['tests/properties/stress', 'tests/outside/timing-bias.test.ts'],
  ],
  {
    cwd: root,
    stdio: 'inherit',
    env: { ...process.env, CALIBRATIONS: values.calibrations, ECHOES: values.echoes },
  },
);
process.exitCode = status ?? 1;
