// `npm test`: every check, one after the other; a failing one does not hide the next. The last line adds up all runners.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { findChromium } from './browser/chromium.mjs';
import { notAnswered } from './security/audit.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const results = `${root}build/test-results`;
const programs = `${root}node_modules/.bin/`;
rmSync(results, { recursive: true, force: true });
mkdirSync(results, { recursive: true });

const checks = [
  {
    name: 'Build',
    cure: 'node electron/build.mjs cli desktop gallery',
    run: () => asOne('node', ['electron/build.mjs', 'cli', 'desktop', 'gallery']),
  },
  { name: 'Types', cure: 'npx tsc -b --force', run: () => asOne('tsc', ['-b', '--force']) },
  { name: 'Lint and format', cure: 'npm run fix', run: () => asOne('biome', ['ci', '--colors=off']) },
  {
    name: 'Known advisories',
    cure: 'node tests/security/audit.mjs',
    run: () => {
      // Where the registry does not answer, nothing is known: that is said, and is no failure.
      const status = run('node', ['tests/security/audit.mjs']);
      return { passed: status === 0 ? 1 : 0, failed: status === 1 ? 1 : 0, skipped: status === notAnswered ? 1 : 0 };
    },
  },
  {
    name: 'Rooms, units, outside world',
    cure: 'npx vitest --config tests/vitest.config.ts',
    run: () => {
      const file = `${results}/units.json`;
      const command = [
        'run',
        '--config',
        'tests/vitest.config.ts',
        '--reporter=dot',
        '--reporter=json',
        `--outputFile.json=${file}`,
      ];
      return countsFrom(run('vitest', command), file, (all) => [
        all.numPassedTests,
        all.numFailedTests,
        all.numPendingTests + all.numTodoTests,
      ]);
    },
  },
  {
    name: 'Once more where the clock and the decimal mark differ',
    cure: 'ELSEWHERE=1 TZ=Asia/Kathmandu LC_ALL=de_DE.UTF-8 npx vitest run --config tests/vitest.config.ts tests/core tests/renderer',
    run: () => {
      const elsewhere = { ELSEWHERE: '1', TZ: 'Asia/Kathmandu', LC_ALL: 'de_DE.UTF-8' };
      return asOne(
        'vitest',
        ['run', '--config', 'tests/vitest.config.ts', '--reporter=dot', 'tests/core', 'tests/renderer'],
        elsewhere,
      );
    },
  },
  {
    name: 'Browser',
    cure: 'npx playwright test --config tests/browser/playwright.config.ts',
    run: () => {
      if (findChromium() === null) return missingChromium();
      const file = `${results}/browser.json`;
      const status = run(
        'playwright',
        ['test', '--config', 'tests/browser/playwright.config.ts', '--reporter=line,json'],
        {
          PLAYWRIGHT_JSON_OUTPUT_FILE: file,
        },
      );
      return countsFrom(status, file, ({ stats }) => [stats.expected + stats.flaky, stats.unexpected, stats.skipped]);
    },
  },
];

let [passed, failed, skipped] = [0, 0, 0];
for (const { name, cure, run: runCheck } of checks) {
  console.log(`\n${name}`);
  const counts = runCheck();
  if (counts.failed > 0) console.log(`${name}: ${counts.failed} failed. To see and mend it: ${cure}`);
  passed += counts.passed;
  failed += counts.failed;
  skipped += counts.skipped;
}
console.log(`\n${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`);
process.exitCode = failed > 0 ? 1 : 0;

function run(program, given, env = {}) {
  const path = program === 'node' ? process.execPath : programs + program;
  // Colours are for a terminal; a log is read as it stands.
  const plain = process.stdout.isTTY ? {} : { NO_COLOR: '1', FORCE_COLOR: undefined };
  return spawnSync(path, given, { cwd: root, stdio: 'inherit', env: { ...process.env, ...plain, ...env } }).status ?? 1;
}

/** A program without counts of its own is one check. */
function asOne(program, given, env) {
  return run(program, given, env) === 0 ? { passed: 1, failed: 0, skipped: 0 } : { passed: 0, failed: 1, skipped: 0 };
}

/** The runner's own counts; where it failed without a failed test (it could not even begin), that is one failure. */
function countsFrom(status, file, read) {
  if (!existsSync(file)) return { passed: 0, failed: 1, skipped: 0 };
  const [passedThere, failedThere, skippedThere] = read(JSON.parse(readFileSync(file, 'utf8')));
  return { passed: passedThere, failed: status === 0 ? failedThere : Math.max(1, failedThere), skipped: skippedThere };
}

function missingChromium() {
  console.log(
    'Chromium is not here. On Debian or Ubuntu: sudo apt-get install -y chromium   (elsewhere: set CHROMIUM to its path)',
  );
  return { passed: 0, failed: 1, skipped: 0 };
}
