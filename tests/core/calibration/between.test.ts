import { describe, expect, it } from 'vitest';
import { between } from '../../../core/calibration/between.ts';
import { calibrated } from '../../build/calibration.ts';

describe('between: second less first', () => {
  const calibration = calibrated(3240, 7.3);
  const at = (timeUs: number, percent: number | null) => ({ timeUs, percent });
  it.each([
    ['without a calibration: no path', at(10, 80), at(30, 40), null, 20, null, -6.0206],
    ['20 µs at 3240 m/s there and back', at(10, 80), at(30, 40), calibration, 20, 32.4, -6.0206],
    ['backwards', at(30, 40), at(10, 80), calibration, -20, -32.4, 6.0206],
    ['one place', at(10, 80), at(10, 80), calibration, 0, 0, 0],
    ['a height unknown', at(10, null), at(30, 40), calibration, 20, 32.4, null],
    ['no height above the base line: no level', at(10, 80), at(30, 0), calibration, 20, 32.4, null],
  ])('%s', (_name, first, second, by, timeUs, pathMm, levelDb) => {
    const found = between(first, second, by);
    expect(found.timeUs).toBeCloseTo(timeUs, 9);
    if (pathMm === null) expect(found.pathMm).toBeNull();
    else expect(found.pathMm).toBeCloseTo(pathMm, 9);
    // 20 · log10(1/2) = −6.0206 dB (definition of the decibel for amplitudes).
    if (levelDb === null) expect(found.levelDb).toBeNull();
    else expect(found.levelDb).toBeCloseTo(levelDb, 4);
  });
});
