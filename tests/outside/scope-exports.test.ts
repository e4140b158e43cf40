import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { importBytes } from '../../core/import/import-file.ts';
import { type ImportRecipe, inferEverything } from '../../core/import/import-recipe.ts';
import { codesOf, ofGood } from '../core/import/csv-bytes.ts';

/**
 * Real oscilloscope exports (repository scottprahl/RigolWFM, test files, BSD-3-Clause) with what each must become, as the shared
 * data's own README states it. The same shapes are proven with made-up data in `tests/core/import/import-file.test.ts`.
 */
const folder = fileURLToPath(new URL('../../../shared/data/scope-exports/', import.meta.url));
const isThere = existsSync(folder);
const read = (name: string, recipe: Partial<ImportRecipe> = {}) =>
  ofGood(importBytes(name, readFileSync(`${folder}${name}.csv`), { ...inferEverything, ...recipe }, null));

describe.skipIf(!isThere)('oscilloscope exports (skipped where the shared data folder is absent)', () => {
  it.each([
    {
      name: 'quoted-preamble-16-lines',
      traces: ['CH 1', 'CH 2'],
      samples: 8192,
      startUs: 0,
      stepUs: 0.002,
      warnings: ['blank-last-row', 'rectification-doubtful'],
      asks: [],
    },
    {
      name: 'sample-number-with-start-and-increment',
      traces: ['CH1', 'CH2', 'CH3'],
      samples: 1200,
      startUs: 8970.001,
      stepUs: 0.05,
      warnings: ['increment-in-seconds'],
      asks: [],
    },
    {
      name: 'first-row-is-sample-22',
      traces: ['CH1', 'CH2'],
      samples: 1356,
      startUs: -1356,
      stepUs: 2,
      warnings: ['increment-in-seconds', 'first-sample-number', 'unusual-sampling-rate', 'rectification-doubtful'],
      asks: [],
    },
    {
      name: 'time-rounded-to-float32',
      traces: ['CH1'],
      samples: 600,
      startUs: -5.9999998,
      stepUs: 0.02,
      warnings: [],
      asks: [],
    },
    {
      name: 'units-row-and-blank-last-field',
      traces: ['CH2', 'CH4'],
      samples: 8192,
      startUs: -16384,
      stepUs: 4,
      warnings: ['unusual-sampling-rate'],
      asks: [],
    },
    {
      name: 'no-header-time-first',
      traces: ['column 2'],
      samples: 4000,
      startUs: -0.0524,
      stepUs: 2.5e-5,
      warnings: [],
      asks: ['time-unit-not-stated', 'amplitude-unit-not-stated'],
    },
  ])('$name', ({ name, traces, samples, startUs, stepUs, warnings, asks }) => {
    const file = read(name);
    expect(file.traces.map((trace) => trace.name)).toEqual(traces);
    for (const trace of file.traces) {
      expect(trace).toMatchObject({ samples, rectification: 'rf' });
      expect(trace.startUs).toBeCloseTo(startUs, 9);
      expect(Math.abs((trace.stepUs ?? 0) / stepUs - 1)).toBeLessThan(1e-7);
    }
    expect(codesOf(file.warnings)).toEqual(warnings);
    expect(codesOf(file.asks).filter((code) => code !== 'full-screen-not-stated')).toEqual(asks);
  });

  it('values stand where the file has them', () => {
    const { captures } = read('quoted-preamble-16-lines', { fullScreen: 5 });
    expect(captures.map(({ waveform }) => [waveform.samples[0], waveform.samples[8191]])).toEqual([
      [1.72, -0.04],
      [9.92, 4.96],
    ]);
    const [first] = read('units-row-and-blank-last-field', { fullScreen: 20 }).captures;
    expect([first.waveform.samples[0], first.waveform.samples[8191]]).toEqual([14.8, 20.8]);
  });

  it('sixteen preamble lines are kept whole, but for the header', () => {
    expect(read('quoted-preamble-16-lines').metadata).toHaveLength(15);
  });
});

const steel = fileURLToPath(new URL('../../../shared/data/steel-step-block/', import.meta.url));

describe.skipIf(!existsSync(steel))(
  'recordings of a step block (skipped where the shared data folder is absent)',
  () => {
    it('60 MHz comes from first and last stamp, not from the rounded first step', () => {
      const file = ofGood(importBytes('10mm', readFileSync(`${steel}10mm-gain-000.csv`), inferEverything, null));
      expect(file.traces[0]).toMatchObject({
        samples: 8000,
        startUs: 0,
        amplitudeUnit: 'percent',
        rectification: 'rf',
      });
      expect(1 / (file.traces[0].stepUs ?? 0)).toBeCloseTo(60, 5);
      expect(file.captures[0].waveform.samples[0]).toBe(2.734375);
    });
  },
);
