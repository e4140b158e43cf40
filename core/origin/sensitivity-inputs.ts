import type { FigureAsked, Origin, OriginInput } from '../origin.ts';
import { type CurvePoint, curveAt } from '../sensitivity/distance-amplitude-curve.ts';
import type { CurveResult } from '../steps/sensitivity.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import { type Figure, figures, figureWithUncertainty, figureWords } from './figure.ts';

export const levelFigure = (level: Quantity | number | null, style: FigureStyle): Figure | null =>
  level === null ? null : figures.levelDb(level, style);
export const heightFigure = (percent: Quantity | number, style: FigureStyle): Figure =>
  figures.amplitudePercent(percent, style);

export function input(name: string, figure: Figure | null, style: FigureStyle, asked: FigureAsked | null): OriginInput {
  return { name, value: figureWithUncertainty(figure, style), asked };
}

export function readAt({
  captureId,
  from,
  timeUs,
}: Pick<CurvePoint, 'captureId' | 'from' | 'timeUs'>): Origin['capture'] {
  return { captureId, samples: from, timeUs };
}

/** Reference height and reference gain, and the gain of the echo. */
export function referenceInputs(curve: CurveResult, gainDb: number | null, style: FigureStyle): OriginInput[] {
  const { reference } = curve;
  if (reference === null) return [];
  const height = input('reference height', heightFigure(reference.percent, style), style, null);
  if (reference.gainDb === null || gainDb === null) {
    if (reference.raisedDb === 0) return [height];
    const raised = levelFigure(reference.raisedDb, style);
    return [height, input('what brings the highest point to the reference height', raised, style, null)];
  }
  const asked = reference.by === 'stated' ? null : ({ kind: 'sensitivity', figure: 'reference-gain' } as const);
  return [
    height,
    input('reference gain', levelFigure(reference.gainDb, style), style, asked),
    input('gain of the capture', levelFigure(gainDb, style), style, null),
  ];
}

/** The points that a line of the curve runs between, as inputs. */
export function lineInputs(curve: CurveResult, atMm: number, style: FigureStyle): OriginInput[] {
  const drawn = curve.curve;
  const shares = drawn === null ? [] : (curveAt(drawn, atMm)?.shares ?? []);
  return shares.map(({ point }) => {
    const { distanceMm, levelDb } = curve.points[point];
    const at = figureWords(figures.statedMm(distanceMm, style), style);
    return input(`level of the reflector at ${at}`, levelFigure(levelDb, style), style, {
      kind: 'sensitivity',
      figure: 'point-level',
      distanceMm,
    });
  });
}
