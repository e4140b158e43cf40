import type { Arithmetic } from '../check/assessed-step.ts';
import { figures, figureWords } from '../origin/figure.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import { apparentAttenuationArithmetic, lawArithmetic, nearFieldArithmetic } from './attenuation-arithmetic.ts';
import type { AttenuationLaw } from './attenuation-law.ts';
import { curveArithmetic, percentOfCurveArithmetic, toCurveArithmetic } from './curve-arithmetic.ts';
import type { CurvePoint, DistanceAmplitudeCurve } from './distance-amplitude-curve.ts';
import type { HeldReading } from './hold-against-curve.ts';
import { pointLevelArithmetic, readingLevelArithmetic, referenceGainArithmetic } from './level-arithmetic.ts';
import type { NearField } from './near-field.ts';
import type { ReferenceLevel } from './reference-level.ts';

/** One figure of the result with its arithmetic. */
export interface ArithmeticLine {
  /** What the figure is, and of what. */
  readonly of: string;
  readonly arithmetic: Arithmetic;
}

/** All arithmetic behind a result, in its order: reference, points, law, readings, attenuation. */
export function arithmeticLines(
  result: {
    readonly nearField: NearField | null;
    readonly curve: CurveFigures | null;
    readonly attenuation: Parameters<typeof apparentAttenuationArithmetic>[0] | null;
  },
  elementMm: number | null,
  style: FigureStyle,
): ArithmeticLine[] {
  const { nearField, curve, attenuation } = result;
  const lines: ArithmeticLine[] = [];
  const add = (of: string, arithmetic: Arithmetic | null) => {
    if (arithmetic !== null) lines.push({ of, arithmetic });
  };
  if (nearField !== null && elementMm !== null)
    add('near-field length', nearFieldArithmetic(nearField, elementMm, style));
  if (curve !== null) addCurve(curve, add, style);
  if (attenuation !== null) add('apparent attenuation', apparentAttenuationArithmetic(attenuation, style));
  return lines;
}

interface CurveFigures {
  readonly reference: ReferenceLevel | null;
  readonly points: readonly CurvePoint[];
  readonly curve: DistanceAmplitudeCurve | null;
  readonly law: AttenuationLaw | null;
  readonly transferDb: Quantity;
  readonly readings: readonly HeldReading[];
}

function addCurve(
  { reference, points, curve, law, transferDb, readings }: CurveFigures,
  add: (of: string, arithmetic: Arithmetic | null) => void,
  style: FigureStyle,
): void {
  if (reference === null) return;
  add('reference gain', referenceGainArithmetic(reference, points, style));
  for (const point of points) {
    const at = figureWords(figures.statedMm(point.distanceMm, style), style);
    add(`level at ${at}`, pointLevelArithmetic(point, reference, style));
  }
  if (law !== null) add('attenuation', lawArithmetic(law, style));
  for (const reading of readings) {
    const of = `${reading.captureId}, gate ${reading.gate}`;
    const { curveDb, curveAtMm } = reading;
    add(`level of ${of}`, readingLevelArithmetic(reading, reference, transferDb.value, style));
    if (curve !== null && curveDb !== null && curveAtMm !== null)
      add(`curve at ${of}`, curveArithmetic(curve, curveAtMm, curveDb, style));
    add(`dB to the curve of ${of}`, toCurveArithmetic(reading, style));
    add(`% of the curve of ${of}`, percentOfCurveArithmetic(reading, style));
  }
}
