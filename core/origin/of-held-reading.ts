import { unreachable } from '../invariant.ts';
import type { FigureAsked, Origin, OriginInput } from '../origin.ts';
import {
  curveArithmetic,
  percentOfCurveArithmetic,
  toCurveArithmetic,
  toCurveUncertainty,
} from '../sensitivity/curve-arithmetic.ts';
import { sensitivityFormulas } from '../sensitivity/formulas.ts';
import type { HeldReading } from '../sensitivity/hold-against-curve.ts';
import { readingLevelArithmetic } from '../sensitivity/level-arithmetic.ts';
import type { CurveResult } from '../steps/sensitivity.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import { flagsShown, type OriginContext, origin, shown } from './context.ts';
import { type Figure, figures, figureWords } from './figure.ts';
import { heightFigure, input, levelFigure, lineInputs, referenceInputs } from './sensitivity-inputs.ts';

type AskedOfReading = Extract<FigureAsked, { kind: 'sensitivity'; gate: string }>;

/** Where a figure of a reading held against the curve comes from. */
export function originOfHeldReading(
  asked: AskedOfReading,
  context: OriginContext,
  curve: CurveResult | null,
): Origin | null {
  const reading = curve?.readings.find((held) => held.captureId === asked.captureId && held.gate === asked.gate);
  if (curve == null || reading === undefined) return null;
  const made = madeOfReading(asked, reading, curve, context);
  const read = context.evaluation.readings?.readings.find(
    (r) => r.captureId === asked.captureId && r.gate === asked.gate,
  );
  return {
    ...made,
    capture: { captureId: asked.captureId, samples: read?.from ?? null, timeUs: read?.peakUs ?? null },
    flags: flagsShown(reading.flags),
  };
}

function madeOfReading(
  asked: AskedOfReading,
  reading: HeldReading,
  curve: CurveResult,
  { style }: OriginContext,
): Origin {
  const here = (figure: AskedOfReading['figure']) => ({ ...asked, figure });
  const least = (words: Pick<Origin, 'value' | 'uncertainty'>, known: unknown) =>
    reading.atLeast && known !== null ? { ...words, value: `≥ ${words.value}` } : words;
  const level = levelFigure(reading.levelDb, style);
  const toCurve = levelFigure(reading.toCurveDb, style);
  const bounded = (name: string, figure: Figure | null, figureAsked: FigureAsked | null): OriginInput => {
    const plain = input(name, figure, style, figureAsked);
    return reading.atLeast && figure !== null ? { ...plain, value: `≥ ${plain.value}` } : plain;
  };
  const why = reading.remarks.map((remark) => ` ${remark}`).join('');
  switch (asked.figure) {
    case 'reading-level':
      return origin({
        title: 'Level above the reference',
        ...least(shown(level, style), level),
        formula:
          curve.reference === null
            ? null
            : readingLevelArithmetic(reading, curve.reference, curve.transferDb.value, style),
        inputs: [
          heightOf(reading, style),
          ...referenceInputs(curve, reading.gainDb, style),
          input('transfer correction', levelFigure(curve.transferDb, style), style, null),
        ],
        source: `${sensitivityFormulas['level-with-transfer'].source}.${why}`,
      });
    case 'curve-at-reading': {
      const at = reading.curveAtMm;
      const known = curve.curve !== null && at !== null && reading.curveDb !== null;
      return origin({
        title: 'Curve at the sound path',
        ...shown(levelFigure(reading.curveDb, style), style),
        formula: known ? curveArithmetic(curve.curve!, at, reading.curveDb!, style) : null,
        inputs: [
          input('sound path', reading.soundPathMm && figures.lengthMm(reading.soundPathMm, style), style, {
            kind: 'reading',
            captureId: asked.captureId,
            gate: asked.gate,
            figure: 'sound-path',
          }),
          ...(at === null ? [] : lineInputs(curve, at, style)),
        ],
        source: `${sensitivityFormulas[curve.straightIn === 'db' ? 'curve-straight-in-db' : 'curve-straight-in-percent'].source}.${why}`,
      });
    }
    case 'to-curve':
      return origin({
        title: 'dB to the curve',
        ...least(shown(toCurve, style), toCurve),
        formula: toCurveArithmetic(reading, style),
        uncertaintyFormula: toCurveUncertainty(reading, style),
        inputs: [
          bounded('level', level, here('reading-level')),
          input('curve at the sound path', levelFigure(reading.curveDb, style), style, here('curve-at-reading')),
          ...reading.levels.map(({ name, db, outcome }) => ({
            name,
            value: `${figureWords(figures.levelDb(db, style), style)}: ${outcome.replace('-', ' ')}`,
            asked: null,
          })),
        ],
        source: `${sensitivityFormulas['to-curve'].source}.${why}`,
      });
    case 'percent-of-curve': {
      const percent = reading.percentOfCurve && heightFigure(reading.percentOfCurve, style);
      return origin({
        title: '% of the curve',
        ...least(shown(percent, style), percent),
        formula: percentOfCurveArithmetic(reading, style),
        inputs: [bounded('dB to the curve', toCurve, here('to-curve'))],
        source: `${sensitivityFormulas['percent-of-curve'].source}.${why}`,
      });
    }
    default:
      return unreachable(asked.figure);
  }
}

/** As the reading itself tells it. */
function heightOf({ captureId, gate, amplitudePercent, flags }: HeldReading, style: FigureStyle): OriginInput {
  const figure = amplitudePercent === null ? null : heightFigure(amplitudePercent, style);
  const told = input('height', figure, style, { kind: 'reading', captureId, gate, figure: 'amplitude' });
  const bounded = figure !== null && (flags.includes('saturated') || flags.includes('cut-by-gate'));
  return bounded ? { ...told, value: `≥ ${told.value}` } : told;
}
