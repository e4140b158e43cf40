import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));
const readme = readFileSync(`${root}README.md`, 'utf8');
const walk = /\n## A weld, from calibration to evidence\n(.*?)\n## /s.exec(readme)?.[1] ?? '';

interface Step {
  readonly commands: readonly string[];
  readonly prints: readonly string[];
}

/** Commands as they stand, indented, and below them what they print. */
const steps: readonly Step[] = [...walk.matchAll(/((?: {4}npm run [^\n]*\n)+)\n```text\n(.*?)\n```/gs)].map(
  ([, commands, prints]) => ({ commands: commands.trim().split(/\n\s*/), prints: prints.split('\n') }),
);

function printed(command: string): string {
  const ran = spawnSync(command, { shell: true, cwd: root, encoding: 'utf8' });
  expect(ran.status, ran.stderr).toBeLessThan(2);
  return ran.stdout;
}

describe('the walk through the weld, as the README prints it', () => {
  mkdirSync(`${root}build`, { recursive: true });

  it('has a step for each of its commands', () => {
    expect(steps.length).toBeGreaterThanOrEqual(7);
    expect(steps.flatMap(({ commands }) => commands)).toHaveLength([...walk.matchAll(/npm run/g)].length);
  });

  it.each(steps.map((step): [string, Step] => [step.commands.at(-1)!.replace(/.*cli -- (\S+ \S+).*/, '$1'), step]))(
    '%s',
    (_, { commands, prints }) => {
      const lines = commands.map(printed).join('\n').split('\n');
      let at = 0;
      for (const line of prints) {
        const found = lines.findIndex((one, i) => i >= at && one.trimEnd() === line);
        expect(found, `the README says: ${line}`).toBeGreaterThanOrEqual(0);
        at = found + 1;
      }
    },
    60_000,
  );
});
