import { describe, expect, it } from 'vitest';
import { blockByName } from '../../../core/block/block-by-name.ts';
import { matchSeries } from '../../../core/block/match-series.ts';
import type { BlockSeries } from '../../../core/block/reference-block.ts';
import type { Flag } from '../../../core/flag.ts';
import type { Echo } from '../../../core/signal/echoes.ts';

function echo(timeUs: number, amplitudePercent: number, flags: readonly Flag[] = []): Echo {
  return {
    timeUs,
    uTimeUs: 0.002,
    onsetUs: timeUs - 0.3,
    flank: null,
    amplitudePercent,
    prominencePercent: amplitudePercent,
    signalToNoiseDb: 30,
    flags,
    from: { first: 0, last: 1 },
  };
}

function block(name: string): BlockSeries {
  const found = blockByName(name);
  if (found === null) throw new Error(`no block ${name}`);
  return found;
}

/** Echoes at distances in mm of a probe with this velocity and zero offset: the first 80 % high, each next one half as high. */
function series(distancesMm: readonly number[], velocityMPerS: number, zeroOffsetUs: number): Echo[] {
  return distancesMm.map((d, i) => echo(zeroOffsetUs + (2000 * d) / velocityMPerS, 80 / 2 ** i));
}

const inTime = (echoes: readonly Echo[]) => [...echoes].sort((a, b) => a.timeUs - b.timeUs);

function matchedDistances(echoes: readonly Echo[], name: string) {
  const { matches } = matchSeries(echoes, block(name));
  return matches.map((m) => [m.distanceMm, m.echo]);
}

describe('matchSeries of too little', () => {
  it('no echo at all matches nothing, and says so', () => {
    const match = matchSeries([], block('iso-7963/25'));
    expect(match).toMatchObject({ matches: [], unmatched: [] });
    expect(match.doubts.map((d) => d.flag)).toEqual(['ambiguous-assignment']);
  });

  it('one echo alone may be any of the series, and that is said', () => {
    const { doubts } = matchSeries(series([50], 5920, 0.3), block('iso-2400/thickness'));
    expect(doubts[0].flag).toBe('ambiguous-assignment');
    expect(doubts[0].sentence).toContain('and as well as');
  });

  it('one echo of a block that gives one only is that one', () => {
    expect(matchSeries(series([100], 3241, 7), block('iso-2400/quadrant-plain'))).toEqual({
      matches: [{ distanceMm: 100, echo: 0 }],
      unmatched: [],
      doubts: [],
    });
  });

  it('echoes of another material fit nothing within a tenth of the velocity', () => {
    const match = matchSeries(series([100, 225, 350], 2600, 0.5), block('iso-2400/quadrant-return-25'));
    expect(match.matches.length).toBeLessThan(2);
    expect(match.doubts.map((d) => d.flag)).toEqual(['ambiguous-assignment']);
    expect(match.doubts[0].sentence).toContain('no two of the 3 echoes');
  });

  it('echoes in the main bang’s ringing are never matched', () => {
    const match = matchSeries(
      [echo(7 + 15.4, 100, ['in-dead-zone']), ...series([100, 175], 3241, 7)],
      block('iso-7963/25'),
    );
    expect(match.matches.map((m) => m.distanceMm)).toEqual([100, 175]);
    expect(match.unmatched).toEqual([{ echo: 0, name: 'main bang' }]);
  });
});

describe('matchSeries finds all that are present', () => {
  it.each([
    { name: 'iso-2400/quadrant-slot', present: [100, 200, 300], velocity: 3241, offset: 7.31 },
    { name: 'iso-2400/quadrant-return-25', present: [100, 225, 350], velocity: 3241, offset: 7.31 },
    { name: 'iso-2400/thickness', present: [25, 50, 75, 100], velocity: 5925, offset: 0.3 },
    { name: 'iso-2400/steps', present: [85, 91, 100], velocity: 5925, offset: 0.3 },
    { name: 'iso-7963/25', present: [25, 100, 175], velocity: 3230, offset: 5.1 },
    { name: 'iso-7963/50', present: [50, 125, 200], velocity: 3270, offset: 12 },
    { name: 'two-radius-1in-3in/1in', present: [25.4, 127, 228.6], velocity: 3240, offset: 6 },
    { name: 'two-radius-1in-3in/3in', present: [76.2, 177.8], velocity: 3240, offset: 6 },
    { name: 'two-radius-1in-2in/2in', present: [50.8, 127], velocity: 3240, offset: 6 },
    { name: 'inch-quadrant/4in-return-1in', present: [101.6, 228.6, 355.6], velocity: 3240, offset: 9 },
    { name: 'plate/12.5mm', present: [12.5, 25, 37.5, 50], velocity: 5930, offset: 0.2 },
    { name: 'plate/40mm/aluminium', present: [40, 80, 120], velocity: 6415, offset: 0.454 },
    { name: 'distances/30mm,55mm,95mm/transverse', present: [30, 55, 95], velocity: 3225, offset: 3 },
  ])('$name: $present', ({ name, present, velocity, offset }) => {
    const match = matchSeries(series(present, velocity, offset), block(name));
    expect(match.matches.map((m) => m.distanceMm)).toEqual(present.map((d) => expect.closeTo(d, 9)));
    expect(match.matches.map((m) => m.echo)).toEqual(present.map((_, i) => i));
    expect(match.unmatched).toEqual([]);
    expect(match.doubts).toEqual([]);
  });

  it.each([0.905, 0.95, 1.05, 1.095])('with a velocity of %d times nominal', (factor) => {
    expect(matchedDistances(series([100, 225, 350], 3255 * factor, 7), 'iso-2400/quadrant-return-25')).toEqual([
      [100, 0],
      [225, 1],
      [350, 2],
    ]);
  });

  it.each([0, 4, 10, 20, 35])('with a zero offset of %d µs', (offset) => {
    expect(matchedDistances(series([100, 225, 350], 3241, offset), 'iso-2400/quadrant-return-25')).toEqual([
      [100, 0],
      [225, 1],
      [350, 2],
    ]);
  });
});

describe('matchSeries with an echo missing keeps the numbering', () => {
  it.each([
    { name: 'iso-7963/25', present: [100, 175, 250] },
    { name: 'iso-7963/25', present: [25, 175, 250] },
    { name: 'iso-2400/quadrant-return-25', present: [100, 350] },
    { name: 'iso-2400/quadrant-return-25', present: [225, 350] },
    { name: 'iso-2400/quadrant-slot', present: [200, 300] },
    { name: 'two-radius-1in-3in/1in', present: [25.4, 228.6] },
  ])('$name: $present', ({ name, present }) => {
    expect(matchedDistances(series(present, 3241, 7.31), name)).toEqual(
      present.map((d, i) => [expect.closeTo(d, 9), i]),
    );
  });

  it('through a thickness, where a delay line could explain the shift, both readings are told', () => {
    const late = matchSeries(series([50, 75, 100], 5920, 0.3), block('iso-2400/thickness'));
    expect(late.doubts.map((d) => d.flag)).toEqual(['ambiguous-assignment']);
    expect(late.doubts[0].sentence).toContain('25, 50, 75 mm with a zero offset of 8.75 µs');
    expect(late.doubts[0].sentence).toContain('50, 75, 100 mm with a zero offset of 0.3 µs');
  });
});

describe('matchSeries leaves out, by name', () => {
  const good = series([100, 225], 3241, 7.31);

  it.each([
    {
      what: 'a slot’s echo just ahead of the quadrant',
      extra: echo(66.1, 12),
      name: 'slot or saw cut just ahead of 100 mm',
    },
    { what: 'an echo inside the wedge', extra: echo(4.2, 35), name: 'wedge echo' },
    {
      what: 'an echo of the return radius',
      extra: echo(7.31 + (2000 * 150) / 3241, 8),
      name: 'the other radius, 150 mm',
    },
    { what: 'an echo of nothing known', extra: echo(110, 9), name: null },
  ])('$what', ({ extra, name }) => {
    const echoes = inTime([...good, extra]);
    const match = matchSeries(echoes, block('iso-2400/quadrant-return-25'));
    expect(match.matches.map((m) => [m.distanceMm, echoes[m.echo]])).toEqual([
      [100, good[0]],
      [225, good[1]],
    ]);
    expect(match.unmatched.map((u) => [echoes[u.echo], u.name])).toEqual([[extra, name]]);
    expect(match.doubts).toEqual([]);
  });

  it('the further echoes of one step, where a capture shows one step only', () => {
    const match = matchSeries(series([10, 20, 30], 5930, 0.3), block('steps/10mm,15mm,25mm'));
    expect(match.matches).toEqual([{ distanceMm: 10, echo: 0 }]);
    expect(match.unmatched).toEqual([
      { echo: 1, name: 'second echo of the 10 mm step, 20 mm' },
      { echo: 2, name: 'third echo of the 10 mm step, 30 mm' },
    ]);
  });
});

describe('matchSeries is not satisfied with the lesser echoes', () => {
  it('the highest echo belongs to nothing known: that is said', () => {
    const echoes = inTime([...series([100, 225], 3241, 7.31), echo(95, 99)]);
    const match = matchSeries(echoes, block('iso-2400/quadrant-return-25'));
    expect(match.matches.map((m) => m.distanceMm)).toEqual([100, 225]);
    expect(match.doubts.map((d) => d.sentence).join()).toContain(
      'the highest echo (95 µs, 99 %) belongs to nothing known',
    );
  });

  it('a wedge’s echo may well be the highest', () => {
    const echoes = inTime([...series([100, 225], 3241, 7.31), echo(4, 99)]);
    expect(matchSeries(echoes, block('iso-2400/quadrant-return-25')).doubts).toEqual([]);
  });

  it.each([
    { truth: [100, 225, 350], taken: 'iso-2400/quadrant-slot' },
    { truth: [100, 200, 300], taken: 'iso-2400/quadrant-return-25' },
    { truth: [101.6, 228.6, 355.6], taken: 'two-radius-1in-3in/1in' },
  ])('echoes of $truth mm taken for $taken', ({ truth, taken }) => {
    const match = matchSeries(series(truth, 3241, 7.31), block(taken));
    expect(match.doubts.map((d) => d.flag)).toContain('ambiguous-assignment');
  });
});

describe('matchSeries of the other radius', () => {
  it('faced at 50 and taken for 25 matches with the right velocity, and doubts the zero offset', () => {
    const match = matchSeries(series([50, 125, 200], 3255, 7), block('iso-7963/25'));
    expect(match.matches.map((m) => m.distanceMm)).toEqual([25, 100, 175]);
    expect(match.doubts.map((d) => d.flag)).toContain('zero-offset-implausible');
    expect(match.doubts.map((d) => d.sentence).join()).toContain(
      'with the other radius faced (50 mm) it would be 7 µs',
    );
  });

  it('faced at 25 and taken for 50 matches nothing, and names the direction', () => {
    const match = matchSeries(series([25, 100, 175], 3255, 7), block('iso-7963/50'));
    expect(match.matches).toEqual([]);
    expect(match.unmatched.map((u) => u.name)).toEqual([
      'the other radius, 25 mm',
      'the other radius, 100 mm',
      'the other radius, 175 mm',
    ]);
    expect(match.doubts.map((d) => d.flag)).toEqual(['zero-offset-implausible']);
  });

  it('faced rightly raises no doubt with any ordinary wedge', () => {
    for (const offset of [0, 2, 5, 9, 14.9]) {
      expect(matchSeries(series([25, 100, 175], 3255, offset), block('iso-7963/25')).doubts).toEqual([]);
      expect(matchSeries(series([50, 125, 200], 3255, offset), block('iso-7963/50')).doubts).toEqual([]);
    }
  });
});
