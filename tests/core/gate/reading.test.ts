import { describe, expect, it } from 'vitest';
import type { Gate, Timing } from '../../../core/gate/gate.ts';
import { readGate } from '../../../core/gate/reading.ts';
import { calibrated } from '../../build/calibration.ts';
import { type TraceInWords, trace } from '../../build/trace.ts';

const gate = (fromUs: number, toUs: number, thresholdPercent = 20): Gate => ({
  name: 'weld',
  span: { axis: 'time', fromUs, toUs },
  thresholdPercent,
});

function read(words: TraceInWords, given: Gate, timing: Timing = 'peak') {
  return readGate('built.csv', words.conditioned(), given, timing, null, null);
}

const oneEcho = trace().burst({ timeUs: 61.5, amplitudePercent: 80 }).noise(0.1);
/** σ of a 4 MHz burst of 60 % bandwidth: 0.37478125 / 2.4 µs. */
const sigmaUs = 0.37478125 / 2.4;

describe('readGate: nothing to read', () => {
  const nothing = {
    timeUs: null,
    crossingUs: null,
    peakUs: null,
    amplitudePercent: null,
    noisePercent: null,
    signalToNoiseDb: null,
    soundPathMm: null,
    depthMm: null,
    surfaceDistanceMm: null,
    leg: null,
  };

  it('an empty window of the record', () => {
    expect(read(oneEcho, gate(40, 50))).toMatchObject({
      ...nothing,
      flags: ['no-echo'],
      from: { first: 4000, last: 5000 },
    });
  });
  it('an echo below the threshold', () => {
    expect(read(oneEcho, gate(60, 63, 81))).toMatchObject({ ...nothing, flags: ['no-echo'] });
  });
  it('a gate between two samples', () => {
    expect(read(oneEcho, gate(61.502, 61.508))).toMatchObject({ ...nothing, flags: ['no-echo'], from: null });
  });
  it('a gate after the record', () => {
    expect(read(oneEcho, gate(120, 130))).toMatchObject({
      ...nothing,
      flags: ['outside-record', 'no-echo'],
      from: null,
    });
  });
  it('a trace of nothing', () => {
    expect(read(trace(), gate(40, 50))).toMatchObject({ ...nothing, flags: ['no-echo'] });
  });
  it('a gate in sound path without a calibration: no flag, for no echo was looked for', () => {
    const inPath: Gate = { name: 'weld', span: { axis: 'path', fromMm: 10, toMm: 20 }, thresholdPercent: 20 };
    expect(readGate('built.csv', oneEcho.conditioned(), inPath, 'peak', null, null)).toMatchObject({
      ...nothing,
      flags: [],
      from: null,
    });
  });
});

describe('readGate: one echo of 80 % at 61.5 µs', () => {
  it('by peak: the vertex between samples, its height, its crossing, and how sure the time is', () => {
    const reading = read(oneEcho, gate(60, 63));
    expect(reading.timeUs!.value).toBeCloseTo(61.5, 3);
    expect(reading.timeUs!.standardUncertainty).toBeGreaterThan(0);
    expect(reading.timeUs!.standardUncertainty).toBeLessThan(0.002);
    expect(reading.amplitudePercent).toBeCloseTo(80, 0);
    expect(reading.signalToNoiseDb).toBeCloseTo(20 * Math.log10(80 / 0.1), -1);
    expect(reading).toMatchObject({
      captureId: 'built.csv',
      gate: 'weld',
      flags: [],
      from: { first: 6000, last: 6300 },
      soundPathMm: null,
      belowPeakDb: null,
    });
  });

  it.each([10, 20, 40, 60])(
    'by crossing of %d %%: σ·√(2·ln(80 / threshold)) before the peak (closed form of the Gaussian burst)',
    (threshold) => {
      const reading = read(oneEcho, gate(60, 63, threshold), 'crossing');
      expect(reading.timeUs!.value).toBeCloseTo(61.5 - sigmaUs * Math.sqrt(2 * Math.log(80 / threshold)), 2);
      expect(reading.crossingUs).toBe(reading.timeUs!.value);
      expect(reading.peakUs).toBeCloseTo(61.5, 3);
      expect(reading.flags).toEqual([]);
    },
  );

  it('lengths follow by the calibration and the beam: 3240 m/s, 7.3 µs, 60°, 50 mm plate', () => {
    const calibration = calibrated(3240, 7.3);
    const beam = { angleDeg: 60, thicknessMm: 50 };
    const reading = readGate('built.csv', oneEcho.conditioned(), gate(60, 63), 'peak', calibration, beam, 0.5);
    const path = (61.5 - 7.3) * 1.62;
    expect(reading.soundPathMm!.value).toBeCloseTo(path, 2);
    expect(reading.depthMm!.value).toBeCloseTo(path * 0.5, 2);
    expect(reading.surfaceDistanceMm!.value).toBeCloseTo(path * Math.sin(Math.PI / 3), 2);
    expect(reading.leg).toBe(1);
    // 0.5° of angle moves the depth by path · sin 60° · 0.5 · π/180, far more than the time does.
    expect(reading.depthMm!.standardUncertainty).toBeCloseTo(path * Math.sin(Math.PI / 3) * 0.5 * (Math.PI / 180), 2);
    expect(reading.soundPathMm!.standardUncertainty).toBeGreaterThan(0.001);
    expect(reading.soundPathMm!.standardUncertainty).toBeLessThan(0.01);
  });

  it('an echo that comes before the zero offset has a negative path and lies nowhere in the part', () => {
    const early = trace().burst({ timeUs: 5, amplitudePercent: 80 }).record(2, 1000);
    const reading = readGate('built.csv', early.conditioned(), gate(4, 6), 'peak', calibrated(3240, 7.3), {
      angleDeg: 60,
      thicknessMm: 10,
    });
    expect(reading.soundPathMm!.value).toBeLessThan(0);
    expect([reading.depthMm, reading.surfaceDistanceMm, reading.leg]).toEqual([null, null, null]);
  });
});

describe('readGate: flags', () => {
  const two = (second: number, apartUs: number) => oneEcho.burst({ timeUs: 61.5 + apartUs, amplitudePercent: second });

  it.each<[string, TraceInWords, Gate, Timing, string[]]>([
    ['a gate that leaves the record', oneEcho, gate(60, 120), 'peak', ['outside-record']],
    [
      'a gate that ends with the record',
      trace().burst({ timeUs: 61.5, amplitudePercent: 80 }).noise(0.1).record(0, 6301),
      gate(60, 63),
      'peak',
      [],
    ],
    ['a gate that ends on the rising flank', oneEcho, gate(58, 61.4), 'peak', ['cut-by-gate']],
    ['a gate that begins on the falling flank', oneEcho, gate(61.6, 65), 'peak', ['cut-by-gate']],
    ['a gate that begins on the rising flank, by peak', oneEcho, gate(61.4, 65), 'peak', []],
    ['a gate that begins on the rising flank, by crossing', oneEcho, gate(61.4, 65), 'crossing', ['cut-by-gate']],
    ['a gate over a shoulder of a higher echo outside', two(50, 0.3), gate(61.7, 65), 'peak', ['cut-by-gate']],
    ['a second echo 5 dB lower', two(45, 2), gate(60, 65), 'peak', ['ambiguous-echo']],
    ['a second echo 5 dB lower, before', two(45, -2), gate(58, 63), 'peak', ['ambiguous-echo']],
    ['a second echo 7 dB lower', two(35.7, 2), gate(60, 65), 'peak', []],
    ['a second echo 5 dB lower, outside the gate', two(45, 2), gate(60, 62.5), 'peak', []],
    ['two echoes of one height', two(80, 2), gate(60, 65), 'peak', ['ambiguous-echo']],
    ['an earlier echo 10 dB lower that crosses the threshold, by peak', two(25, -2), gate(58, 63), 'peak', []],
    [
      'an earlier echo 10 dB lower that crosses the threshold, by crossing',
      two(25, -2),
      gate(58, 63),
      'crossing',
      ['ambiguous-echo'],
    ],
    ['an earlier echo that stays below the threshold, by crossing', two(15, -2), gate(58, 63), 'crossing', []],
    [
      'a clipped echo',
      trace().burst({ timeUs: 61.5, amplitudePercent: 140 }).noise(0.1).clippedAt(100),
      gate(60, 63),
      'peak',
      ['saturated'],
    ],
  ])('%s', (_, words, given, timing, flags) => {
    expect(read(words, given, timing).flags).toEqual(flags);
  });

  it('says that an echo hardly above the noise cannot be told from it', () => {
    const faint = trace().burst({ timeUs: 61.5, amplitudePercent: 1.5 }).noise(1);
    expect(read(faint, gate(61.4, 61.6, 1)).flags).toContain('low-signal-to-noise');
  });

  it('by crossing gives no time where the flank lies before the gate, but still a height', () => {
    const reading = read(oneEcho, gate(61.4, 65), 'crossing');
    expect([reading.timeUs, reading.crossingUs]).toEqual([null, null]);
    expect(reading.amplitudePercent).toBeCloseTo(80, 0);
  });

  it('does not take the crossing of a later echo for that of the highest', () => {
    const reading = read(two(60, 3), gate(61.4, 66), 'crossing');
    expect(reading.timeUs).toBeNull();
    expect(reading.flags).toEqual(['cut-by-gate', 'ambiguous-echo']);
  });

  it.each<[string, TraceInWords]>([
    ['RF', oneEcho],
    ['full-wave rectified', oneEcho.rectified('full')],
    ['positive half wave', oneEcho.rectified('positive')],
    ['negative half wave', oneEcho.rectified('negative')],
    [
      'a narrow-band burst of many cycles',
      trace().burst({ timeUs: 61.5, amplitudePercent: 80, bandwidthPercent: 15 }).noise(0.1),
    ],
    ['eight bits', oneEcho.quantised(8)],
  ])('ripple of one echo is no second echo: %s', (_, words) => {
    expect(read(words, gate(58, 65)).flags).toEqual([]);
  });
});
