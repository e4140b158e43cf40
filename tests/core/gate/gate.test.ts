import { describe, expect, it } from 'vitest';
import { type Gate, gateProblems, gateWindowUs } from '../../../core/gate/gate.ts';
import { calibrated } from '../../build/calibration.ts';

const inTime = (fromUs: number, toUs: number, thresholdPercent = 20, name = 'near'): Gate => ({
  name,
  span: { axis: 'time', fromUs, toUs },
  thresholdPercent,
});
const inPath = (fromMm: number, toMm: number, thresholdPercent = 20, name = 'weld'): Gate => ({
  name,
  span: { axis: 'path', fromMm, toMm },
  thresholdPercent,
});

describe('gateProblems', () => {
  it.each<[string, Gate[], string[]]>([
    ['no gates', [], []],
    ['a gate in time', [inTime(10, 20)], []],
    ['a gate in time that begins before the trigger', [inTime(-1, 20)], []],
    ['a gate in sound path from 0', [inPath(0, 20)], []],
    ['a threshold of 100 %', [inTime(10, 20, 100)], []],
    ['an empty gate', [inTime(10, 10)], ['gate-empty']],
    ['a reversed gate', [inTime(20, 10)], ['gate-reversed']],
    ['an end that is no number', [inTime(10, Number.NaN)], ['gate-not-a-number']],
    ['an endless gate', [inTime(10, Number.POSITIVE_INFINITY)], ['gate-not-a-number']],
    ['a negative sound path', [inPath(-5, 20)], ['gate-path-negative']],
    ['a threshold of 0', [inTime(10, 20, 0)], ['gate-threshold']],
    ['a threshold above the screen', [inTime(10, 20, 100.1)], ['gate-threshold']],
    ['a threshold that is no number', [inTime(10, 20, Number.NaN)], ['gate-threshold']],
    ['no name', [inTime(10, 20, 20, ' ')], ['gate-without-name']],
    ['the same name twice', [inTime(10, 20), inTime(30, 40)], ['gate-name-twice']],
    [
      'the same name thrice',
      [inTime(10, 20), inPath(30, 40, 20, 'near'), inTime(50, 60)],
      ['gate-name-twice', 'gate-name-twice'],
    ],
    ['several faults of one gate', [inPath(20, -5, 0)], ['gate-reversed', 'gate-path-negative', 'gate-threshold']],
  ])('%s', (_, gates, codes) => {
    const problems = gateProblems(gates, 'review.json');
    expect(problems.map((p) => p.code)).toEqual(codes);
    for (const p of problems) expect([p.place.file, p.sentence.startsWith('gate "')]).toEqual(['review.json', true]);
  });
});

describe('gateWindowUs', () => {
  it('leaves a gate in time as it is', () => {
    expect(gateWindowUs(inTime(10, 20), null)).toEqual({ fromUs: 10, toUs: 20 });
  });
  it('does not know where a gate in sound path stands without a calibration', () => {
    expect(gateWindowUs(inPath(10, 20), null)).toBeNull();
  });
  it('places a gate in sound path by zero offset and velocity: 16.2 and 32.4 mm at 3240 m/s after 7.3 µs', () => {
    const window = gateWindowUs(inPath(16.2, 32.4), calibrated(3240, 7.3))!;
    expect(window.fromUs).toBeCloseTo(17.3, 9);
    expect(window.toUs).toBeCloseTo(27.3, 9);
  });
});
