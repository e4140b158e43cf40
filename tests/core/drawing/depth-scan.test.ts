import { describe, expect, it } from 'vitest';
import { timeFromPath } from '../../../core/calibration/distance.ts';
import {
  type DepthCapture,
  type DepthScan,
  type DepthScanInput,
  depthScan,
  pictureAt,
  placeOfSample,
  raysOf,
} from '../../../core/drawing/depth-scan.ts';
import type { Placement } from '../../../core/review/part-decision.ts';
import { calibrated } from '../../build/calibration.ts';
import { partOf } from '../../build/part.ts';

const calibration = calibrated(3240, 7.3);

function captureAt(positionMm: number | null, given: Partial<DepthCapture> = {}): DepthCapture {
  const captureId = `scan.csv#${positionMm}`;
  return {
    captureId,
    file: 'scan.csv',
    positionMm,
    acrossMm: null,
    takenAt: null,
    probe: null,
    gainDb: null,
    startUs: 0,
    stepUs: 0.02,
    samples: 4000,
    ...given,
  };
}

const placement = (given: Partial<Placement> = {}): Placement => ({
  captures: ['scan.csv'],
  side: 'left',
  offsetMm: 26,
  uOffsetMm: 0.5,
  position: 'along',
  ...given,
});

const scan: DepthScanInput = {
  captures: [0, 5, 10].map((mm) => captureAt(mm)),
  calibration,
  part: partOf({ placements: [placement()] }),
  beam: null,
  uAngleDeg: null,
  paths: { fromMm: 20, toMm: 60 },
};

function drawable(given: Partial<DepthScanInput>): DepthScan {
  const outcome = depthScan({ ...scan, ...given });
  if (!outcome.ok) throw new Error(outcome.problems.map(({ sentence }) => sentence).join('; '));
  return outcome.value;
}

describe('what is missing is said, with where it is set, and nothing is drawn', () => {
  it.each([
    ['no captures', { captures: [] }, 'depth-without-captures', /Indications$/],
    ['no calibration', { calibration: null }, 'depth-without-calibration', /in Calibration$/],
    ['neither part nor beam', { part: null }, 'depth-without-angle', /in Part and probe$/],
    [
      'a beam without a plate',
      { part: null, beam: { angleDeg: 60, thicknessMm: null } },
      'depth-without-thickness',
      /in Part and probe$/,
    ],
    ['a beam along the surface', { part: null, beam: { angleDeg: 90, thicknessMm: 16 } }, 'angle-out-of-range', /90°/],
    [
      'a plate of nothing',
      { part: partOf({ shape: { kind: 'plate', thicknessMm: 0, uThicknessMm: 0 } }) },
      'thickness-not-positive',
      /more than 0 mm$/,
    ],
    ['no positions', { captures: [captureAt(null)] }, 'no-position', /position along the scan/],
    [
      'two probes',
      { captures: [captureAt(0, { probe: 'one' }), captureAt(1, { probe: 'two' })] },
      'mixed-probes',
      /2 probes/,
    ],
    [
      'a block whose steps name no capture',
      {
        part: partOf({
          shape: { kind: 'step-block', steps: [{ captures: ['other.csv'], thicknessMm: 10, uThicknessMm: 0 }] },
        }),
      },
      'depth-without-step',
      /3 captures/,
    ],
  ] as const)('%s', (_, given, code, sentence) => {
    const outcome = depthScan({ ...scan, ...(given as Partial<DepthScanInput>) });
    expect(outcome.ok).toBe(false);
    if (outcome.ok) return;
    expect(outcome.problems.map((one) => one.code)).toContain(code);
    expect(outcome.problems.find((one) => one.code === code)!.sentence).toMatch(sentence);
  });

  it('what stands twice at a position is left out and told; the rest is drawn', () => {
    const captures = [...scan.captures, captureAt(5, { captureId: 'again.csv', file: 'again.csv' })];
    const { members, problems } = drawable({ captures });
    expect(members.map(({ capture }) => capture.positionMm)).toEqual([0, 10]);
    expect(problems.map(({ code }) => code)).toEqual(['position-twice']);
  });
});

describe('a scan along the weld', () => {
  it('each position stands for half-way to its neighbours, the whole for the range', () => {
    const { members, ranges, stepMm, isAlongWeld, across } = drawable({});
    expect(members.map(({ station }) => [station.from, station.to])).toEqual([
      [-2.5, 2.5],
      [2.5, 7.5],
      [7.5, 12.5],
    ]);
    expect(ranges.position).toEqual({ fromMm: -2.5, toMm: 12.5 });
    expect(stepMm).toBe(5);
    expect(isAlongWeld).toBe(true);
    expect(across).toEqual(['position', 'reflecting-point']);
  });

  it('60 mm at 60°: the reflecting point runs from 26 mm on the left to 25.96 mm on the right (60 · sin 60° − 26)', () => {
    const { ranges, legs } = drawable({});
    expect(ranges['reflecting-point'].fromMm).toBeCloseTo(-26.5, 9);
    expect(ranges['reflecting-point'].toMm).toBeCloseTo(60 * Math.sin(Math.PI / 3) - 26 + 0.5, 6);
    expect(legs).toEqual([1, 2]);
  });

  it('without a part the beam of the readings serves, and only the position can run across', () => {
    const { across, thicknessMm, isAlongWeld } = drawable({ part: null, beam: { angleDeg: 60, thicknessMm: 16 } });
    expect(across).toEqual(['position']);
    expect(thicknessMm).toBe(16);
    expect(isAlongWeld).toBe(false);
  });
});

describe('a scan away from the weld', () => {
  const away = drawable({
    part: partOf({ placements: [placement({ position: 'away', offsetMm: 10 })] }),
    captures: [10, 11, 12].map((mm) => captureAt(mm)),
  });

  it('the reflecting point comes first, each index point by its own offset', () => {
    expect(away.across).toEqual(['reflecting-point', 'position']);
    expect(away.isAlongWeld).toBe(false);
    expect(away.members.map(({ index }) => [index!.at, index!.from, index!.to, index!.towards])).toEqual([
      [-20, -20.5, -19.5, 1],
      [-21, -21.5, -20.5, 1],
      [-22, -22.5, -21.5, 1],
    ]);
    expect(pictureAt(away.members[0]!, 'reflecting-point')).toEqual({
      kind: 'reflecting',
      indexAtMm: -20,
      towards: 1,
      beforeMm: 0.5,
      behindMm: 0.5,
    });
  });

  it('from the right the beam goes to the left', () => {
    const [member] = drawable({ part: partOf({ placements: [placement({ side: 'right' })] }) }).members;
    expect(member!.index).toMatchObject({ at: 26, towards: -1 });
  });

  it('of captures that nobody placed only the position is known, and it is said of how many', () => {
    const { remarks, members } = drawable({
      captures: [...scan.captures, captureAt(20, { captureId: 'other.csv', file: 'other.csv' })],
    });
    expect(members[3]!.index).toBeNull();
    expect(pictureAt(members[3]!, 'reflecting-point')).toBeNull();
    expect(remarks.join()).toMatch(/Of 1 capture it is not known where the probe stood/);
  });
});

describe('heights at one gain', () => {
  it('the lowest: what was taken with 6.02 dB more counts half', () => {
    const { gainDb, members } = drawable({
      captures: [captureAt(0, { gainDb: 40 }), captureAt(5, { gainDb: 40 + 20 * Math.log10(2) })],
    });
    expect(gainDb).toBe(40);
    expect(members.map(({ factor }) => factor)).toEqual([1, expect.closeTo(0.5, 9)]);
  });

  it('none is taken out where only some state it, and it is said', () => {
    const { gainDb, members, remarks } = drawable({ captures: [captureAt(0, { gainDb: 40 }), captureAt(5)] });
    expect(gainDb).toBeNull();
    expect(members.map(({ factor }) => factor)).toEqual([1, 1]);
    expect(remarks.join()).toMatch(/Only some captures state their gain/);
  });
});

describe('the place of a sample', () => {
  it('C45-like, 60 mm at 60° in 25 mm: leg 2, 20.0000 mm deep, 51.9615 mm along; with uncertainty', () => {
    const part = partOf({ shape: { kind: 'plate', thicknessMm: 25, uThicknessMm: 0.1 }, placements: [placement()] });
    const stepUs = timeFromPath(calibration, 60) / 100;
    const one = drawable({ part, captures: [captureAt(0, { stepUs, samples: 200 })] });
    const { place, pathMm } = placeOfSample(one.members[0]!, 100, one)!;
    expect(pathMm).toBeCloseTo(60, 9);
    expect(place.leg).toBe(2);
    expect(place.depthMm.value).toBeCloseTo(20, 4);
    expect(place.acrossMm!.value).toBeCloseTo(51.9615 - 26, 4);
    // u² = (sin 60° · 60 · u(angle))² + (2 · u(T))² and the calibration's small share (GUM 5.1.2).
    const expected = Math.hypot((60 * Math.sin(Math.PI / 3) * 0.5 * Math.PI) / 180, 0.2);
    expect(place.depthMm.standardUncertainty).toBeCloseTo(expected, 2);
  });

  it('before the sound entered there is none', () => {
    const one = drawable({});
    expect(placeOfSample(one.members[0]!, 0, one)).toBeNull();
  });

  it('the picture’s own ray has every sample where the location has it', () => {
    const one = drawable({});
    const ray = raysOf(one)(one.members[0]!);
    for (const i of [0, 100, ray.leg.length - 1]) {
      const { place } = placeOfSample(one.members[0]!, ray.firstSample + i, one)!;
      expect(ray.depthMm[i]).toBeCloseTo(place.depthMm.value, 9);
      expect(ray.alongMm[i]).toBeCloseTo(place.surfaceDistanceMm.value, 9);
      expect(ray.leg[i]).toBe(place.leg);
    }
  });
});
