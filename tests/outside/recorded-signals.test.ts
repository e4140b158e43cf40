import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { samplesBetween, type Waveform } from '../../core/capture/waveform.ts';
import { bandPass, designBandPass } from '../../core/signal/band-pass.ts';
import { baselineOf } from '../../core/signal/baseline.ts';
import { condition, defaultRecipe, type Trace } from '../../core/signal/conditioning.ts';
import { findEchoes } from '../../core/signal/echoes.ts';
import { envelopeOf } from '../../core/signal/envelope.ts';
import { highestIn } from '../../core/signal/peak.ts';

/*
 * Real recordings in the shared data folder beside the repository: an immersed step block of 1018 steel (5 MHz, 60 MHz
 * sampling; open data of a pulser board's authors) and 40 mm of aluminium in contact (5 MHz, 25 MHz sampling). What their
 * authors stated and what an independent analysis with SciPy 1.10.1 measured stands beside each figure.
 */
const shared = fileURLToPath(new URL('../../../shared/data/', import.meta.url));
const present = existsSync(shared);

function recorded(file: string, stepUs: number | null, usPerUnit: number): Waveform {
  const rows = readFileSync(`${shared}${file}`, 'utf8')
    .split('\n')
    .filter((line) => /^[-\d]/.test(line))
    .map((line) => line.split(',').map(Number));
  const lastUs = rows[rows.length - 1][0] * usPerUnit;
  return {
    startUs: rows[0][0] * usPerUnit,
    stepUs: stepUs ?? (lastUs - rows[0][0] * usPerUnit) / (rows.length - 1),
    samples: Float64Array.from(rows, (row) => row[1]),
    amplitudeUnit: 'volt',
    fullScreen: 1,
    zeroLevel: 0,
    rectification: 'rf',
  };
}

const steel = (name: string) => recorded(`steel-step-block/${name}.csv`, 1 / 60, 1);
const aluminium = (element: string) => recorded(`aluminium-contact/contact_element${element}.csv`, null, 1e6);

function conditioned(waveform: Waveform, recipe = defaultRecipe): Trace {
  const outcome = condition(waveform, recipe);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

function timeIn(trace: Trace, fromUs: number, toUs: number): number {
  const range = samplesBetween(trace, fromUs, toUs);
  return (range && highestIn(trace, range)?.timeUs) ?? Number.NaN;
}

interface Reference {
  readonly hilbert_env_full: Record<string, number>;
  readonly 'butter4 bandpass 1.5-10 MHz sosfiltfilt': Record<string, number>;
  readonly 'detrend linear': Record<string, number>;
}

describe.skipIf(!present)('the steel step block, 25 mm (skipped where the shared data folder is absent)', () => {
  const reference = (): Reference =>
    JSON.parse(readFileSync(`${shared}steel-step-block/scipy-reference-25mm-gain-050.json`, 'utf8'));

  it('is filtered as SciPy filters it (order 4, 1.5 to 10 MHz, forward and backward), to 1e-13 of full scale', () => {
    const filtered = bandPass(steel('25mm-gain-050').samples, designBandPass(1.5, 10, 4, 60));
    for (const [index, value] of Object.entries(reference()['butter4 bandpass 1.5-10 MHz sosfiltfilt'])) {
      expect(Math.abs(filtered[Number(index)] - value)).toBeLessThan(1e-13);
    }
  });

  it('loses the same base line as SciPy takes out', () => {
    const { samples } = steel('25mm-gain-050');
    const { origin, level, slope } = baselineOf(samples, 'linear');
    for (const [index, value] of Object.entries(reference()['detrend linear'])) {
      const i = Number(index);
      expect(Math.abs(samples[i] - level - slope * (i - origin) - value)).toBeLessThan(1e-13);
    }
  });

  it('has SciPy’s envelope inside the record, within 0.05 % of full scale (its transform has the record’s own length, 8,000)', () => {
    const envelope = envelopeOf(steel('25mm-gain-050').samples);
    for (const [index, value] of Object.entries(reference().hilbert_env_full)) {
      if (index !== '7999') expect(Math.abs(envelope[Number(index)] - value)).toBeLessThan(5e-4);
    }
  });

  it('does not show the main bang at its end, where the unpadded envelope rises to 13.6 % FSH', () => {
    expect(reference().hilbert_env_full['7999']).toBeGreaterThan(0.13);
    const { envelope } = conditioned(steel('25mm-gain-050'));
    expect(Math.max(...envelope.slice(-20))).toBeLessThan(2);
  });

  it('has its main bang over before the front wall at 17 µs, and the clipped bang marked', () => {
    const trace = conditioned(steel('25mm-gain-050'));
    expect(trace.deadZoneEndUs).toBeGreaterThan(1);
    expect(trace.deadZoneEndUs).toBeLessThan(17);
    expect(trace.saturated[0].first / 60).toBeLessThan(1);
  });
});

describe.skipIf(!present)('steel echoes (skipped where the shared data folder is absent)', () => {
  // Round trips by cross-correlation of successive steel echoes: 3.372 and 5.057 µs (independent analysis). The envelope's
  // peak is another pick of the same echoes: within 0.05 µs.
  it.each([
    { name: '10mm-gain-000', firstUs: [40.2, 41.2], secondUs: [43.6, 44.6], roundTripUs: 3.372 },
    { name: '15mm-gain-250', firstUs: [35.0, 36.2], secondUs: [40.1, 41.2], roundTripUs: 5.057 },
    { name: 'labelled-20mm-gain-250', firstUs: [35.0, 36.2], secondUs: [40.1, 41.2], roundTripUs: 5.057 },
  ])('$name: one round trip is $roundTripUs µs', ({ name, firstUs, secondUs, roundTripUs }) => {
    const trace = conditioned(steel(name), { ...defaultRecipe, bandPass: { lowMHz: 1.5, highMHz: 10, order: 4 } });
    const trip = timeIn(trace, secondUs[0], secondUs[1]) - timeIn(trace, firstUs[0], firstUs[1]);
    expect(Math.abs(trip - roundTripUs)).toBeLessThan(0.05);
  });

  it.each([
    ['10mm-gain-000', false],
    ['10mm-gain-300', true],
  ])('%s: the front echo is cut off: %s', (name, cut) => {
    const trace = conditioned(steel(name));
    const front = findEchoes(trace, { abovePercent: 50, fromUs: 36.5, toUs: 38.5 });
    expect(front.length).toBeGreaterThan(0);
    expect(front.some((echo) => echo.flags.includes('saturated'))).toBe(cut);
  });
});

describe.skipIf(!present)('aluminium in contact (skipped where the shared data folder is absent)', () => {
  // Back walls at 12.936 and 25.419 µs: medians over 64 elements, spread 0.013 and 0.017 µs (independent analysis).
  it.each(['02', '41'])('element %s: both back walls within three spreads of the median', (element) => {
    const trace = conditioned(aluminium(element));
    expect(Math.abs(timeIn(trace, 11.5, 14.5) - 12.936)).toBeLessThan(3 * 0.013);
    expect(Math.abs(timeIn(trace, 24, 27) - 25.419)).toBeLessThan(3 * 0.017);
  });

  it.each(['02', '41'])('element %s: the main bang clips, and rings until about 5 µs', (element) => {
    const trace = conditioned(aluminium(element));
    expect(trace.saturated.length).toBeGreaterThan(2);
    expect(Math.abs((trace.deadZoneEndUs ?? 0) - 5)).toBeLessThan(0.6);
  });

  it('the back walls are neither cut off nor in the dead zone', () => {
    const echoes = findEchoes(conditioned(aluminium('02')), { abovePercent: 20, fromUs: 10, toUs: null });
    expect(echoes.length).toBe(2);
    for (const echo of echoes) expect(echo.flags).toEqual([]);
  });
});
