import { describe, expect, it } from 'vitest';
import { type SectionLook, sectionDrawing, weldDrawing } from '../../../core/drawing/section-drawing.ts';
import { locateInPart } from '../../../core/part/locate-in-part.ts';
import { sectionOf } from '../../../core/part/section.ts';
import { weldOutline } from '../../../core/part/weld-preparation.ts';
import type { PartDecision } from '../../../core/review/part-decision.ts';

const shape = { kind: 'plate', thicknessMm: 16, uThicknessMm: 0.1 } as const;
const preparation = { rootGapMm: 2, rootFaceMm: 1, bevelDeg: 30, capHeightMm: 1, capOverlapMm: 1, rootBeadMm: 1 };
const part: PartDecision = {
  shape,
  weld: { outline: weldOutline(preparation, 16), toleranceMm: 0.5 },
  features: [],
  placements: [],
  probe: {
    angleDeg: 60,
    uAngleDeg: 0.5,
    mode: 'transverse',
    indexToFrontMm: 12,
    uIndexMm: 0.5,
    wedgeVelocityMPerS: null,
    elementMm: 9,
    frequencyMHz: 4,
    velocityMPerS: 3240,
  },
  checks: null,
  damping: [],
  confirmed: [],
};
const fromLeft = { side: 'left', offsetMm: 26, uOffsetMm: 0.5 } as const;
const beam = {
  angleDeg: { value: 60, standardUncertainty: 0.5 },
  sectionWith: (mm: number) => sectionOf(shape, mm),
  thicknessMm: { value: 16, standardUncertainty: 0.1 },
  indexToFrontMm: 12,
  uIndexMm: 0.5,
};
const look: SectionLook = { capture: null, probe: fromLeft, toPathMm: 30, edges: null, velocityMPerS: 3240 };
const markAt = (id: string, pathMm: number, probe: typeof fromLeft | null) => ({
  id,
  place: locateInPart({ value: pathMm, standardUncertainty: 0.1 }, beam, probe),
});

describe('the drawing of a section', () => {
  it('counts across from the weld’s middle, and has the beam end where the echo lies', () => {
    const drawn = sectionDrawing(part, look, [markAt('root', 30, fromLeft)], [])!;
    expect(drawn.origin).toBe('weld-middle');
    // 30 mm at 60°: 25.98 mm along and 15 mm deep, 26 mm before the middle.
    expect(drawn.marks[0]!.at.xMm).toBeCloseTo(30 * Math.sin(Math.PI / 3) - 26, 9);
    expect(drawn.marks[0]!.at.yMm).toBeCloseTo(15, 9);
    expect(drawn.beam!.axis.at(-1)!.xMm).toBeCloseTo(drawn.marks[0]!.at.xMm, 9);
    expect(drawn.probe).toMatchObject({ index: { xMm: -26, yMm: 0 }, front: { xMm: -14, yMm: 0 }, towards: 1 });
    expect(drawn.marks[0]!.ellipse).not.toBeNull();
  });

  it('without the probe’s place counts from the index point, and draws no weld', () => {
    const drawn = sectionDrawing(part, { ...look, probe: null }, [markAt('root', 30, null)], [])!;
    expect(drawn.origin).toBe('index-point');
    expect(drawn.weld).toBeNull();
    expect(drawn.probe!.index).toEqual({ xMm: 0, yMm: 0 });
    expect(drawn.marks[0]!.at.xMm).toBeCloseTo(30 * Math.sin(Math.PI / 3), 9);
  });

  it('leaves out, and counts, marks that have no place from the weld', () => {
    const drawn = sectionDrawing(part, look, [markAt('placed', 30, fromLeft), markAt('loose', 20, null)], [])!;
    expect(drawn.marks.map(({ id }) => id)).toEqual(['placed']);
    expect(drawn.notDrawn).toBe(1);
  });

  it('holds all that is looked at, and lets the plate go on beyond it', () => {
    const { whole, close, weld, scannedSurface } = sectionDrawing(part, look, [markAt('root', 30, fromLeft)], [])!;
    expect(scannedSurface[0]!.xMm).toBeLessThan(10 * whole.from.xMm);
    for (const { xMm, yMm } of weld!) {
      expect(xMm > close!.from.xMm && xMm < close!.to.xMm).toBe(true);
      expect(yMm >= whole.from.yMm && yMm <= whole.to.yMm).toBe(true);
    }
    expect(whole.from.xMm).toBeLessThan(-26);
  });

  it.each([
    ['an angle beyond the critical one', { ...part, probe: { ...part.probe, angleDeg: 70, wedgeVelocityMPerS: 3500 } }],
    ['a thickness of nought', { ...part, shape: { ...shape, thicknessMm: 0 } }],
    ['a weld of two points', { ...part, weld: { ...part.weld!, outline: part.weld!.outline.slice(0, 2) } }],
  ])('is none with %s', (_, broken) => {
    expect(sectionDrawing(broken, look, [], [])).toBeNull();
  });

  it('goes no farther than once round a pipe', () => {
    const pipe: PartDecision = {
      ...part,
      weld: null,
      shape: { kind: 'pipe', outsideRadiusMm: 30, thicknessMm: 3, uThicknessMm: 0, from: 'outside' },
      probe: { ...part.probe, angleDeg: 45 },
    };
    const drawn = sectionDrawing(pipe, { ...look, probe: null, toPathMm: 200 }, [], [])!;
    const first = drawn.scannedSurface[0]!;
    const last = drawn.scannedSurface.at(-1)!;
    expect(Math.hypot(last.xMm, last.yMm - 30)).toBeCloseTo(30, 6);
    expect(first.xMm).toBeLessThan(0);
  });
});

describe('the drawing of a weld by itself', () => {
  it('has its corners in the order told, and shows an outline that crosses itself', () => {
    const crossing = [
      { acrossMm: -4, depthMm: 0 },
      { acrossMm: 4, depthMm: 0 },
      { acrossMm: -4, depthMm: 16 },
      { acrossMm: 4, depthMm: 16 },
    ];
    const drawn = weldDrawing(part, crossing)!;
    expect(drawn.corners).toEqual(crossing.map(({ acrossMm, depthMm }) => ({ xMm: acrossMm, yMm: depthMm })));
    expect(drawn.whole.from.xMm).toBeLessThan(-4);
  });

  it('is none in a plate of no thickness', () => {
    expect(weldDrawing({ shape: { ...shape, thicknessMm: 0 } }, [])).toBeNull();
  });
});
