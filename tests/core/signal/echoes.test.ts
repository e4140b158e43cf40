import { describe, expect, it } from 'vitest';
import { doubtsAt, leastSignalToNoiseDb } from '../../../core/signal/echo-doubts.ts';
import { findEchoes } from '../../../core/signal/echoes.ts';
import { localMaxima } from '../../../core/signal/prominence.ts';
import { trace } from '../../build/trace.ts';

const all = { abovePercent: 5, fromUs: null, toUs: null };
const three = trace()
  .record(0, 8000)
  .burst({ timeUs: 20, amplitudePercent: 80 })
  .burst({ timeUs: 40.005, amplitudePercent: 40 })
  .burst({ timeUs: 60, amplitudePercent: 20 })
  .noise(0.3);

describe('no echoes', () => {
  it.each([
    { name: 'in silence', trace: trace().record(0, 2000) },
    { name: 'in noise, 1 %', trace: trace().record(0, 20_000).noise(1, 5) },
    { name: 'in noise, 3 %, however low the threshold', trace: trace().record(0, 20_000).noise(3, 6) },
    { name: 'in a record of eight samples', trace: trace().record(0, 8) },
  ])('$name', ({ trace: built }) => {
    expect(findEchoes(built.conditioned(), { ...all, abovePercent: 0.5 })).toEqual([]);
  });

  it('outside the record, or in a window that is reversed', () => {
    expect(findEchoes(three.conditioned(), { ...all, fromUs: 200, toUs: 300 })).toEqual([]);
    expect(findEchoes(three.conditioned(), { ...all, fromUs: 50, toUs: 10 })).toEqual([]);
  });
});

describe('echoes', () => {
  const echoes = findEchoes(three.conditioned(), all);

  it('come in order of time, with the times and heights of the bursts', () => {
    expect(echoes.map((echo) => Math.round(1000 * echo.timeUs) / 1000)).toEqual(
      [20, 40.005, 60].map((t) => expect.closeTo(t, 2)),
    );
    for (const [k, height] of [80, 40, 20].entries())
      expect(Math.abs(echoes[k].amplitudePercent - height)).toBeLessThan(0.8);
  });

  it('lie within four of their own uncertainties of the truth', () => {
    for (const [k, truth] of [20, 40.005, 60].entries()) {
      expect(Math.abs(echoes[k].timeUs - truth)).toBeLessThan(4 * (echoes[k].uTimeUs ?? 0));
    }
  });

  it('begin where the leading flank passes a fifth of the peak: σ·√(2·ln 5) before it (closed form)', () => {
    const sigma = 0.37478125 / (0.6 * 4);
    expect(echoes[0].onsetUs).toBeCloseTo(20 - sigma * Math.sqrt(2 * Math.log(5)), 2);
  });

  it('have the ratio of peak to root mean square of the noise: 48.5 dB for 80 to 0.3', () => {
    expect(Math.abs((echoes[0].signalToNoiseDb ?? 0) - 48.5)).toBeLessThan(0.6);
  });

  it('are limited to a window, both ends included', () => {
    const found = findEchoes(three.conditioned(), { ...all, fromUs: 39, toUs: 61 });
    expect(found.map((echo) => Math.round(echo.timeUs))).toEqual([40, 60]);
  });

  it('below the threshold do not count', () => {
    expect(findEchoes(three.conditioned(), { ...all, abovePercent: 30 })).toHaveLength(2);
  });

  it('have no onset of their own on the flank of another', () => {
    const close = trace()
      .record(0, 4000)
      .burst({ timeUs: 20, amplitudePercent: 80 })
      .burst({ timeUs: 20.4, amplitudePercent: 60, phaseDeg: 306 })
      .conditioned();
    const found = findEchoes(close, all);
    expect(found).toHaveLength(2);
    expect(found[0].onsetUs).not.toBeNull();
    expect(found[1].onsetUs).toBeNull();
  });

  it('of a clipped and ringing record carry their doubts', () => {
    const found = findEchoes(
      trace()
        .record(0, 4000)
        .mainBang({ amplitudePercent: 150, decayUs: 0.4 })
        .burst({ timeUs: 0.8, amplitudePercent: 40 })
        .burst({ timeUs: 20, amplitudePercent: 130 })
        .burst({ timeUs: 30, amplitudePercent: 60 })
        .noise(0.2)
        .quantised(12)
        .conditioned(),
      all,
    );
    const at = (timeUs: number) => found.find((echo) => Math.abs(echo.timeUs - timeUs) < 0.3)?.flags;
    expect(at(0.8)).toContain('in-dead-zone');
    expect(at(20)).toEqual(['saturated']);
    expect(at(30)).toEqual([]);
  });
});

describe('doubts at a peak', () => {
  const quiet = three.conditioned();
  const noise = quiet.noisePercent ?? 0;

  it.each([
    { name: 'six standard deviations are enough', factor: 6.001, flags: [] },
    { name: 'less is not', factor: 5.999, flags: ['low-signal-to-noise'] },
  ])('$name', ({ factor, flags }) => {
    expect(doubtsAt(quiet, { index: 5000, timeUs: 50, amplitudePercent: factor * noise })).toEqual(flags);
  });

  it('the limit is twice the noise’s peaks of three standard deviations, 15.56 dB', () => {
    expect(leastSignalToNoiseDb).toBeCloseTo(15.563, 3);
  });
});

describe('distinct peaks inside a range', () => {
  it('are told from ripple by their prominence, and by the range’s own saddles', () => {
    const { envelope } = three.conditioned();
    const timesIn = (first: number, last: number) =>
      localMaxima(envelope, { first, last }, 5, 5).map(({ index }) => Math.round(index / 100));
    expect(timesIn(1500, 4500)).toEqual([20, 40]);
    expect(timesIn(100, 90)).toEqual([]);
    expect(timesIn(2500, 3500)).toEqual([]);
  });
});
