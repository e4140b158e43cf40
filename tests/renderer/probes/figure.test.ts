import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { figureMarks, lineStyle } from '../../../renderer/probes/figure-marks.ts';
import { figureSvg, type PaperSize, paperLook } from '../../../renderer/probes/figure-svg.ts';
import { paperSize } from '../../../renderer/probes/paper-size.ts';
import { type Panel, type PlotFigure, places } from '../../../renderer/probes/plot-figure.ts';
import { pngOf } from '../../../renderer/probes/png.ts';

const point = { decimalMark: '.' } as const;
const comma = { decimalMark: ',' } as const;
const size: PaperSize = { widthMm: 85, heightMm: 60, fontPt: 8, linePt: 1, thinPt: 0.5 };

const panel: Panel = {
  title: null,
  x: { label: 'time (µs)', from: 0, to: 2 },
  y: { label: 'height (% FSH)', from: -1, to: 1 },
  lines: [{ name: 'probe <1> & "co"', style: 0, weight: 'full', x: places(0, 1, 3), y: [0, 1, 0] }],
  bands: [],
  levels: [],
  image: null,
};
const figure: PlotFigure = { words: 'An echo', panels: [panel], across: 1 };
const image: PlotFigure = {
  words: 'An image',
  panels: [
    {
      ...panel,
      lines: [],
      image: {
        levelsDb: Float32Array.from([0, -40, -20, -10]),
        columns: 2,
        rows: 2,
        floorDb: -40,
        x: [0, 2],
        y: [-1, 1],
      },
    },
  ],
  across: 1,
};

/** Of all marks of a kind. */
function attributes(svg: string, element: string, name: string): string[] {
  return [...svg.matchAll(new RegExp(`<${element} [^>]*?\\b${name}="([^"]*)"`, 'g'))].map(([, value]) => value);
}

describe('a figure for a paper', () => {
  const svg = figureSvg(figure, size, point);

  it('has its size in mm, and every length inside in points', () => {
    expect(svg).toContain('width="85mm" height="60mm"');
    // 1 pt = 1/72 in, 1 in = 25.4 mm: 85 mm are 240.94 pt.
    expect(svg).toContain('viewBox="0 0 240.94 170.08"');
    expect(new Set(attributes(svg, 'text', 'font-size'))).toEqual(new Set(['8']));
    expect(new Set(attributes(svg, 'polyline', 'stroke-width'))).toEqual(new Set(['1', '0.5']));
  });

  it('bears units in the names of its axes, and its words as its title', () => {
    expect(svg).toContain('>time (µs)</text>');
    expect(svg).toContain('>height (% FSH)</text>');
    expect(svg).toContain('<title>An echo</title>');
  });

  it('escapes what a probe is called', () => {
    expect(svg).toContain('probe &lt;1&gt; &amp; &quot;co&quot;');
    expect(svg).not.toContain('probe <1>');
  });

  it('follows the decimal mark, with the true minus sign', () => {
    const texts = (mark: '.' | ',') =>
      figureMarks(figure, paperLook(size), { decimalMark: mark }).flatMap((m) => (m.kind === 'text' ? [m.text] : []));
    expect(texts('.')).toContain('−0.5');
    expect(texts(',')).toContain('−0,5');
    expect(figureSvg(figure, size, comma)).toContain('−0,5');
  });

  it('asks for nothing from elsewhere', () => {
    const addresses = [...figureSvg(image, size, point).matchAll(/(?:href|src)="([^"]{0,30})/g)].map(([, to]) => to);
    expect(addresses.length).toBe(2);
    for (const address of addresses) expect(address).toMatch(/^data:image\/png;base64,/);
  });

  it('keeps every mark on its sheet', () => {
    for (const one of [figure, image])
      for (const mark of figureMarks(one, paperLook(size), point)) {
        const points = 'points' in mark ? mark.points : [[mark.x, mark.y] as const];
        for (const [x, y] of points) {
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x).toBeLessThanOrEqual(240.95);
          expect(y).toBeGreaterThanOrEqual(0);
          expect(y).toBeLessThanOrEqual(170.09);
        }
      }
  });
});

describe('the marks of a plot', () => {
  const look = { width: 400, height: 200, font: 12, line: 1.5, thin: 1 };
  const linesOf = (changes: Partial<Panel>) =>
    figureMarks({ ...figure, panels: [{ ...panel, ...changes }] }, look, point).filter(
      (mark) => mark.kind === 'line' && mark.ink === 'line-0' && mark.points.length > 2,
    );

  it('put the middle of the axes in the middle of the plot', () => {
    const [mark] = linesOf({});
    if (mark?.kind !== 'line') throw new Error('no line');
    const [first, middle, last] = mark.points;
    expect(middle[0]).toBeCloseTo((first[0] + last[0]) / 2, 6);
    expect(first[1]).toBeCloseTo(last[1], 6);
    expect(middle[1]).toBeLessThan(first[1]);
  });

  it('break a line where nothing is known', () => {
    const y = [0, 0.5, 1, Number.NaN, 1, 0.5, 0];
    const found = linesOf({ lines: [{ name: null, style: 0, weight: 'full', x: places(0, 0.3, 7), y }] });
    expect(found).toHaveLength(2);
  });

  it('leave out what lies beside the axes: nothing is drawn where the line is not', () => {
    const found = linesOf({
      lines: [
        {
          name: null,
          style: 0,
          weight: 'full',
          x: places(-1, 0.25, 17),
          y: Array.from({ length: 17 }, (_, i) => (i === 8 ? -9 : 0.5)),
        },
      ],
    });
    const counts = found.map((mark) => (mark.kind === 'line' ? mark.points.length : 0));
    // From 0 to 2 in steps of 0.25 there are nine places; the one at 1 lies below the plot.
    expect(counts).toEqual([4, 4]);
  });

  it('are none where there is no room for a plot', () => {
    expect(() => figureMarks(figure, { ...look, width: 20, height: 20 }, point)).not.toThrow();
    expect(linesIn(figureMarks(figure, { ...look, width: 20, height: 20 }, point))).toBe(0);
  });

  it('tell 25 lines apart by colour and dash together, and the first five by dash alone', () => {
    const all = Array.from({ length: 25 }, (_, i) => JSON.stringify(lineStyle(i)));
    expect(new Set(all).size).toBe(25);
    expect(new Set(Array.from({ length: 5 }, (_, i) => JSON.stringify(lineStyle(i).dash))).size).toBe(5);
  });
});

function linesIn(marks: ReturnType<typeof figureMarks>): number {
  return marks.filter((mark) => mark.kind === 'line' && mark.points.length > 2).length;
}

describe('the size on paper', () => {
  it.each([
    ['one plot in a column', 1, 1, 85, 59],
    ['one plot as wide as the page: not higher than 110 mm', 1, 1, 250, 116],
    ['40 small plots fit on a page of A4, 297 mm less its margins', 40, 5, 175, 230],
  ])('%s', (_name, count, across, widthMm, heightMm) => {
    expect(paperSize({ ...figure, panels: Array(count).fill(panel), across }, widthMm).heightMm).toBe(heightMm);
  });
});

describe('pixels as a PNG file', () => {
  const data = Uint8ClampedArray.from([255, 0, 0, 255, 0, 255, 0, 255]);
  const file = Buffer.from(pngOf({ data, width: 2, height: 1 }, 600 / 25.4));

  it('begins and ends as the standard has it (ISO/IEC 15948, 5.2)', () => {
    expect([...file.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    // The check sum of an empty IEND is the same in every PNG file.
    expect(file.subarray(-8).toString('hex')).toBe('49454e44ae426082');
  });

  it('says 600 dots in an inch', () => {
    const at = file.indexOf('pHYs') + 4;
    expect([file.readUInt32BE(at), file.readUInt32BE(at + 4), file[at + 8]]).toEqual([23622, 23622, 1]);
  });

  it('holds the pixels, read by another decoder of deflate', () => {
    const at = file.indexOf('IDAT');
    const rows = inflateSync(file.subarray(at + 4, at + 4 + file.readUInt32BE(at - 4)));
    expect([...rows]).toEqual([0, ...data]);
  });
});
