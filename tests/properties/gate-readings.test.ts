import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Flag } from '../../core/flag.ts';
import type { Gate } from '../../core/gate/gate.ts';
import { judgeSeries } from '../../core/gate/off-peak.ts';
import { readGate } from '../../core/gate/reading.ts';
import type { Trace } from '../../core/signal/conditioning.ts';
import { calibrated } from '../build/calibration.ts';
import { seriesOfReadings, seriesOfTraces, soundings } from '../build/series.ts';
import { trace } from '../build/trace.ts';

const gate: Gate = { name: 'echo', span: { axis: 'time', fromUs: 20, toUs: 40 }, thresholdPercent: 10 };
const moved = (by: number): Gate => ({ ...gate, span: { axis: 'time', fromUs: 20 + by, toUs: 40 + by } });
const read = (given: Trace, at = gate) => readGate('built.csv', given, at, 'peak', null, null);
const echo = (timeUs: number, amplitudePercent: number) =>
  trace().record(0, 8000).burst({ timeUs, amplitudePercent }).noise(0.2);

describe('a gate reading', () => {
  it('shifts with the record and the gate, by exactly as much', () => {
    const base = echo(30, 60).conditioned();
    fc.assert(
      fc.property(fc.integer({ min: -1000, max: 1000 }), (steps) => {
        const by = steps * base.stepUs;
        const before = read(base);
        const after = read({ ...base, startUs: base.startUs + by }, moved(by));
        expect(after.timeUs!.value - before.timeUs!.value).toBeCloseTo(by, 9);
        expect([after.amplitudePercent, after.flags, after.from]).toEqual([
          before.amplitudePercent,
          before.flags,
          before.from,
        ]);
      }),
    );
  });

  it('finds the echo wherever it stands between the samples, within 5 of its stated standard uncertainties', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 25, max: 35, noNaN: true }),
        fc.double({ min: 20, max: 95, noNaN: true }),
        (timeUs, amplitude) => {
          const reading = read(echo(timeUs, amplitude).conditioned());
          expect(Math.abs(reading.timeUs!.value - timeUs)).toBeLessThan(5 * reading.timeUs!.standardUncertainty!);
          expect(Math.abs(reading.amplitudePercent! - amplitude)).toBeLessThan(1.5);
          expect(reading.flags).toEqual([]);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('scales: with all heights and the threshold k times as high, height k times, time and flags the same', () => {
    const base = echo(30, 60).conditioned();
    fc.assert(
      fc.property(fc.double({ min: 0.2, max: 1.5, noNaN: true }), (k) => {
        const scaled = { ...base, envelope: base.envelope.map((e) => k * e), noisePercent: k * base.noisePercent! };
        const [before, after] = [read(base), read(scaled, { ...gate, thresholdPercent: k * gate.thresholdPercent })];
        expect(after.amplitudePercent! / before.amplitudePercent!).toBeCloseTo(k, 9);
        expect(after.timeUs!.value).toBeCloseTo(before.timeUs!.value, 9);
        expect(after.flags).toEqual(before.flags);
      }),
    );
  });

  it('in sound path is the reading in time of the same window, and lies where the calibration says', () => {
    const base = echo(30, 60).conditioned();
    fc.assert(
      fc.property(
        fc.double({ min: 2500, max: 6500, noNaN: true }),
        fc.double({ min: 0, max: 15, noNaN: true }),
        (velocity, zeroOffset) => {
          const calibration = calibrated(velocity, zeroOffset);
          const toMm = (us: number) => ((us - zeroOffset) * velocity) / 2000;
          const inPath: Gate = { ...gate, span: { axis: 'path', fromMm: toMm(20), toMm: toMm(40) } };
          const byTime = readGate('built.csv', base, gate, 'peak', calibration, null);
          const byPath = readGate('built.csv', base, inPath, 'peak', calibration, null);
          expect(byPath.timeUs!.value).toBe(byTime.timeUs!.value);
          expect(byPath.soundPathMm!.value).toBeCloseTo(toMm(byPath.timeUs!.value), 9);
        },
      ),
    );
  });
});

describe('a series', () => {
  const positionsMm = Array.from({ length: 13 }, (_, i) => 2 * i);
  const hole = { positionsMm, holeAtMm: 12.6, depthMm: 30 };

  it('of waveforms, read and judged, gives the peak that was built: 80 % over the hole, off-peak beyond 1 dB', () => {
    const readings = seriesOfTraces(hole).map((words) => {
      const capture = words.noise(0.1).capture();
      const given: Gate = { name: 'hole', span: { axis: 'time', fromUs: 22, toUs: 32 }, thresholdPercent: 1 };
      return {
        reading: readGate(capture.id, words.noise(0.1).conditioned(), given, 'peak', calibrated(3240, 7.3), null),
        ...capture,
      };
    });
    const { members, peak } = judgeSeries(readings, { offPeakDb: 1 });
    expect(peak!.method).toBe('parabola');
    expect(peak!.positionMm).toBeCloseTo(12.6, 1);
    expect(20 * Math.log10(peak!.amplitudePercent / 80)).toBeCloseTo(0, 1);
    const truth = soundings(hole).map((s) => ({ ...s, belowDb: 20 * Math.log10(80 / s.amplitudePercent) }));
    const where = (wanted: (s: (typeof truth)[number]) => boolean) => truth.filter(wanted).map((s) => s.positionMm);
    const flagged = (flag: Flag) => members.flatMap((m, i) => (m.flags.includes(flag) ? [positionsMm[i]] : []));
    expect(flagged('no-echo')).toEqual(where((s) => s.amplitudePercent < 1));
    expect(flagged('off-peak')).toEqual(where((s) => s.amplitudePercent >= 1 && s.belowDb > 1));
    expect(flagged('off-peak')).toEqual([6, 8, 10, 14, 16, 18, 20]);
  });

  it('does not depend on the order given', () => {
    const series = seriesOfReadings(hole, { timeUs: 0.002, levelDb: 0.1, seed: 4 });
    const judged = judgeSeries(series, { offPeakDb: 1 });
    fc.assert(
      fc.property(
        fc.shuffledSubarray(
          series.map((_, i) => i),
          { minLength: series.length },
        ),
        (order) => {
          const { members, peak, doubts } = judgeSeries(
            order.map((i) => series[i]),
            { offPeakDb: 1 },
          );
          expect(peak!.positionMm).toBeCloseTo(judged.peak!.positionMm!, 9);
          expect(doubts).toEqual(judged.doubts);
          for (const [place, i] of order.entries()) expect(members[place].flags).toEqual(judged.members[i].flags);
        },
      ),
    );
  });

  it('does not depend on the gain each capture was taken at', () => {
    const series = seriesOfReadings({ ...hole, gainDb: 40 }, { timeUs: 0.002, levelDb: 0.1, seed: 4 });
    const judged = judgeSeries(series, { offPeakDb: 1 });
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -12, max: 12, noNaN: true }), { minLength: series.length, maxLength: series.length }),
        (steps) => {
          const regained = series.map((m, i) => ({
            ...m,
            gainDb: 40 + steps[i],
            reading: { ...m.reading, amplitudePercent: m.reading.amplitudePercent! * 10 ** (steps[i] / 20) },
          }));
          const { members } = judgeSeries(regained, { offPeakDb: 1 });
          for (const [i, m] of members.entries()) expect(m.belowPeakDb).toBeCloseTo(judged.members[i].belowPeakDb!, 9);
        },
      ),
    );
  });

  it('never puts a peak outside the scanned positions, whatever the heights', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(fc.double({ min: 0, max: 100, noNaN: true }), fc.double({ min: 0.1, max: 100, noNaN: true })),
          { minLength: 2, maxLength: 20 },
        ),
        (points) => {
          const series = seriesOfReadings({ ...hole, positionsMm: points.map(([x]) => x) }).map((m, i) => ({
            ...m,
            reading: { ...m.reading, amplitudePercent: points[i][1] },
          }));
          const { peak, members } = judgeSeries(series, { offPeakDb: 1 });
          const positions = points.map(([x]) => x);
          expect(peak!.positionMm!).toBeGreaterThanOrEqual(Math.min(...positions));
          expect(peak!.positionMm!).toBeLessThanOrEqual(Math.max(...positions));
          for (const m of members) expect(Number.isFinite(m.belowPeakDb)).toBe(true);
        },
      ),
      { numRuns: 500 },
    );
  });
});
