import type { NumberStyle } from '../../core/units/format-quantity.ts';
import { visibleText } from '../../core/visible-text.ts';
import { figureMarks, type Ink, type Look, type Mark } from './figure-marks.ts';
import type { PlotFigure } from './plot-figure.ts';
import { type Pixels, pngOf } from './png.ts';
import { imagePixels, stripPixels } from './shades.ts';

/** How a figure stands on paper: sizes in mm, type and lines in points. */
export interface PaperSize {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly fontPt: number;
  readonly linePt: number;
  readonly thinPt: number;
}

export const pointsInMm = 72 / 25.4;

/** Dark on white, and apart in lightness as well as in hue: they stay apart in print without colours. */
export const paperInks: Readonly<Record<Ink, string>> = {
  ink: '#000000',
  soft: '#333333',
  grid: '#dddddd',
  axis: '#333333',
  'line-0': '#1b2a4a',
  'line-1': '#b4541f',
  'line-2': '#1f7a80',
  'line-3': '#7a52a8',
  'line-4': '#6c6f12',
};

/** How dark an area is between its lines. */
export const areaOpacity = 0.25;

/** Any reader of SVG has one of them. */
export const paperTypeface = "'Atkinson Hyperlegible Next', 'Helvetica Neue', Arial, sans-serif";

export function paperLook({ widthMm, heightMm, fontPt, linePt, thinPt }: PaperSize): Look {
  return {
    width: widthMm * pointsInMm,
    height: heightMm * pointsInMm,
    font: fontPt,
    line: linePt,
    thin: thinPt,
  };
}

/**
 * A figure as a file of its own for a paper: width and height in mm, every length inside in points, text as text, images embedded, nothing from elsewhere.
 */
export function figureSvg(figure: PlotFigure, size: PaperSize, style: NumberStyle): string {
  const look = paperLook(size);
  const marks = figureMarks(figure, look, style).map((mark) => elementOf(mark, figure));
  const box = `${short(look.width)} ${short(look.height)}`;
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${size.widthMm}mm" height="${size.heightMm}mm" viewBox="0 0 ${box}" font-family="${escaped(paperTypeface)}" role="img">`,
    `<title>${escaped(figure.words)}</title>`,
    `<rect width="${short(look.width)}" height="${short(look.height)}" fill="#ffffff"/>`,
    ...marks,
    '</svg>',
    '',
  ].join('\n');
}

function elementOf(mark: Mark, figure: PlotFigure): string {
  switch (mark.kind) {
    case 'line': {
      const dash = mark.dash.length === 0 ? '' : ` stroke-dasharray="${mark.dash.map(short).join(' ')}"`;
      return `<polyline points="${pointsOf(mark.points)}" fill="none" stroke="${paperInks[mark.ink]}" stroke-width="${short(mark.width)}" stroke-linejoin="round"${dash}/>`;
    }
    case 'area':
      return `<polygon points="${pointsOf(mark.points)}" fill="${paperInks[mark.ink]}" fill-opacity="${areaOpacity}"/>`;
    case 'text': {
      const turned = mark.upright ? ` transform="rotate(-90 ${short(mark.x)} ${short(mark.y)})"` : '';
      const bold = mark.bold ? ' font-weight="bold"' : '';
      return `<text x="${short(mark.x)}" y="${short(mark.y)}" font-size="${short(mark.size)}" text-anchor="${mark.anchor}" fill="${paperInks[mark.ink]}"${bold}${turned}>${escaped(mark.text)}</text>`;
    }
    case 'image':
    case 'shades': {
      const pixels = pixelsOf(mark, figure);
      const box = `x="${short(mark.x)}" y="${short(mark.y)}" width="${short(mark.width)}" height="${short(mark.height)}"`;
      return `<image ${box} preserveAspectRatio="none" href="data:image/png;base64,${base64(pngOf(pixels, null))}"/>`;
    }
  }
}

/** On paper the ramp is the light one: nothing is the sheet. */
export function pixelsOf(mark: Extract<Mark, { panel: number }>, figure: PlotFigure): Pixels {
  if (mark.kind === 'shades') return stripPixels('light');
  const image = figure.panels[mark.panel]?.image ?? null;
  return image === null ? { data: new Uint8ClampedArray(4), width: 1, height: 1 } : imagePixels(image, 'light');
}

function pointsOf(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y]) => `${short(x)},${short(y)}`).join(' ');
}

/** A hundredth of a point is finer than any printer. */
function short(value: number): string {
  return String(Number(value.toFixed(2)));
}

/** A control character would be no SVG at all; what else cannot be seen is named as well. */
function escaped(text: string): string {
  return visibleText(text).replace(
    /[&<>"]/g,
    (sign) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[sign] ?? sign,
  );
}

function base64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  return btoa(text);
}
