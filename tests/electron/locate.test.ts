import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const firstLeg = join('sample-data', 'plate-weld', 'first-leg.csv');
const secondLeg = join('sample-data', 'plate-weld', 'second-leg.csv');

interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

function cli(...words: string[]): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, ['electron/cli/run.mjs', ...words], {
    cwd: root,
    encoding: 'utf8',
  });
  return { status, out: stdout, err: stderr };
}

// biome-ignore lint/suspicious/noExplicitAny: documents are checked key by key below
const document = (ran: Ran): any => JSON.parse(ran.out);

const folder = mkdtempSync(join(tmpdir(), 'workbench-locate-'));
const calibration = join(folder, 'cal.json');
const angle = ['--angle', '60', '--angle-uncertainty', '0.5'];
const plate = ['--thickness', '16mm'];
const probe = ['--probe', '10mm,4MHz', '--wedge-velocity', '2730m/s', '--index-to-front', '12mm'];
const near = ['--side', 'left', '--offset', '26mm', '--offset-uncertainty', '0.5mm'];
const weld = ['--weld', 'gap=2mm,face=2mm,bevel=30deg,cap=2.2mm,overlap=1mm'];
const root11 = `${firstLeg}#capture_11_pct`;
const gate = ['--gate', 'root=24mm..36mm@20'];
const locate = (...words: string[]) => ['locate', ...words, '--calibration', calibration];

beforeAll(() => {
  cli('blocks');
  writeFileSync(
    calibration,
    cli('calibrate', join('sample-data', 'reference-block.csv'), '--block', 'iso-2400/quadrant-return-25', '--json')
      .out,
  );
});

describe('what cannot be used ends with status 2, one line for each problem, and nothing on standard output', () => {
  const whole = [root11, ...gate, ...angle, ...plate];
  const rows: [string, () => string[], RegExp][] = [
    ['no calibration', () => ['locate', ...whole], /^--calibration: a place needs sound paths/],
    ['no gate', () => locate(root11, ...angle, ...plate), /^--gate: give at least one gate/],
    ['no angle', () => locate(root11, ...gate, ...plate), /^--angle: give the angle/],
    ['no thickness', () => locate(root11, ...gate, ...angle), /^--thickness: give the thickness/],
    [
      'a thickness of nought',
      () => locate(root11, ...gate, ...angle, '--thickness', '0mm'),
      /^--thickness: a thickness of 0 mm/,
    ],
    ['a bare number for a length', () => locate(root11, ...gate, ...angle, '--thickness', '16'), /has no unit/],
    [
      'an angle beyond the critical one',
      () => locate(root11, ...gate, '--angle', '85', ...plate, '--wedge-velocity', '3300m/s'),
      /^part: no wedge of 3300 m\/s makes a beam of 85°/,
    ],
    [
      'a wall thicker than the radius',
      () => locate(...whole, '--outside-radius', '12mm'),
      /^part: a wall of 16 mm leaves no bore in a pipe of 12 mm/,
    ],
    ['from inside of a plate', () => locate(...whole, '--from', 'inside'), /^--from: only a pipe/],
    [
      'an offset without a side',
      () => locate(...whole, '--offset', '26mm'),
      /^--side: where the probe stood needs both/,
    ],
    ['a position without a place', () => locate(...whole, '--position', 'away'), /^--position:/],
    ['a weld of unknown parts', () => locate(...whole, '--weld', 'hat=2mm'), /^--weld: "hat=2mm" is no part of a weld/],
    ['a weld told twice', () => locate(...whole, '--weld', 'gap=2mm,gap=3mm'), /^--weld: "gap" stands twice/],
    ['a weld higher than the plate', () => locate(...whole, '--weld', 'face=20mm'), /^--weld: a root face of 20 mm/],
    [
      'a feature without a depth',
      () => locate(...whole, '--feature', 'edge=20mm'),
      /^--feature: "edge=20mm" is no feature/,
    ],
    [
      'a damping test of many captures',
      () => locate(firstLeg, ...gate, ...angle, ...plate, '--damped', root11),
      /^--damped: .*41 before and 1 after/,
    ],
    ['a file that is not there', () => locate('nowhere.csv', ...gate, ...angle, ...plate), /nowhere\.csv/],
  ];
  it.each(rows)('%s', (_, words, expected) => {
    const ran = cli(...words());
    expect([ran.status, ran.out]).toEqual([2, '']);
    expect(ran.err).toMatch(expected);
  });
});

describe('locate', () => {
  it('places the lack of penetration at the root where the sample has it', () => {
    const ran = cli(...locate(root11, ...gate, ...angle, ...plate, ...probe, ...near, ...weld, '--json'));
    expect([ran.status, ran.err]).toEqual([0, '']);
    const { readings, beam, expected, settings, damping, probe_checks } = document(ran);
    // 15 mm deep, 30 mm of path, index point 26 mm from the weld's centre, 50 mm along it: sample-data/README.md.
    expect(readings).toEqual([
      expect.objectContaining({
        file: firstLeg,
        trace: 'capture_11_pct',
        gate: 'root',
        leg: 1,
        sound_path_mm: expect.closeTo(30, 1),
        depth_mm: expect.closeTo(15, 1),
        surface_distance_mm: expect.closeTo(25.98, 1),
        from_front_mm: expect.closeTo(13.98, 1),
        across_mm: expect.closeTo(-0.02, 1),
        along_weld_mm: 50,
        flags: ['geometry-expected'],
        taken: null,
      }),
    ]);
    expect(readings[0].geometry_expected[0].name).toBe('weld root, 1 mm to the left');
    expect(readings[0].ellipse.semi_major_mm).toBeGreaterThan(readings[0].ellipse.semi_minor_mm);
    expect(beam).toMatchObject({ half_skip_mm: expect.closeTo(27.713, 3), v_path_mm: expect.closeTo(64, 9) });
    expect(expected[0].echoes.length).toBeGreaterThan(1);
    expect([damping, probe_checks]).toEqual([[], null]);
    expect(settings.part.probe.angleDeg).toBe(60);
  });

  it('names the cap’s edge, and leaves the lack of fusion unnamed (second leg)', () => {
    const words = locate(
      `${secondLeg}#capture_27_pct`,
      '--gate',
      'fusion=44mm..56mm@20',
      '--gate',
      'cap=65mm..72mm@20',
      ...angle,
      ...plate,
      ...probe,
      '--side',
      'left',
      '--offset',
      '49.5mm',
      '--offset-uncertainty',
      '0.5mm',
      ...weld,
      '--feature',
      'cap edge=9.7mm,-2.2mm',
      '--json',
    );
    const [fusion, cap] = document(cli(...words)).readings;
    expect(fusion).toMatchObject({
      leg: 2,
      depth_mm: expect.closeTo(7, 1),
      across_mm: expect.closeTo(-6.2, 1),
      flags: [],
    });
    expect(cap.flags).toEqual(['geometry-expected']);
    expect(cap.geometry_expected[0]).toMatchObject({ name: 'cap edge', leg: 2 });
  });

  it('follows the curve of a pipe', () => {
    const on = (...words: string[]) =>
      document(cli(...locate(root11, ...gate, ...angle, ...plate, ...words, '--json'))).readings[0];
    const [flat, round, missed] = [on(), on('--outside-radius', '400mm'), on('--outside-radius', '60mm')];
    expect(round.depth_mm).toBeLessThan(flat.depth_mm);
    expect(round.surface_distance_mm).toBeGreaterThan(flat.surface_distance_mm);
    expect(missed.remarks).toEqual([expect.stringContaining('misses the bore')]);
    expect(flat.u_depth_mm).not.toBeNull();
  });

  it('has no uncertainty of a place without that of the angle', () => {
    const [reading] = document(cli(...locate(root11, ...gate, '--angle', '60', ...plate, '--json'))).readings;
    expect(reading).toMatchObject({
      u_depth_mm: null,
      ellipse: null,
      depth_mm: expect.closeTo(15, 1),
      across_mm: null,
    });
  });

  it('warns where geometry is named and cannot be predicted', () => {
    const { warnings, expected } = document(cli(...locate(root11, ...gate, ...angle, ...plate, ...weld, '--json')));
    expect(warnings.join()).toMatch(/no echo of the part’s own shape is predicted without .*--probe.* and .*--side/);
    expect(expected.flatMap(({ echoes }: { echoes: unknown[] }) => echoes)).toEqual([]);
  });

  it('holds a damped capture against the one before', () => {
    const text = readFileSync(join(root, firstLeg), 'utf8');
    const damped = join(folder, 'damped.csv');
    writeFileSync(damped, text);
    const same = document(
      cli(...locate(root11, ...gate, ...angle, ...plate, '--damped', `${damped}#capture_11_pct`, '--json')),
    ).damping[0];
    expect(same.echoes.length).toBeGreaterThan(0);
    for (const echo of same.echoes) expect(echo).toMatchObject({ change_db: 0, shift_us: 0 });
    const other = document(
      cli(...locate(root11, ...gate, ...angle, ...plate, '--damped', `${damped}#capture_01_pct`, '--json')),
    ).damping[0];
    // Capture 1 has the root bead alone: the lack of penetration at 30 mm, 66 %, is not there.
    const outcomes = other.echoes.map(({ outcome }: { outcome: string }) => outcome);
    expect(outcomes).toContain('gone');
    expect(other.before.trace).toBe('capture_11_pct');
  });

  it('is a table for a person, with what must be said below it', () => {
    const { out } = cli(...locate(root11, ...gate, ...angle, ...plate, ...probe, ...near, ...weld));
    expect(out).toMatch(/Beam at 60\.00 ± 0\.50°; in the wedge at 46\.\d+°; leg 32\.00 mm/);
    expect(out).toMatch(/geometry expected here/);
    expect(out).toMatch(/A flaw there would show at the same path/);
  });
});

describe('probe-check', () => {
  const check = (...words: string[]) => cli('probe-check', ...words);
  const onRadius = ['--radius', '100mm', '--on-radius', '84mm'];
  const onHole = ['--hole-depth', '70mm', '--on-hole', '91mm'];

  it.each<[string, string[], RegExp]>([
    ['no angle', onRadius, /^--angle: give the angle stated/],
    ['nothing to check', ['--angle', '45'], /^--on-radius: there is nothing to check/],
    [
      'a reading without its radius',
      ['--angle', '45', '--on-radius', '84mm'],
      /^--radius: --radius and --on-radius go together/,
    ],
    ['a radius of nought', ['--angle', '45', '--radius', '0mm', '--on-radius', '84mm'], /^--radius: 0 mm cannot be/],
    ['a hole without an index point', ['--angle', '45', ...onHole], /index point lies is not known/],
    [
      'a rule that nobody published',
      ['--angle', '45', ...onRadius, '--rule', 'yesterday'],
      /no published rule of a probe/,
    ],
    [
      'an angle beyond the critical one',
      ['--angle', '70', '--velocity', '3255m/s', '--in-velocity', '3900m/s'],
      /no refracted wave/,
    ],
    ['a bare number', ['--angle', '45', '--radius', '100', '--on-radius', '84mm'], /has no unit/],
  ])('refuses %s', (_, words, expected) => {
    const ran = check(...words);
    expect([ran.status, ran.out]).toEqual([2, '']);
    expect(ran.err).toMatch(expected);
  });

  it('gives the published example’s index point and angle', () => {
    const ran = check(
      '--angle',
      '45',
      '--index',
      '16mm',
      ...onRadius,
      ...onHole,
      '--ruler',
      '0.3mm',
      '--rule',
      'iso-22232-2',
      '--json',
    );
    expect([ran.status, ran.err]).toEqual([0, '']);
    expect(document(ran)).toMatchObject({
      index_to_front: { measured_mm: 16, deviation_mm: 0, limit_mm: 1, verdict: 'pass' },
      angle: { measured_deg: expect.closeTo(45.80693, 5), limit_deg: 2, verdict: 'pass' },
      elsewhere: null,
    });
  });

  it('ends with status 1 where a verdict does not pass', () => {
    const ran = check('--angle', '50', '--index', '16mm', ...onHole, '--rule', 'iso-22232-2');
    expect(ran.status).toBe(1);
    expect(ran.out).toMatch(/angle +45\.8\d ± 0\.\d+° .*fail/);
  });

  it('tells the angle in another material', () => {
    const ran = check('--angle', '70', '--velocity', '3255m/s', '--in-velocity', '3130m/s', '--json');
    expect(document(ran).elsewhere.measured_deg).toBeCloseTo(64.636, 3);
  });
});

describe('evaluate', () => {
  it('has the location of a review and the checks of its probe', () => {
    const review = JSON.parse(readFileSync(join(root, 'sample-data', 'review.json'), 'utf8'));
    const used: readonly string[] = ['reference-block.csv', 'plate-weld/first-leg.csv'];
    review.sources = review.sources.filter(({ file }: { file: string }) => used.includes(file));
    for (const file of [...used, 'plate-weld/manifest.csv'])
      cpSync(join(root, 'sample-data', file), join(folder, file));
    review.drift = null;
    review.part = {
      shape: { kind: 'plate', thicknessMm: 16, uThicknessMm: 0.1 },
      weld: null,
      features: [{ name: 'root bead', acrossMm: 2.9, depthMm: 16.7, toleranceMm: 0.5 }],
      placements: [
        { captures: review.readings.captures, side: 'left', offsetMm: 26, uOffsetMm: 0.5, position: 'along' },
      ],
      probe: {
        angleDeg: 60,
        uAngleDeg: 0.5,
        mode: 'transverse',
        indexToFrontMm: 12,
        uIndexMm: 0.3,
        wedgeVelocityMPerS: 2730,
        elementMm: 10,
        frequencyMHz: 4,
        velocityMPerS: null,
      },
      checks: {
        index: { radiusMm: 100, frontToEndMm: [88.1, 87.9], uRulerMm: 0.2 },
        angle: { fromEndMm: 35, depthMm: 70, frontToEndMm: [149], uRulerMm: 0.3 },
        elsewhere: null,
        decision: 'with-uncertainty',
        rule: { kind: 'published', name: 'iso-22232-2' },
      },
      damping: [],
      confirmed: [],
    };
    const saved = join(folder, 'review.json');
    writeFileSync(saved, JSON.stringify(review));
    const { location, verdicts, flag_texts } = document(cli('evaluate', saved, '--json'));
    expect(location.readings).toHaveLength(41);
    expect(
      location.readings.find(({ along_weld_mm }: { along_weld_mm: number }) => along_weld_mm === 50),
    ).toMatchObject({
      leg: 1,
      depth_mm: expect.closeTo(15, 1),
      across_mm: expect.closeTo(0, 1),
    });
    expect(location.probe_checks).toMatchObject({
      rule: { name: 'iso-22232-2' },
      index_to_front: { measured_mm: 12, verdict: 'pass' },
      angle: { measured_deg: expect.closeTo(60.945, 2), stated_deg: 60, verdict: 'pass' },
    });
    expect(verdicts.parts).toEqual([expect.objectContaining({ part: 'angle-beam', outcome: 'pass' })]);
    expect(verdicts.verdicts[0]).toMatchObject({ judged: 'index point', measured: 0, limit: 1, unit: 'mm' });
    expect(verdicts.verdicts[1].arithmetic[0].with_numbers).toMatch(
      /^arctan\[\(149\.\d+ mm \+ 12\.\d+ mm − 35 mm\) \/ 70 mm\] = 60\.9/,
    );
    expect(Object.keys(flag_texts)).toContain('no-echo');
    const { out } = cli('evaluate', saved);
    expect(out).toMatch(/\nLocation\n/);
    expect(out).toMatch(/Checks of the probe: ISO 22232-2/);
  });
});
