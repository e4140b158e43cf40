import { describe, expect, it } from 'vitest';
import { windowAbout } from '../../../core/calibration/window-about.ts';
import { readGate } from '../../../core/gate/reading.ts';
import { type Echo, findEchoes } from '../../../core/signal/echoes.ts';
import { trace } from '../../build/trace.ts';

const echo = (timeUs: number, onsetUs: number | null): Echo => ({
  timeUs,
  uTimeUs: null,
  onsetUs,
  flank: null,
  amplitudePercent: 80,
  prominencePercent: 80,
  signalToNoiseDb: null,
  flags: [],
  from: { first: 0, last: 0 },
});

describe('windowAbout', () => {
  it.each([
    ['alone: a flank before the onset, three after the peak', [echo(61.5, 61.2)], 0, 60.9, 62.4],
    ['no onset known', [echo(61.5, null)], 0, 60.5, 63],
    ['an onset after its peak is none', [echo(61.5, 62)], 0, 60.5, 63],
    ['a close echo before: half the way to it', [echo(61.1, 60.8), echo(61.5, 61.2)], 1, 61.3, 62.4],
    ['a close echo after: half the way to it', [echo(61.5, 61.2), echo(62, 61.8)], 0, 60.9, 61.75],
  ])('%s', (_name, echoes, chosen, fromUs, toUs) => {
    const found = windowAbout(echoes, chosen);
    expect(found.fromUs).toBeCloseTo(fromUs, 9);
    expect(found.toUs).toBeCloseTo(toUs, 9);
  });

  it('read in its window, the echo is found again without a doubt', () => {
    const conditioned = trace()
      .burst({ timeUs: 40, amplitudePercent: 60 })
      .burst({ timeUs: 43, amplitudePercent: 70 })
      .noise(0.1)
      .conditioned();
    const echoes = findEchoes(conditioned, { abovePercent: 20, fromUs: null, toUs: null });
    expect(echoes).toHaveLength(2);
    echoes.forEach((found, i) => {
      const span = { axis: 'time', ...windowAbout(echoes, i) } as const;
      const read = readGate(
        'built.csv',
        conditioned,
        { name: 'window', span, thresholdPercent: 20 },
        'peak',
        null,
        null,
      );
      expect(read.peakUs).toBeCloseTo(found.timeUs, 9);
      expect(read.flags).toEqual([]);
    });
  });
});
