import { describe, expect, it } from 'vitest';
import { ratingClause } from '../../../../core/rating/aws-d1.1.ts';
import { reportPage } from '../../../../core/report/page/page.ts';
import type { Review } from '../../../../core/review/review.ts';
import type { ScanDecision } from '../../../../core/review/scan-decision.ts';
import { sampleReport } from '../../../build/sample-report.ts';

/** The words of one part of the page, tags out. */
function wordsOf(page: string, id: string): string {
  return (new RegExp(`<section id="${id}".*?</section>`, 's').exec(page)?.[0] ?? '')
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&#39;', "'")
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replace(/\s+/g, ' ');
}

const weldAlone = (review: Review): Review => ({ ...review, drift: null });
const withScan = (told: Partial<ScanDecision>) => (review: Review) => ({
  ...weldAlone(review),
  scan: { ...review.scan!, ...told },
});
const page = reportPage(sampleReport(weldAlone));
const [location, indications, decisions] = ['location', 'indications', 'decisions'].map((id) => wordsOf(page, id));

/** Points of a path of one class: `M1 2L3 4` as [[1, 2], [3, 4]]. */
function pointsOf(markup: string, kind: string): number[][] {
  const d = new RegExp(`class="${kind}" d="([^"]*)"`).exec(markup)?.[1] ?? '';
  return [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);
}

describe('where the readings lie', () => {
  it.each([
    ['the beam and its skips', 'leg 32.00 mm, half skip 27.71 mm, skip 55.43 mm, V-path 64.00 mm'],
    [
      'depth, way from index and front, across, each with its uncertainty',
      '15.00 ± 0.23 25.98 ± 0.14 13.98 ± 0.52 −0.02 ± 0.72',
    ],
    ['readings without a place, by reason', '32 of 41 readings have no place: no echo was read.'],
    ['geometry expected, where it stands', 'geometry expected here: weld root, 1 mm to the left'],
    ['what the part’s own shape shows', 'root bead, far edge 1 33.38 ± 0.69 mm'],
    ['the damping test: what fell', 'changed Changed: lower by 8.5 dB.'],
    ['the damping test: what stayed', 'unchanged Unchanged within its uncertainty.'],
  ])('%s', (_, words) => {
    expect(location).toContain(words);
  });

  it('the section is to scale: a beam at 60° goes √3 times as far across as down, and its skip lies on the far surface', () => {
    const drawing = page.slice(page.indexOf('<title>Section of the part, index point 49.5'));
    const [from, skip, up, end] = pointsOf(drawing, 'line');
    expect((skip[0] - from[0]) / (skip[1] - from[1])).toBeCloseTo(Math.sqrt(3), 1);
    expect(skip[1]).toBeCloseTo(pointsOf(drawing.slice(drawing.indexOf('class="surface"') + 1), 'surface')[0][1], 0);
    expect(up[1]).toBeCloseTo(from[1], 0);
    expect(end[1]).toBeGreaterThan(up[1]);
  });

  it('an ellipse for each indication where its section is drawn, and again close', () => {
    expect([...page.matchAll(/class="ellipse"/g)]).toHaveLength(8);
  });
});

describe('what the scan shows', () => {
  it.each([
    [
      'each with position, length, depth, across, leg and path',
      '1 root reflector 80.00 43.44 ± 2.42 15.00 ± 0.23 −0.01 ± 0.72 1 30.009 ± 0.042',
    ],
    ['each with amplitude, level and rating', '1 root 66.8 −5.57 ± 0.51 5.57 ± 0.51'],
    ['expanded uncertainty, said to be so', '43.44 ± 4.85 mm (k = 2)'],
    ['the arithmetic of the length', '86.33 mm − 42.89 mm = 43.44 mm'],
    ['the arithmetic of the rating', '51.57 dB − 46.0 dB − 0 dB = 5.57 dB'],
    ['the clause to look up', ratingClause],
    ['ends that lie outside the scan', 'its low end and its high end lie there or farther out'],
    ['what a person wrote', 'Merged from three proposals at several paths.'],
    ['the reference', 'Reference level as stated: 80 % FSH at 46.0 dB.'],
  ])('%s', (_, words) => {
    expect(indications).toContain(words);
  });

  it('each has the picture of its trace and its echo-dynamic', () => {
    for (const name of ['root', 'side wall', 'porosity cluster', 'cap edge'])
      for (const title of [`<title>Trace, ${name}</title>`, `<title>Echo-dynamic, ${name}, at `])
        expect(page).toContain(title);
  });

  it('from the side: each on its leg, depths growing downwards between the surfaces', () => {
    const side = page.slice(page.indexOf('<title>Side view along the weld</title>'));
    const bars = [...side.matchAll(/class="span(?:-open)?" x="[^"]*" y="([\d.]+)"/g)]
      .slice(0, 4)
      .map(([, y]) => Number(y));
    const [root, sideWall, cluster, cap] = bars as [number, number, number, number];
    const surfaces = [...side.matchAll(/class="zero" x1="[^"]*" x2="[^"]*" y1="([\d.]+)"/g)]
      .slice(0, 2)
      .map(([, y]) => Number(y));
    const [near, far] = [Math.min(...surfaces), Math.max(...surfaces)];
    expect([near < cap, cap < sideWall, cluster < sideWall, sideWall < root, root < far]).toEqual(Array(5).fill(true));
    // 15 of 16 mm deep: the middle of a bar 7 high.
    expect((root + 3.5 - near) / (far - near)).toBeCloseTo(15 / 16, 2);
    expect(indications).toContain('1 root, leg 1; 2 side wall, leg 2');
  });

  it('each says why it has no length across: it stands on one line alone', () => {
    expect(indications).toContain('none: It stands on one line of the raster alone (the next is 23.5 mm away)');
  });

  it('without a reference amplitudes are unreferenced and have no rating, with the reason', () => {
    const words = wordsOf(reportPage(sampleReport(withScan({ reference: null }))), 'indications');
    expect(words).toContain('unreferenced : There is only a distance calibration');
    expect(words).toContain('none: There is only a distance calibration');
    expect(words).not.toContain('Clause to look up');
  });

  it('nothing above the level: that there is none, and no picture', () => {
    const empty = reportPage(sampleReport(withScan({ level: { kind: 'screen', percent: 99 }, indications: [] })));
    expect(wordsOf(empty, 'indications')).toContain('There is no indication.');
    expect(empty).not.toContain('<title>Trace,');
    expect(empty).not.toContain('<title>Plan along the weld</title>');
  });

  it('text of a person within drawings and tables stays text', () => {
    const hostile = '</title><script>alert(1)</script>"><img src=x>';
    const attacked = reportPage(
      sampleReport((review) => ({
        ...withScan({
          indications: review.scan!.indications.map((one, i) => ({ ...one, name: `${hostile}${i}`, notes: hostile })),
        })(review),
        part: { ...review.part!, features: [{ ...review.part!.features[0], name: hostile }] },
      })),
    );
    expect(attacked).not.toMatch(/<script|<img/i);
    expect(wordsOf(attacked, 'indications')).toContain('<script>alert(1)</script>');
    expect(wordsOf(attacked, 'location')).toContain('<script>alert(1)</script>');
  });
});

describe('what was decided of them', () => {
  it.each([
    'plate, 16 mm thick (u = 0.1 mm)',
    'outline of 10 corners',
    'index point 26 mm (u = 0.5 mm) from its middle',
    'plate-weld/cap-damped.csv',
    'taken for geometry',
    'not decided what it is',
    '80 % FSH at 46 dB (u = 0.5 dB)',
  ])('%s', (words) => {
    expect(decisions).toContain(words);
  });

  it('how captures were sampled stands with them', () => {
    expect(wordsOf(page, 'captures')).toContain('2400 0.020 µs % FSH, full-wave rectified');
  });
});

describe('a review without a part', () => {
  it('neither place nor drawing; indications keep depth and way by the plate of the readings', () => {
    const bare = reportPage(sampleReport((review) => ({ ...weldAlone(review), part: null })));
    expect(bare).not.toContain('id="location"');
    expect(bare).not.toContain('Section of the part');
    expect(bare).toContain('indications in order');
    expect(wordsOf(bare, 'indications')).toContain('15.00 ±');
  });

  it('a part that cannot be used: no drawing, and the problem is told', () => {
    const spoilt = reportPage(
      sampleReport((review) => ({
        ...weldAlone(review),
        part: { ...review.part!, probe: { ...review.part!.probe, angleDeg: 120 } },
      })),
    );
    expect(spoilt).not.toContain('Section of the part');
    expect(wordsOf(spoilt, 'location')).toContain('the part cannot be used');
  });
});

describe('a pipe', () => {
  const round = reportPage(
    sampleReport((review) => ({
      ...weldAlone(review),
      part: {
        ...review.part!,
        shape: { kind: 'pipe', outsideRadiusMm: 80, thicknessMm: 16, uThicknessMm: 0.1, from: 'outside' },
      },
    })),
  );

  it('is drawn round: the scanned surface is highest above the weld’s middle, and has a length to scale in place of an axis', () => {
    const drawing = round.slice(round.indexOf('<title>Section of the part'));
    const surface = pointsOf(drawing, 'surface');
    const heights = surface.map(([, y]) => y);
    expect(surface.length).toBeGreaterThan(20);
    expect(Math.min(...heights)).toBeLessThan(heights[0] - 5);
    expect(Math.min(...heights)).toBeLessThan(heights.at(-1)! - 5);
    expect(drawing.slice(0, drawing.indexOf('</svg>'))).not.toContain('across, from the weld');
  });

  it('says what the curve does to the beam', () => {
    expect(wordsOf(round, 'indications')).toContain('The beam misses the bore');
    expect(wordsOf(round, 'decisions')).toContain('pipe, outside radius 80 mm, wall 16 mm');
  });
});
