import { describe, expect, it } from 'vitest';
import { halfAngleDeg, spreadConstants } from '../../core/part/beam.ts';
import { curved, thickestWallMet } from '../../core/part/curved.ts';
import { flat } from '../../core/part/flat.ts';
import { locateInPart } from '../../core/part/locate-in-part.ts';
import { criticalAngles, refract } from '../../core/part/refraction.ts';
import { sectionOf } from '../../core/part/section.ts';
import { skips } from '../../core/part/skips.ts';
import { expectedAngle } from '../../core/probe-check/expected-angle.ts';
import { indexPoint } from '../../core/probe-check/index-point.ts';
import { frontToEndFor, iso2400Holes, refractedAngle } from '../../core/probe-check/refracted-angle.ts';

const q = (value: number) => ({ value, standardUncertainty: 0 });
const [hole70, hole30] = iso2400Holes;

describe('index point and angle on block No. 1 of ISO 2400', () => {
  it('84 mm on the radius of 100 mm puts the index point 16 mm behind the front (worked example of a training page, read second-hand)', () => {
    expect(indexPoint(100, q(84)).value).toBe(16);
  });

  it.each([
    {
      name: '70 mm face',
      hole: hole70,
      angle: 45.80693,
      source: 'the same page’s example, a 91 mm and X 16 mm (read second-hand: 45.8°)',
    },
    { name: '30 mm face', hole: hole30, angle: 67.38014, source: 'the same geometry, derived' },
  ])('a 91 mm, X 16 mm, $name: $angle° ($source)', ({ hole, angle }) => {
    expect(refractedAngle(hole!, q(91), q(16))!.value).toBeCloseTo(angle, 5);
  });

  it.each([
    { deg: 45, hole: hole70, mm: 105.0, path: 73.995 },
    { deg: 60, hole: hole70, mm: 156.244, path: 115.0 },
    { deg: 60, hole: hole30, mm: 86.962, path: 35.0 },
    { deg: 70, hole: hole30, mm: 117.424, path: 62.714 },
  ])(
    'the index point stands $mm mm from the end for $deg°, $path mm from the hole’s wall (derived)',
    ({ deg, hole, mm, path }) => {
      expect(frontToEndFor(deg, hole!, 0)).toBeCloseTo(mm, 3);
      expect(hole!.depthMm / Math.cos((deg * Math.PI) / 180) - 25).toBeCloseTo(path, 3);
    },
  );
});

describe('skips of a plate of 25 mm (plane geometry, derived; the same relations on a public teaching page whose definitions were read)', () => {
  it.each([
    { deg: 45, half: 25.0, skip: 50.0, leg: 35.355, v: 70.711 },
    { deg: 60, half: 43.3013, skip: 86.603, leg: 50.0, v: 100.0 },
    { deg: 70, half: 68.687, skip: 137.374, leg: 73.095, v: 146.19 },
  ])('$deg°: half skip $half, skip $skip, leg $leg, V-path $v', ({ deg, half, skip, leg, v }) => {
    const made = skips(deg, flat(25))!;
    expect(made.halfSkipMm).toBeCloseTo(half, 3);
    expect(made.skipMm).toBeCloseTo(skip, 3);
    expect(made.legMm).toBeCloseTo(leg, 3);
    expect(made.vPathMm).toBeCloseTo(v, 3);
  });
});

describe('places in a plate (derived)', () => {
  it.each([
    { s: 25, deg: 45, t: 20, surface: 17.678, leg: 1, depth: 17.678 },
    { s: 50, deg: 45, t: 20, surface: 35.355, leg: 2, depth: 4.645 },
    { s: 60, deg: 60, t: 25, surface: 51.9615, leg: 2, depth: 20.0 },
    { s: 80, deg: 70, t: 15, surface: 75.1754, leg: 2, depth: 2.6384 },
    { s: 65, deg: 70, t: 12, surface: 61.08, leg: 2, depth: 1.769 },
    { s: 50, deg: 60, t: 25, surface: 43.3013, leg: 1, depth: 25 },
    // 3.0, 0.75, 2.8191 and 0.4739 in
    { s: 76.2, deg: 70, t: 19.05, surface: 71.605, leg: 2, depth: 12.037 },
  ])('path $s mm at $deg° in $t mm: surface $surface, leg $leg, depth $depth', ({ s, deg, t, surface, leg, depth }) => {
    const place = locateInPart(
      q(s),
      {
        angleDeg: q(deg),
        sectionWith: flat,
        thicknessMm: q(t),
        indexToFrontMm: null,
        uIndexMm: 0,
      },
      null,
    );
    expect(place.leg).toBe(leg);
    expect(place.surfaceDistanceMm.value).toBeCloseTo(surface, 2);
    expect(place.depthMm.value).toBeCloseTo(depth, 2);
  });
});

describe('Snell’s law and critical angles (derived; velocities of the wedges from memory, of block steel 5920 and 3255 m/s from memory)', () => {
  const rows = [
    { wedge: 2730, incidence: [36.374, 46.581, 52.011], first: 27.461, second: 57.004 },
    { wedge: 2680, incidence: [35.605, 45.483, 50.687], first: 26.917, second: 55.421 },
    { wedge: 2670, incidence: [35.452, 45.266, 50.426], first: 26.809, second: 55.112 },
    { wedge: 2337, incidence: [30.51, 38.446, 42.429], first: 23.251, second: 45.887 },
  ];
  it.each(rows)('wedge of $wedge m/s: incidence for 45/60/70° $incidence, critical $first and $second', (row) => {
    [45, 60, 70].forEach((deg, i) => {
      const made = refract(q(deg), 3255, row.wedge);
      expect(made).toMatchObject({ angleDeg: { value: expect.closeTo(row.incidence[i]!, 3) } });
      const back = refract(made.kind === 'refracted' ? made.angleDeg : q(Number.NaN), row.wedge, 3255);
      expect(back).toMatchObject({ angleDeg: { value: expect.closeTo(deg, 9) } });
    });
    const critical = criticalAngles(row.wedge, 5920, 3255);
    expect(critical.firstDeg).toBeCloseTo(row.first, 3);
    expect(critical.secondDeg).toBeCloseTo(row.second, 3);
  });

  it.each([
    { deg: 45, inAluminium: 42.84 },
    { deg: 60, inAluminium: 56.384 },
    { deg: 70, inAluminium: 64.636 },
  ])('a probe of $deg° in steel (3255) has $inAluminium° in aluminium (3130)', ({ deg, inAluminium }) => {
    expect(expectedAngle(q(deg), 3255, 3130, null)).toMatchObject({
      angleDeg: { value: expect.closeTo(inAluminium, 3) },
    });
  });

  it('from water (1483): 19° gives 45.609° transverse, 10° gives 43.883° longitudinal; critical at 14.508° and 27.104°', () => {
    expect(refract(q(19), 1483, 3255)).toMatchObject({ angleDeg: { value: expect.closeTo(45.609, 3) } });
    expect(refract(q(10), 1483, 5920)).toMatchObject({ angleDeg: { value: expect.closeTo(43.883, 3) } });
    const { firstDeg, secondDeg } = criticalAngles(1483, 5920, 3255);
    expect([firstDeg, secondDeg]).toEqual([expect.closeTo(14.508, 3), expect.closeTo(27.104, 3)]);
    expect(refract(q(19), 1483, 5920).kind).toBe('none');
  });

  it('1 % of velocity at 70° is 1.574° to first order', () => {
    const h = 1e-5;
    const made = expectedAngle(q(70), 3255, 3255 * (1 + h), null);
    expect(made.kind === 'refracted' && ((made.angleDeg.value - 70) / h) * 0.01).toBeCloseTo(1.574, 3);
  });
});

describe('a pipe scanned round the outside (cosine rule, derived)', () => {
  it.each([
    { r: 100, deg: 45, s: 20, depth: 12.98521, arc: 16.32498, wall: 20 },
    { r: 150, deg: 60, s: 30, depth: 12.5227, arc: 28.5188, wall: 15 },
  ])('radius $r mm, $deg°, path $s mm: depth $depth, arc $arc', ({ r, deg, s, depth, arc, wall }) => {
    const made = curved(r, wall, 'outside').at(s, (deg * Math.PI) / 180);
    expect(made.depthMm).toBeCloseTo(depth, 4);
    expect(made.alongMm).toBeCloseTo(arc, 4);
    const shape = { kind: 'pipe', outsideRadiusMm: r, thicknessMm: wall, uThicknessMm: 0, from: 'outside' } as const;
    const place = locateInPart(
      q(s),
      {
        angleDeg: q(deg),
        sectionWith: (mm) => sectionOf(shape, mm),
        thicknessMm: q(wall),
        indexToFrontMm: null,
        uIndexMm: 0,
      },
      null,
    );
    expect(place.leg).toBe(1);
    expect(place.depthMm.value).toBeCloseTo(depth, 4);
  });

  it.each([
    { deg: 45, share: 0.1464 },
    { deg: 60, share: 0.067 },
    { deg: 70, share: 0.0302 },
  ])('at $deg° the bore is met up to t/D = $share', ({ deg, share }) => {
    expect(thickestWallMet(deg)).toBeCloseTo(share, 4);
  });
});

/** J₁ by its series: exact to double precision for the arguments here. */
function besselJ1(x: number): number {
  let term = x / 2;
  let sum = term;
  for (let k = 1; k < 40; k++) {
    term *= -((x / 2) ** 2) / (k * (k + 1));
    sum += term;
  }
  return sum;
}

describe('beam spread of a round element', () => {
  it.each([
    { level: 'pulse-echo-minus-6-db', db: -3, tables: 0.51 },
    { level: 'pulse-echo-minus-20-db', db: -10, tables: 0.87 },
    { level: 'field-minus-6-db', db: -6, tables: 0.7 },
    { level: 'field-minus-20-db', db: -20, tables: 1.09 },
  ] as const)(
    '$level: 2 J₁(x)/x falls to $db dB at x = π k (derived; tables print $tables)',
    ({ level, db, tables }) => {
      const x = Math.PI * spreadConstants[level];
      expect(20 * Math.log10((2 * besselJ1(x)) / x)).toBeCloseTo(db, 3);
      expect(spreadConstants[level]).toBeCloseTo(tables, 1);
    },
  );

  it('the first zero is the first zero of J₁, 1.22 (derived; 1.22 in tables)', () => {
    expect(besselJ1(Math.PI * spreadConstants['first-zero'])).toBeCloseTo(0, 5);
    expect(spreadConstants['first-zero']).toBeCloseTo(1.22, 3);
  });

  it('k of 2 J₁(x)/x at −6 dB pulse-echo is 0.51367 (derived)', () => {
    expect(spreadConstants['pulse-echo-minus-6-db']).toBeCloseTo(0.51367, 5);
  });

  // The example has the tables' constants 0.51, 0.87 and 1.22: to their digits.
  it.each([
    { level: 'pulse-echo-minus-6-db', deg: 3.462, wavelength: 1.184, element: 10 },
    { level: 'pulse-echo-minus-20-db', deg: 5.912, wavelength: 1.184, element: 10 },
    { level: 'first-zero', deg: 8.305, wavelength: 1.184, element: 10 },
    { level: 'first-zero', deg: 16.52, wavelength: 5.92, element: 25.4 },
  ] as const)('$element mm, wavelength $wavelength mm, $level: $deg° (derived with the tables’ constant)', (row) => {
    expect(Math.abs(halfAngleDeg(row.level, row.wavelength, row.element)! - row.deg)).toBeLessThan(0.03);
  });
});
