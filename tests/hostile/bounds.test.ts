import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { mostMemoryBytes, tooMuch } from '../fuzz/bounds.mjs';

/** In `npm run fuzz` they are several times as long. */
const size = 30_000;

describe('inputs made to take time or memory out of proportion', () => {
  it('are all read or refused, in memory bounded by a multiple of their length', async () => {
    const program = await tooMuch();
    // A watchdog: work that grows as the square of the input would take hours at the lengths of `npm run fuzz`.
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      ['--expose-gc', '--max-old-space-size=512', program, String(size)],
      {
        encoding: 'utf8',
        timeout: 500_000,
      },
    );
    const lines = stdout.trim().split('\n');
    expect({ status, stderr, last: lines.at(-1)?.slice(0, 9) }).toEqual({ status: 0, stderr: '', last: '{"inputs"' });
    const { inputs, largestBytes, baseBytes, peakBytes, results } = JSON.parse(lines.at(-1) ?? '');
    expect(inputs).toBeGreaterThan(200);
    expect(peakBytes - baseBytes).toBeLessThan(mostMemoryBytes(largestBytes));
    // Not all are refused: the bounds would then be no feat.
    const ofResult = (result: string) => results.filter((one: { result: string }) => one.result === result).length;
    expect(ofResult('read')).toBeGreaterThan(50);
    expect(ofResult('refused')).toBeGreaterThan(50);
  }, 600_000);
});
