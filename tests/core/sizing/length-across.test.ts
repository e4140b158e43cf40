import { describe, expect, it } from 'vitest';
import type { StationReading } from '../../../core/scan/echo-dynamic.ts';
import type { SizingBy } from '../../../core/sizing/length.ts';
import { lengthAcross, type OverLines } from '../../../core/sizing/length-across.ts';
import { nearestOfReflector, readingOf, shareOnReflector } from '../../build/echo-dynamic.ts';

const sigmaMm = 3;
/** Full width of the beam at a part of its height: 2σ·√(2·ln(1/part)). */
const widthAt = (part: number) => 2 * sigmaMm * Math.sqrt(2 * Math.log(1 / part));
const reflector = { along: { fromMm: 20, toMm: 60 }, across: { fromMm: 10, toMm: 34 } };

/** A raster over a rectangle: each height the product of both profiles, as of a beam that is a Gaussian both ways. */
function raster(
  acrossMm: readonly number[],
  shape: typeof shareOnReflector,
  ownFrom: number,
  { stepMm = 2 } = {},
): Pick<OverLines, 'shown' | 'beside' | 'own' | 'lines' | 'linesShown'> {
  const all = acrossMm.map((across) => {
    const readings: StationReading[] = [];
    for (let mm = 0; mm <= 80; mm += stepMm) {
      const share = shape(mm, reflector.along, sigmaMm) * shape(across, reflector.across, sigmaMm);
      const captureId = `${across}/${mm}`;
      const amplitudePercent = Math.max(80 * share, 1e-12);
      readings.push({
        station: { captureId, positionMm: mm, acrossMm: across },
        reading: readingOf(captureId, { amplitudePercent, signalToNoiseDb: 60 }),
        gainDb: 40,
      });
    }
    return readings;
  });
  const isShown = (line: StationReading[]) => line.some(({ reading }) => reading.amplitudePercent! >= ownFrom);
  const shown = all.filter(isShown);
  return {
    shown: shown.flat(),
    beside: all.filter((line) => !isShown(line)).flat(),
    own: shown.flat().flatMap(({ reading }) => (reading.amplitudePercent! >= ownFrom ? [reading.captureId] : [])),
    lines: all.length,
    linesShown: shown.length,
  };
}

const by = (kind: 'drop-6-db' | 'drop-20-db', beamWidthMm: number | null = null): SizingBy => ({
  sizing: { kind },
  beamWidthMm,
  uBeamWidthMm: 0,
  uPositionMm: 0,
  curveDbAt: () => null,
});
const every = (stepMm: number) => Array.from({ length: Math.round(44 / stepMm) + 1 }, (_, i) => i * stepMm);
const size = (over: Partial<OverLines> & ReturnType<typeof raster>, settings: SizingBy) =>
  lengthAcross({ nextLineMm: null, angleDeg: 0, ...over }, settings, 1);

describe('a rectangle under a Gaussian beam gives back its length across (closed form)', () => {
  it.each([0.25, 1, 2])('6 dB drop, lines %d mm apart: half of the beam on it at either end', (stepMm) => {
    const { lengthMm, low, high, atLeast } = size(raster(every(stepMm), shareOnReflector, 16), by('drop-6-db'));
    const u = Math.max(0.02, 2 * lengthMm!.standardUncertainty!);
    expect(Math.abs(lengthMm!.value - 24)).toBeLessThanOrEqual(u);
    expect(low!.positionMm.value).toBeCloseTo(10, 0);
    expect(high!.positionMm.value).toBeCloseTo(34, 0);
    expect(atLeast).toBe(false);
  });

  it('20 dB drop: the beam’s width at a tenth taken off', () => {
    const over = raster(every(0.25), nearestOfReflector, 30);
    const { lengthMm, takenOffMm } = size(over, by('drop-20-db', widthAt(0.1)));
    expect(takenOffMm!.value).toBeCloseTo(12.8758, 4);
    expect(lengthMm!.value).toBeCloseTo(24, 1);
  });

  it('of a beam at 60° the width counts twice: the probe moves by width / cos 60° past it', () => {
    const over = { ...raster(every(0.25), nearestOfReflector, 30), angleDeg: 60 };
    expect(size(over, by('drop-20-db', widthAt(0.1) / 2)).takenOffMm!.value).toBeCloseTo(12.8758, 4);
  });

  it('without the angle no width is taken off, and it is said', () => {
    const over = { ...raster(every(0.25), nearestOfReflector, 30), angleDeg: null };
    const { takenOffMm, remarks } = size(over, by('drop-20-db', widthAt(0.1)));
    expect(takenOffMm).toBeNull();
    expect(remarks.join()).toMatch(/beam’s width is not known and was not taken off/);
  });

  it('a raster that ends on the reflector: at least so long', () => {
    const lines = every(1).filter((mm) => mm >= 20);
    const result = size(raster(lines, shareOnReflector, 16), by('drop-6-db'));
    expect(result.atLeast).toBe(true);
    expect(result.flags).toContain('beyond-scan');
    expect(result.low!.state).toBe('beyond-scan');
  });
});

describe('why there is none', () => {
  it.each([
    ['one line', { lines: 1, linesShown: 1 }, /has one line/],
    [
      'on one line of several',
      { lines: 3, linesShown: 1, nextLineMm: 23.5 },
      /on one line of the raster alone \(the next is 23\.5 mm away\)/,
    ],
  ])('%s', (_, told, sentence) => {
    const result = size({ ...raster([20], shareOnReflector, 16), ...told }, by('drop-6-db'));
    expect(result.lengthMm).toBeNull();
    expect(result.withoutLength).toMatch(sentence);
  });
});
