import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Flag } from '../../core/flag.ts';
import { readGate } from '../../core/gate/reading.ts';
import { condition, defaultRecipe } from '../../core/signal/conditioning.ts';

const folder = fileURLToPath(new URL('../../../shared/data/steel-step-block/', import.meta.url));

/** One record of the folder: amplitude as a part of full scale, 60 MHz, read as it stands. */
function traceOf(file: string) {
  const lines = readFileSync(`${folder}${file}`, 'utf8').trim().split('\n').slice(2);
  const outcome = condition(
    {
      startUs: 0,
      stepUs: 1 / 60,
      samples: Float64Array.from(lines, (line) => Number(line.split(',')[1])),
      amplitudeUnit: 'volt',
      fullScreen: 1,
      zeroLevel: 0,
      rectification: 'rf',
    },
    { ...defaultRecipe, bandPass: { lowMHz: 1.5, highMHz: 10, order: 4 } },
  );
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.sentence).join('; '));
  return outcome.value;
}

function read(file: string, fromUs: number, toUs: number) {
  return readGate(
    file,
    traceOf(file),
    { name: 'echo', span: { axis: 'time', fromUs, toUs }, thresholdPercent: 2 },
    'peak',
    null,
    null,
  );
}

/** Open recordings of a stepped steel block under water; truth as written beside them. */
describe.skipIf(!existsSync(folder))(
  'gates on the steel step block (skipped where the shared data folder is absent)',
  () => {
    it.each<[string, string, [number, number], [number, number], number]>([
      ['10 mm: 3.372 µs between steel echoes', '10mm-gain-000.csv', [40, 42], [43.5, 45], 3.372],
      ['10 mm, more gain', '10mm-gain-040.csv', [40, 42], [43.5, 45], 3.372],
      ['10 mm, still more gain', '10mm-gain-100.csv', [40, 42], [43.5, 45], 3.372],
      ['15 mm: 5.057 µs; the first of the two is clipped', '15mm-gain-250.csv', [34.5, 37], [39.5, 42], 5.057],
      ['labelled 20 mm, but in truth the 15 mm step', 'labelled-20mm-gain-250.csv', [34.5, 37], [39.5, 42], 5.057],
    ])('%s (by cross-correlation; within 0.02 µs)', (_, file, first, second, roundTripUs) => {
      const apart = read(file, ...second).timeUs!.value - read(file, ...first).timeUs!.value;
      expect(Math.abs(apart - roundTripUs)).toBeLessThan(0.02);
    });

    it.each<[string, string, number, number, Flag[]]>([
      ['an echo of the step, nothing doubtful', '10mm-gain-040.csv', 40, 42, []],
      ['the front wall in the record of most gain, clipped', '10mm-gain-300.csv', 36.9, 38.9, ['saturated']],
      ['its first step echo, clipped too', '10mm-gain-300.csv', 40, 42, ['saturated']],
      ['its third, not clipped', '10mm-gain-300.csv', 47, 48.5, []],
      ['25 mm: a gate that begins on the water echo’s flank', '25mm-gain-050.csv', 33.5, 35, ['cut-by-gate']],
      ['25 mm: a gate that begins a little later on it', '25mm-gain-050.csv', 33.6, 34.6, ['cut-by-gate']],
    ])('%s', (_, file, fromUs, toUs, flags) => {
      expect(read(file, fromUs, toUs).flags).toEqual(flags);
    });

    it('25 mm: the second steel echo hides 17 dB under the second water echo: a gate over both reads the water, 7.885 µs after the first steel echo, and only the velocity (7 % high) can tell', () => {
      const apart =
        read('25mm-gain-050.csv', 33, 34.6).timeUs!.value - read('25mm-gain-050.csv', 24.8, 26.3).timeUs!.value;
      expect(apart).toBeCloseTo(7.885, 2);
      expect((2000 * 25) / apart / 5930).toBeGreaterThan(1.06);
    });
  },
);
