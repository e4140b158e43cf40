import { describe, expect, it } from 'vitest';
import { type WalkingPoint, walkingPoints } from '../../../core/gate/walking.ts';
import { normal } from '../../build/random.ts';
import { soundings } from '../../build/series.ts';

/** 0.2 mm of sound path at 3240 m/s. */
const leastUs = 0.2 / 1.62;

function points(timesUs: number[], uTimeUs: number | null, at = timesUs.map((_, i) => i)): WalkingPoint[] {
  return timesUs.map((timeUs, i) => ({ at: at[i], timeUs, uTimeUs }));
}

/** Which points walk, as a picture: `w` walks, `.` does not. */
function picture(given: WalkingPoint[]): string {
  return walkingPoints(given, leastUs)
    .map((walks) => (walks ? 'w' : '.'))
    .join('');
}

const ramp = (count: number, stepUs: number) => Array.from({ length: count }, (_, i) => 40 + i * stepUs);

describe('walkingPoints: nothing walks', () => {
  it.each<[string, WalkingPoint[], string]>([
    ['no points', [], ''],
    ['one point', points([40], 0.002), '.'],
    ['three points that move', points(ramp(3, 1), 0.002), '...'],
    ['a constant path', points(ramp(8, 0), 0.002), '........'],
    ['a constant path without uncertainty', points(ramp(8, 0), null), '........'],
    ['less than 0.2 mm in all', points(ramp(8, 0.015), 0), '........'],
    ['less than 4 expanded uncertainties in all', points(ramp(4, 0.1), 0.04), '....'],
    ['one jump', points([40, 40, 40, 40, 42, 42, 42, 42], 0.002), '........'],
    ['one stray reading', points([40, 40, 40, 45, 40, 40, 40, 40], 0.002), '........'],
    ['to and fro', points([40, 41, 40, 41, 40, 41, 40, 41], 0.002), '........'],
    ['many readings at one position', points(ramp(8, 0.5), 0.002, Array(8).fill(3)), '........'],
  ])('%s', (_, given, expected) => {
    expect(picture(given)).toBe(expected);
  });
});

describe('walkingPoints', () => {
  it.each<[string, WalkingPoint[], string]>([
    ['four points that move steadily', points(ramp(4, 0.2), 0.002), 'wwww'],
    ['earlier and earlier', points(ramp(6, -0.2), 0.002), 'wwwwww'],
    ['steadily, uncertainty unknown', points(ramp(6, 0.2), null), 'wwwwww'],
    ['at uneven positions', points([40, 40.1, 40.5, 40.6, 41], 0.002, [0, 1, 5, 6, 10]), 'wwwww'],
    [
      'each position read twice, by ± 5 ns',
      points([40, 40.01, 40.2, 40.21, 40.4, 40.41, 40.6, 40.61], 0.005, [0, 0, 1, 1, 2, 2, 3, 3]),
      'wwwwwwww',
    ],
    [
      'still, then walking: the last still ones and the first within 0.2 mm do not',
      points([40, 40, 40, 40, 40, 40.2, 40.4, 40.6, 40.8], 0.002),
      '.....wwww',
    ],
  ])('%s', (_, given, expected) => {
    expect(picture(given)).toBe(expected);
  });

  it('finds a slow walk that only a long window shows: 5 ns a step under 10 ns of noise', () => {
    const random = normal(3);
    const walks = walkingPoints(
      points(
        ramp(100, 0.005).map((t) => t + 0.01 * random()),
        0.01,
      ),
      leastUs,
    );
    expect(walks.filter(Boolean).length).toBeGreaterThan(80);
  });
});

describe('walkingPoints over a side-drilled hole: the path falls, then rises; the few at the vertex stand still', () => {
  const at = Array.from({ length: 31 }, (_, i) => i - 15);
  const hyperbola = soundings({ positionsMm: at, holeAtMm: 0, depthMm: 40 }).map((s) => s.timeUs);

  it.each<[number, number]>([
    [0, 0],
    [0.002, 1],
    [0.005, 2],
  ])('depth 40 mm, step 1 mm, noise of time %d µs', (noiseUs, seed) => {
    const random = normal(seed);
    const walks = walkingPoints(
      points(
        hyperbola.map((t) => t + noiseUs * random()),
        noiseUs,
        at,
      ),
      leastUs,
    );
    for (const i of [-15, -12, -9, 9, 12, 15]) expect([i, walks[i + 15]]).toEqual([i, true]);
    for (const i of [-2, -1, 0, 1, 2]) expect([i, walks[i + 15]]).toEqual([i, false]);
  });
});

describe('walkingPoints: false alarms on noise alone, measured over 2,000 seeded series of 4 to 40 captures', () => {
  const rate = (noiseUs: number, statedUs: number | null) => {
    let alarms = 0;
    for (let seed = 1; seed <= 2000; seed++) {
      const random = normal(seed);
      const times = Array.from({ length: 4 + (seed % 37) }, () => 40 + noiseUs * random());
      if (walkingPoints(points(times, statedUs), leastUs).some(Boolean)) alarms++;
    }
    return alarms / 2000;
  };

  it.each<[string, number, number | null, number]>([
    ['10 ns, stated', 0.01, 0.01, 0],
    ['0.2 mm, stated', 0.12, 0.12, 0],
    ['2 mm, stated', 1.2, 1.2, 0],
    ['0.2 mm, a fifth of it stated', 0.12, 0.024, 0.01],
    ['2 mm, a tenth of it stated', 1.2, 0.12, 0.01],
    ['2 mm, uncertainty unknown', 1.2, null, 0.01],
  ])('noise of %s', (_, noiseUs, statedUs, most) => {
    const measured = rate(noiseUs, statedUs);
    expect(measured).toBeLessThanOrEqual(most);
  });
});
