import { hypot } from '../elementary/hypotenuse.ts';
import type { FigureAsked, FormulaShown, OriginInput } from '../origin.ts';
import { locationUncertainties } from '../part/formulas.ts';
import type { PartDecision } from '../review/part-decision.ts';
import type { LocatedReading, LocationResult } from '../steps/locate.ts';
import type { Quantity } from '../units/quantity.ts';
import type { OriginContext } from './context.ts';
import { type Figure, figures, figureWithUncertainty, figureWords } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';

export type LocationAsked = Extract<FigureAsked, { kind: 'location' }>;
export type AskedOfReading = Extract<LocationAsked, { gate: string }>;

export interface LocationContext extends OriginContext {
  readonly result: LocationResult;
  readonly part: PartDecision;
}

/** One reading in the part, with what its figures need. */
export interface Placed extends LocationContext {
  readonly asked: AskedOfReading;
  readonly located: LocatedReading;
  /** Under the reading's capture. */
  readonly thicknessMm: Quantity;
}

export const plain = (name: string, figure: Figure | null, { style }: OriginContext): OriginInput => ({
  name,
  value: figureWithUncertainty(figure, style),
  asked: null,
});

export const length = (known: Quantity | null | undefined, { style }: OriginContext): Figure | null =>
  known == null ? null : figures.lengthMm(known, style);

export function pathInput(placed: Placed): OriginInput {
  const { captureId, gate } = placed.asked;
  return {
    ...plain('sound path', length(placed.located.soundPathMm, placed), placed),
    asked: { kind: 'reading', captureId, gate, figure: 'sound-path' },
  };
}

function own(placed: Placed, name: string, figure: AskedOfReading['figure'], value: string): OriginInput {
  return { name, value, asked: { ...placed.asked, figure } };
}

function angleInput({ part, style }: Placed): OriginInput {
  const { angleDeg, uAngleDeg } = part.probe;
  const value = figureWords(figures.angleDeg(angleDeg, style), style);
  return { name: 'beam angle', value: uAngleDeg === null ? value : `${value} ± ${uAngleDeg}°`, asked: null };
}

function thicknessInput(placed: Placed): OriginInput {
  const { thicknessMm, style } = placed;
  const value = figureWords(figures.statedMm(thicknessMm.value, style), style);
  const u = thicknessMm.standardUncertainty;
  const spread = u === null || u === 0 ? '' : ` ± ${figureWords(figures.statedMm(u, style), style)}`;
  return { name: 'thickness', value: `${value}${spread}`, asked: null };
}

export function shapeInputs(placed: Placed): OriginInput[] {
  const { part, style } = placed;
  const { shape } = part;
  const inputs = [pathInput(placed), angleInput(placed), thicknessInput(placed)];
  if (shape.kind === 'pipe')
    inputs.push({
      name: shape.from === 'outside' ? 'outside radius' : 'radius of the bore',
      value: figureWords(figures.statedMm(scannedRadius(shape), style), style),
      asked: null,
    });
  return inputs;
}

type Pipe = Extract<PartDecision['shape'], { kind: 'pipe' }>;

export const scannedRadius = ({ from, outsideRadiusMm, thicknessMm }: Pipe): number =>
  from === 'outside' ? outsideRadiusMm : outsideRadiusMm - thicknessMm;

export const legInput = (placed: Placed): OriginInput =>
  own(placed, 'leg', 'leg', String(placed.located.place?.leg ?? '–'));

export function surfaceInput(placed: Placed): OriginInput {
  const surface = length(placed.located.place?.surfaceDistanceMm, placed);
  return own(placed, 'surface distance', 'surface-distance', figureWithUncertainty(surface, placed.style));
}

export function stated(mm: number, u: number, { style }: OriginContext): Figure {
  return figures.lengthMm({ value: mm, standardUncertainty: u === 0 ? null : u }, style);
}

export function sumOfSquares(
  kind: 'across' | 'from-front',
  surface: Figure,
  others: readonly number[],
  result: Figure,
  { style }: Placed,
): FormulaShown | null {
  if (surface.standardUncertainty === null || result.standardUncertainty === null) return null;
  return {
    text: locationUncertainties[kind].text,
    withNumbers: withNumbers(
      [{ ...surface, value: surface.standardUncertainty }, ...others.map((u) => figures.residualMm(u, style))],
      (...u) => hypot(...u),
      (...u) => `√(${u.map((one) => `(${one})²`).join(' + ')})`,
      { ...result, value: result.standardUncertainty },
      style,
    ),
  };
}
