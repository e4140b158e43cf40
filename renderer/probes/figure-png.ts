import type { NumberStyle } from '../../core/units/format-quantity.ts';
import { visibleText } from '../../core/visible-text.ts';
import { figureMarks, type Mark } from './figure-marks.ts';
import {
  areaOpacity,
  type PaperSize,
  paperInks,
  paperLook,
  paperTypeface,
  pixelsOf,
  pointsInMm,
} from './figure-svg.ts';
import type { PlotFigure } from './plot-figure.ts';
import { pngOf } from './png.ts';

/** Dots in an inch: what journals ask of line drawings with shades (common practice). */
const dotsPerInch = 600;
const inchMm = 25.4;

/** The same figure as pixels, as fine as a paper needs them, its size told in the file. */
export function figurePng(figure: PlotFigure, size: PaperSize, style: NumberStyle): Blob {
  const look = paperLook(size);
  const perPoint = dotsPerInch / inchMm / pointsInMm;
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(look.width * perPoint);
  canvas.height = Math.round(look.height * perPoint);
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (context === null) throw new Error('This browser has no canvas to paint on.');
  context.fillStyle = '#ffffff';
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.scale(perPoint, perPoint);
  for (const mark of figureMarks(figure, look, style)) paint(context, mark, figure);
  return new Blob([pngOf(context.getImageData(0, 0, canvas.width, canvas.height), dotsPerInch / inchMm)], {
    type: 'image/png',
  });
}

function paint(context: CanvasRenderingContext2D, mark: Mark, figure: PlotFigure): void {
  switch (mark.kind) {
    case 'line':
      context.strokeStyle = paperInks[mark.ink];
      context.lineWidth = mark.width;
      context.lineJoin = 'round';
      context.setLineDash([...mark.dash]);
      follow(context, mark.points);
      context.stroke();
      return;
    case 'area':
      context.globalAlpha = areaOpacity;
      context.fillStyle = paperInks[mark.ink];
      follow(context, mark.points);
      context.fill();
      context.globalAlpha = 1;
      return;
    case 'text':
      context.save();
      context.translate(mark.x, mark.y);
      if (mark.upright) context.rotate(-Math.PI / 2);
      context.font = `${mark.bold ? 'bold ' : ''}${mark.size}px 'Atkinson Hyperlegible Next Variable', ${paperTypeface}`;
      context.fillStyle = paperInks[mark.ink];
      context.textAlign = mark.anchor === 'middle' ? 'center' : mark.anchor;
      context.fillText(visibleText(mark.text), 0, 0);
      context.restore();
      return;
    case 'image':
    case 'shades': {
      const { data, width, height } = pixelsOf(mark, figure);
      const small = document.createElement('canvas');
      small.width = width;
      small.height = height;
      small.getContext('2d')?.putImageData(new ImageData(new Uint8ClampedArray(data), width, height), 0, 0);
      context.drawImage(small, mark.x, mark.y, mark.width, mark.height);
    }
  }
}

function follow(context: CanvasRenderingContext2D, points: readonly (readonly [number, number])[]): void {
  context.beginPath();
  for (const [i, [x, y]] of points.entries())
    if (i === 0) context.moveTo(x, y);
    else context.lineTo(x, y);
}
