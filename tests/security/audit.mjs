// The known advisories about what the program is built from, as far as the registry tells them: `node tests/security/audit.mjs`.
// Exit status: 0 nothing high or critical in what is shipped, 1 something is, 75 the registry did not answer, and so nothing is known.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

export const notAnswered = 75;
const graveIn = ['high', 'critical'];
const patienceMs = 20_000;

/**
 * What is to be said of npm's report (version 2, `npm audit --json`) by the lock file: of what is shipped a high or critical advisory fails; the rest is told.
 * What is no such report is no answer, whatever it is.
 */
export function judged(report, lock) {
  if (report?.auditReportVersion !== 2 || typeof report.vulnerabilities !== 'object' || report.vulnerabilities === null)
    return {
      status: notAnswered,
      lines: [`Known advisories: the registry did not answer (${reasonIn(report)}); nothing is known of them.`],
    };
  const found = Object.entries(report.vulnerabilities).map(([name, { severity, nodes = [], range = '' }]) => {
    const isShipped = nodes.length === 0 || nodes.some((path) => lock.packages[path]?.dev !== true);
    return { name, severity, range, isShipped, isGrave: isShipped && graveIn.includes(severity) };
  });
  const lines = found.map(
    ({ name, severity, range, isShipped }) =>
      `  ${name} ${range}: ${severity}, ${isShipped ? 'shipped' : 'for development only'}`,
  );
  const grave = found.filter(({ isGrave }) => isGrave).length;
  const packages = Object.keys(lock.packages).length - 1;
  const head = `Known advisories about ${packages} packages: ${found.length}, of which ${grave} high or critical in what is shipped.`;
  return { status: grave > 0 ? 1 : 0, lines: [head, ...lines] };
}

function reasonIn(report) {
  const words = report?.message ?? report?.error?.summary ?? 'no report';
  return String(words).split('\n', 1)[0] || 'no report';
}

function asked(root) {
  const npm = process.env.npm_execpath;
  const words = ['audit', '--json', '--fetch-retries=0', `--fetch-timeout=${patienceMs}`];
  const { stdout } = npm?.endsWith('.js')
    ? spawnSync(process.execPath, [npm, ...words], { cwd: root, encoding: 'utf8', timeout: 3 * patienceMs })
    : spawnSync('npm', words, {
        cwd: root,
        encoding: 'utf8',
        timeout: 3 * patienceMs,
        shell: process.platform === 'win32',
      });
  try {
    return JSON.parse(stdout);
  } catch {
    return null;
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const root = fileURLToPath(new URL('../..', import.meta.url));
  const { status, lines } = judged(asked(root), JSON.parse(readFileSync(`${root}package-lock.json`, 'utf8')));
  console.log(lines.join('\n'));
  process.exitCode = status;
}
