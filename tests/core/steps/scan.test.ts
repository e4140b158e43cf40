import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Evaluation } from '../../../core/evaluate.ts';
import { evaluate } from '../../../core/evaluate.ts';
import { evaluateFiles } from '../../../core/evidence/evaluate-files.ts';
import { openReview } from '../../../core/review/open-review.ts';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import type { ScanDecision } from '../../../core/review/scan-decision.ts';
import { filesBeside } from '../../../electron/cli/review-files.ts';
import { shareOnReflector } from '../../build/echo-dynamic.ts';
import { calibrationGiven, curveDecision, holeCapture, sensitivityOf, timeAtMm } from '../../build/sensitivity.ts';
import { trace } from '../../build/trace.ts';

const folder = new URL('../../../sample-data/', import.meta.url).pathname;
const sample = openedSample();
const truth = JSON.parse(readFileSync(`${folder}truth.json`, 'utf8')).plate_weld;

/** By the schema, which fills what the saved review does not tell. */
function openedSample(): Review {
  const outcome = openReview('review.json', readFileSync(`${folder}review.json`, 'utf8'));
  if (!outcome.ok) throw new Error(outcome.problems.map(({ sentence }) => sentence).join('; '));
  return outcome.value;
}

function evaluated(review: Review): Evaluation {
  const outcome = evaluateFiles(review, filesBeside(`${folder}review.json`));
  if (!outcome.ok) throw new Error(outcome.problems.map(({ sentence }) => sentence).join('; '));
  return outcome.value.evaluation;
}
/** The sample without what only makes it slow here. */
const weldAlone: Review = { ...sample, drift: null, readings: sample.readings };
const withScan = (told: Partial<ScanDecision>): Review => ({ ...weldAlone, scan: { ...sample.scan!, ...told } });
const whole = evaluated(weldAlone).scan!;
const called = (name: string, scan = whole) => scan.indications.find((indication) => indication.name === name)!;
const target = (name: string) =>
  truth.passes
    .flatMap((pass: { targets: { name: string }[] }) => pass.targets)
    .find((one: { name: string }) => one.name === name);

describe('the sample’s weld against what was put into it', () => {
  it('holds its four indications and no proposal beside them', () => {
    expect(whole.problems).toEqual([]);
    expect(whole.indications.map(({ name }) => name)).toEqual(['root', 'side wall', 'porosity cluster', 'cap edge']);
    expect(whole.lines.map(({ acrossMm, stations }) => [acrossMm, stations.length])).toEqual([
      [26, 41],
      [49.5, 41],
    ]);
  });

  it.each([
    ['root', 'root, lack of penetration'],
    ['side wall', 'lack of side-wall fusion'],
  ])('%s: length, ends, path and depth within ± 2 u', (name, put) => {
    const { length, soundPathMm, depthMm, leg } = called(name);
    const was = target(put);
    const within = (known: { value: number; standardUncertainty: number | null } | null, value: number) =>
      expect(Math.abs(known!.value - value)).toBeLessThanOrEqual(2 * known!.standardUncertainty!);
    within(length.lengthMm, was.to_mm - was.from_mm);
    within(length.low!.positionMm, was.from_mm);
    within(length.high!.positionMm, was.to_mm);
    within(soundPathMm, was.sound_path_mm);
    within(depthMm, was.depth_mm);
    expect(leg).toBe(was.leg);
  });

  it('each has the picture of the trace in which it stands highest, its crest where its echo was read', () => {
    for (const { peak, picture } of whole.indications) {
      const { fromUs, toUs, highPercent } = picture!;
      const part = Math.floor(((peak!.reading.peakUs! - fromUs) / (toUs - fromUs)) * highPercent.length);
      // A crest of the carrier stands under the envelope’s, by as much as half its period away.
      const crest = Math.max(...highPercent.slice(part - 2, part + 3));
      expect(crest).toBeGreaterThan(0.9 * peak!.amplitudePercent! - 2);
      expect(crest).toBeLessThan(peak!.amplitudePercent! + 2);
    }
  });

  it('the wet finger on the cap: the cap’s edge falls by what was put in, the side wall stays', () => {
    const [test] = evaluated({ ...weldAlone, scan: null }).location!.damping;
    const [sideWall, capEdge] = test.echoes;
    expect(test.echoes).toHaveLength(2);
    expect([sideWall.outcome, capEdge.outcome]).toEqual(['unchanged', 'changed']);
    const { coupling_change_db, cap_edge_change_db } = truth.damping;
    for (const [echo, put] of [
      [sideWall, coupling_change_db],
      [capEdge, cap_edge_change_db],
    ] as const)
      expect(Math.abs(echo.changeDb!.value - put)).toBeLessThanOrEqual(2 * echo.changeDb!.standardUncertainty!);
  });

  it('the porosity cluster spans its pores, beam and all', () => {
    const { low, high } = called('porosity cluster').length;
    expect(low!.positionMm.value).toBeLessThan(24);
    expect(high!.positionMm.value).toBeGreaterThan(35);
  });

  it('the cap’s edge lies where its echo is expected, and reaches beyond the scan at both ends', () => {
    const cap = called('cap edge');
    expect(cap).toMatchObject({ taken: 'geometry', length: { atLeast: true } });
    expect(cap.flags).toContain('geometry-expected');
    expect(cap.flags).toContain('beyond-scan');
  });

  it('level above the stated reference and rating: 66 % and its noise at 50 dB against 80 % at 46 dB, 30 mm (derived)', () => {
    const { amplitude, rating, peak } = called('root');
    const levelDb = 20 * Math.log10(peak!.amplitudePercent! / 80) - 4;
    expect(amplitude.held!.levelDb!.value).toBeCloseTo(levelDb, 9);
    expect(amplitude.takenOutDb).toBe(4);
    expect(rating!.factor.factorDb).toBe(0);
    expect(rating!.ratingDb.value).toBeCloseTo(-levelDb, 9);
  });

  it('without a reference there is no rating, with the reason', () => {
    const { indications } = evaluated(withScan({ reference: null })).scan!;
    for (const { rating, withoutRating, flags } of indications) {
      expect(rating).toBeNull();
      expect(withoutRating).toMatch(/only a distance calibration/);
      expect(flags).toContain('unreferenced');
    }
  });

  it('nothing decided: the same regions are proposed, three of the pores apart', () => {
    const { indications } = evaluated(withScan({ indications: [] })).scan!;
    expect(indications.every(({ decided, taken }) => !decided && taken === null)).toBe(true);
    expect(indications.map(({ name }) => name)).toEqual([
      'at 70 mm and 49.5 mm across, path 68 mm',
      'at 30 mm and 49.5 mm across, path 59 mm',
      'at 30 mm and 49.5 mm across, path 56 mm',
      'at 35 mm and 49.5 mm across, path 55 mm',
      'at 80 mm and 26 mm across, path 30 mm',
      'at 135 mm and 49.5 mm across, path 50 mm',
    ]);
  });
});

describe('what cannot be used is told at its place, and no number is drawn from it', () => {
  const problemsOf = (told: Partial<ScanDecision>, review = withScan(told)) => evaluated(review).scan!;
  it.each([
    { name: 'a window that ends before it begins', told: { fromMm: 60, toMm: 20 }, code: 'scan-window-reversed' },
    { name: 'a window of no width', told: { fromMm: 60, toMm: 60 }, code: 'scan-window-reversed' },
    { name: 'a negative path', told: { fromMm: -5 }, code: 'scan-path-negative' },
    { name: 'a window past the recorded range', told: { fromMm: 400, toMm: 500 }, code: 'scan-outside-record' },
    {
      name: 'a level on a curve that is not there',
      told: { level: { kind: 'curve' as const, db: -14 } },
      code: 'level-without-curve',
    },
    {
      name: 'a name twice',
      told: { indications: [sample.scan!.indications[0], sample.scan!.indications[0]] },
      code: 'indication-twice',
    },
    {
      name: 'an indication whose window is reversed',
      told: { indications: [{ ...sample.scan!.indications[0], fromMm: 40, toMm: 30 }] },
      code: 'indication-window',
    },
  ])('$name', ({ told, code }) => {
    const scan = problemsOf(told);
    expect(scan.indications).toEqual([]);
    expect(scan.problems.map((p) => p.code)).toEqual([code]);
    expect(scan.problems[0].sentence.length).toBeGreaterThan(40);
  });

  it('a window that is recorded in part: said so, and what lies inside is told', () => {
    const scan = problemsOf({ fromMm: 20, toMm: 500, indications: [] });
    expect(scan.problems.map(({ code }) => code)).toEqual(['scan-partly-outside-record']);
    expect(scan.indications.length).toBeGreaterThan(0);
  });

  it('an indication of captures that are not scanned', () => {
    const scan = problemsOf({ indications: [{ ...sample.scan!.indications[0], captures: ['elsewhere.csv'] }] });
    expect(scan.problems.map(({ code }) => code)).toEqual(['indication-without-captures']);
    expect(scan.indications.some(({ decided }) => decided)).toBe(false);
  });

  it('both passes without their places across: positions repeat', () => {
    const sources = sample.sources.map((source) => ({ ...source }));
    const scan = evaluated({ ...withScan({ indications: [] }), sources, manifests: [] }).scan!;
    expect(scan.problems.map(({ code }) => code)).toEqual(['no-position']);
    expect(scan.indications).toEqual([]);
  });

  it('no calibration', () => {
    const review: Review = { ...emptyReview, scan: { ...sample.scan!, captures: ['built.csv'] } };
    const { scan, problems } = evaluate(review, [trace().at(0).capture()]);
    expect(scan!.indications).toEqual([]);
    expect(problems.map(({ code }) => code)).toContain('scan-without-calibration');
  });

  it('mixed probes', () => {
    const facts = (probe: string) => [
      {
        trace: null,
        gainDb: null,
        positionMm: null,
        acrossMm: null,
        takenAt: null,
        probe,
        instrument: null,
        block: null,
        temperatureC: null,
      },
    ];
    const sources = sample.sources.map((source) =>
      source.file.endsWith('second-leg.csv') ? { ...source, facts: facts('another') } : source,
    );
    const scan = evaluated({ ...weldAlone, sources }).scan!;
    expect(scan.problems.map(({ code }) => code)).toContain('mixed-probes');
    expect(scan.indications).toEqual([]);
  });
});

describe('half of a distance-amplitude curve', () => {
  it('without one there is no length, and why', () => {
    const { indications } = evaluated(withScan({ sizing: { kind: 'half-of-curve' } })).scan!;
    for (const { length } of indications) {
      expect(length.lengthMm).toBeNull();
      expect(length.withoutLength).toMatch(/no distance-amplitude curve/);
    }
  });

  const holes = [30, 60, 90];
  const sigmaMm = 3;
  /** A point reflector at 50 mm of path and 20 mm along the scan, so many dB above what a hole would give there; the curve lies at 80 % from 20 mm on at 40 dB. */
  function scanOver(aboveHoleDb: number, gainDb: number, told: Partial<ScanDecision> = {}) {
    const atHole = -30 * Math.log10(50 / 20) - 0.02 * 30;
    const captures = Array.from({ length: 41 }, (_, positionMm) => {
      const aside = (positionMm - 20) / sigmaMm;
      const amplitudePercent = 80 * 10 ** ((atHole + aboveHoleDb + gainDb - 40) / 20) * Math.exp(-0.5 * aside * aside);
      const named = `scan-${positionMm}.csv`;
      return trace()
        .record(0, 6000)
        .burst({ timeUs: timeAtMm(50), amplitudePercent })
        .noise(0.05, 100 + positionMm)
        .at(positionMm)
        .gain(gainDb)
        .named(named)
        .capture();
    });
    const review: Review = {
      ...emptyReview,
      calibration: calibrationGiven,
      sensitivity: sensitivityOf(curveDecision(holes, { levels: { kind: 'published', name: 'iso-11666-level-2' } })),
      scan: {
        ...sample.scan!,
        captures: captures.map(({ id }) => id),
        fromMm: 40,
        toMm: 60,
        level: { kind: 'curve', db: -12 },
        sizing: { kind: 'half-of-curve' },
        reference: null,
        rating: null,
        indications: [],
        ...told,
      },
    };
    return evaluate(review, [...captures, ...holes.map((mm) => holeCapture(mm))]).scan!;
  }
  /** Between its points the curve is straight in dB over distance, and stands above the law that the holes follow. */
  const lineAboveLawDb = (() => {
    const law = (mm: number) => -30 * Math.log10(mm / 20) - 0.02 * (mm - 20);
    return law(30) + (20 / 30) * (law(60) - law(30)) - law(50);
  })();

  it.each([
    { aboveHoleDb: 6, gainDb: 40 },
    { aboveHoleDb: 0, gainDb: 40 },
    { aboveHoleDb: 0, gainDb: 46 },
    { aboveHoleDb: -3, gainDb: 44 },
  ])(
    '$aboveHoleDb dB above a hole at $gainDb dB: dB to the curve, and the width of a Gaussian beam to half of it (closed form)',
    ({ aboveHoleDb, gainDb }) => {
      const { indications, problems } = scanOver(aboveHoleDb, gainDb);
      expect(problems).toEqual([]);
      expect(indications).toHaveLength(1);
      const [{ toCurve, length }] = indications;
      const toCurveDb = aboveHoleDb - lineAboveLawDb;
      expect(toCurve!.held!.toCurveDb!.value).toBeCloseTo(toCurveDb, 1);
      // exp(−x²/2σ²) falls by the dB over half of the curve: x = σ · √(dB · ln 10 / 10).
      const half = sigmaMm * Math.sqrt(((toCurveDb + 20 * Math.log10(2)) * Math.LN10) / 10);
      expect(Math.abs(length.lengthMm!.value - 2 * half)).toBeLessThanOrEqual(
        2 * length.lengthMm!.standardUncertainty! + 0.05,
      );
    },
  );

  it('levels in dB to the curve are held with their uncertainty; the level decides what is proposed', () => {
    const above = scanOver(-10, 46).indications[0];
    expect(above.toCurve!.held!.levels).toMatchObject([{ name: 'evaluation level', db: -14, outcome: 'above' }]);
    expect(scanOver(-16, 46).indications).toEqual([]);
  });

  it('more gain for all captures changes neither level nor length (gain shift invariance)', () => {
    const [plain, louder] = [scanOver(0, 36), scanOver(0, 44)].map(({ indications }) => indications[0]);
    expect(louder.toCurve!.held!.toCurveDb!.value).toBeCloseTo(plain.toCurve!.held!.toCurveDb!.value, 1);
    expect(louder.length.lengthMm!.value).toBeCloseTo(plain.length.lengthMm!.value, 1);
    expect(louder.name).toBe(plain.name);
  });
});

describe('a raster over a reflector of 20 × 24 mm, whose path grows as the probe moves across', () => {
  const sigmaMm = 3;
  const share = (positionMm: number, acrossMm: number) =>
    shareOnReflector(positionMm, { fromMm: 14, toMm: 34 }, sigmaMm) *
    shareOnReflector(acrossMm, { fromMm: 10, toMm: 34 }, sigmaMm);
  const places = Array.from({ length: 12 }, (_, l) => 4 * l).flatMap((acrossMm) =>
    Array.from({ length: 13 }, (_, i) => ({ acrossMm, positionMm: 4 * i })),
  );

  function scanned(pathPerMm: number, isDecided: boolean) {
    const captures = places.map(({ acrossMm, positionMm }) => ({
      ...trace()
        .record(0, 3000)
        .burst({
          timeUs: timeAtMm(40 + pathPerMm * (acrossMm - 20)),
          amplitudePercent: 80 * share(positionMm, acrossMm),
        })
        .noise(0.1, 1 + acrossMm * 50 + positionMm)
        .at(positionMm)
        .gain(40)
        .named(`line-${acrossMm}/at-${positionMm}.csv`)
        .capture(),
      acrossMm,
    }));
    const high = captures.filter((_, i) => 80 * share(places[i]!.positionMm, places[i]!.acrossMm) >= 16);
    const one = { name: 'plate', captures: high.map(({ id }) => id), fromMm: 24, toMm: 62, taken: null, notes: '' };
    const review: Review = {
      ...emptyReview,
      calibration: calibrationGiven,
      scan: {
        ...sample.scan!,
        captures: captures.map(({ id }) => id),
        fromMm: 20,
        toMm: 70,
        level: { kind: 'screen', percent: 16 },
        sizing: { kind: 'drop-6-db' },
        beamWidthMm: null,
        uPositionMm: 0,
        reference: null,
        rating: null,
        indications: isDecided ? [one] : [],
      },
    };
    return evaluate(review, captures).scan!;
  }

  it.each([
    { name: 'slowly: one proposal', pathPerMm: 0.15, isDecided: false },
    { name: 'faster than the echo is long: as a person has put it together', pathPerMm: 0.8, isDecided: true },
  ])('$name, with its length in both directions within ± 2 u', ({ pathPerMm, isDecided }) => {
    const { problems, indications } = scanned(pathPerMm, isDecided);
    expect(problems).toEqual([]);
    expect(indications).toHaveLength(1);
    const [{ length, lengthAcross, along, across }] = indications;
    const within = (known: { value: number; standardUncertainty: number | null }, value: number) =>
      expect(Math.abs(known.value - value)).toBeLessThanOrEqual(2 * known.standardUncertainty!);
    within(length.lengthMm!, 20);
    within(lengthAcross.lengthMm!, 24);
    expect(lengthAcross.atLeast).toBe(false);
    // Heights along, and those shown across, are of the lines that show it alone.
    expect(along.points).toHaveLength(13);
    expect(across!.every(({ acrossMm }) => acrossMm! >= 8 && acrossMm! <= 36)).toBe(true);
  });
});
