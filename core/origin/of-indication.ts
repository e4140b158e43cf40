import { power } from '../elementary/exponential.ts';
import { unreachable } from '../invariant.ts';
import type { FigureAsked, Origin, OriginInput } from '../origin.ts';
import { scanReferences } from '../rating/amplitude.ts';
import { factorArithmetic, ratingArithmetic } from '../rating/arithmetic.ts';
import { ratingCaution, ratingClause } from '../rating/aws-d1.1.ts';
import { ratingFormulas } from '../rating/formulas.ts';
import type { DynamicPoint } from '../scan/echo-dynamic.ts';
import { toCurveArithmetic, toCurveUncertainty } from '../sensitivity/curve-arithmetic.ts';
import { sensitivityFormulas } from '../sensitivity/formulas.ts';
import { readingLevelArithmetic } from '../sensitivity/level-arithmetic.ts';
import { endArithmetic, lengthArithmetic } from '../sizing/arithmetic.ts';
import type { End } from '../sizing/ends.ts';
import { lengthMethods, sizingFormulas, sizingUncertainties } from '../sizing/formulas.ts';
import type { Indication } from '../steps/scan.ts';
import { conditioningInWords, flagsShown, heightInWords, type OriginContext, origin, shown } from './context.ts';
import { type Figure, figures, figureWithUncertainty, figureWords } from './figure.ts';
import { calibrationInputs, pathFormula, pathUncertainty } from './path-formula.ts';

type Asked = Extract<FigureAsked, { kind: 'indication' }>;

interface Context extends OriginContext {
  readonly indication: Indication;
}

/** Where a figure of an indication comes from; `null` where there is no such indication (any more). */
export function originInScan(asked: Asked, context: OriginContext): Origin | null {
  const indication = context.evaluation.scan?.indications.find(({ name }) => name === asked.name);
  if (indication === undefined) return null;
  const made = madeOf(asked.figure, { ...context, indication });
  return { ...made, flags: flagsShown(indication.flags) };
}

function madeOf(figure: Asked['figure'], context: Context): Origin {
  switch (figure) {
    case 'length':
    case 'length-across':
      return lengthOrigin(figure, context);
    case 'low-end':
    case 'high-end':
      return endOrigin(figure, context);
    case 'amplitude':
      return amplitudeOrigin(context);
    case 'sound-path':
      return pathOrigin(context);
    case 'depth':
    case 'surface-distance':
    case 'leg':
      return placeOrigin(figure, context);
    case 'level':
      return levelOrigin(context);
    case 'to-curve':
      return toCurveOrigin(context);
    case 'attenuation-factor':
    case 'rating':
      return ratingOrigin(figure, context);
    default:
      return unreachable(figure);
  }
}

const ask = ({ indication }: Context, figure: Asked['figure']): Asked => ({
  kind: 'indication',
  name: indication.name,
  figure,
});

function input(name: string, figure: Figure | null, { style }: Context, asked: FigureAsked | null): OriginInput {
  return { name, value: figureWithUncertainty(figure, style), asked };
}

/** The capture in which the indication stands highest, with the samples and the time that were read. */
function peakCapture(peak: DynamicPoint | null): Origin['capture'] {
  return peak && { captureId: peak.captureId, samples: peak.reading.from, timeUs: peak.reading.peakUs };
}

const bounded = (told: Pick<Origin, 'value' | 'uncertainty'>, sign: '' | '≥' | '≤') =>
  sign === '' ? told : { ...told, value: `${sign} ${told.value}` };

function lengthOrigin(which: 'length' | 'length-across', context: Context): Origin {
  const { indication, style } = context;
  const isAlong = which === 'length';
  const length = isAlong ? indication.length : indication.lengthAcross;
  const result = length.lengthMm && figures.lengthMm(length.lengthMm, style);
  const why = length.withoutLength === null ? '' : ` ${length.withoutLength}`;
  const key = length.takenOffMm === null ? 'length' : 'length-less-beam';
  return origin({
    title: `Length of ‘${indication.name}’${isAlong ? '' : ' across the lines'}`,
    ...bounded(shown(result, style), length.atLeast ? '≥' : length.atMost ? '≤' : ''),
    formula: lengthArithmetic(length, style),
    uncertaintyFormula: null,
    inputs: [
      input(
        'high end',
        length.high && figures.lengthMm(length.high.positionMm, style),
        context,
        isAlong ? ask(context, 'high-end') : null,
      ),
      input(
        'low end',
        length.low && figures.lengthMm(length.low.positionMm, style),
        context,
        isAlong ? ask(context, 'low-end') : null,
      ),
      ...(length.takenOffMm === null
        ? []
        : [input('beam width at the drop', figures.lengthMm(length.takenOffMm, style), context, null)]),
    ],
    capture: peakCapture(indication.peak),
    source: `${lengthMethods[length.method]}. ${sizingFormulas[key].source}. ${sizingUncertainties.length.text} (${sizingUncertainties.length.source}).${why}${remarks(length.remarks)}`,
  });
}

const remarks = (sentences: readonly string[]): string => sentences.map((sentence) => ` ${sentence}`).join('');

const endStates: Readonly<Record<End['state'], string>> = {
  crossed: '',
  'beyond-scan': ' The echo stands above the level at the last position scanned: the end lies there or farther out.',
  'in-noise': ' The echo is lost in noise before it has fallen to the level: the end lies there or farther out.',
};

function endOrigin(which: 'low-end' | 'high-end', context: Context): Origin {
  const { indication, style } = context;
  const { length, along } = indication;
  const end = which === 'low-end' ? length.low : length.high;
  const pointAt = (mm: number | null) => along.points.find(({ positionMm }) => positionMm === mm) ?? null;
  const inside = pointAt(end?.insideMm ?? null);
  const outside = pointAt(end?.outsideMm ?? null);
  const above = (point: DynamicPoint | null): number | null => {
    const toCurve = length.method === 'half-of-curve';
    if (point?.levelDb == null || (length.endLevelDb === null && !toCurve)) return null;
    return toCurve ? null : point.levelDb - length.endLevelDb!;
  };
  const [ya, yb] = [above(inside), above(outside)];
  const heights = (name: string, point: DynamicPoint | null): OriginInput[] =>
    point === null
      ? []
      : [
          {
            name: `${name}, ${point.captureId} at ${figureWords(figures.lengthMm(point.positionMm, style), style)}`,
            value: figureWords(
              point.amplitudePercent === null ? null : figures.amplitudePercent(point.amplitudePercent, style),
              style,
            ),
            asked: null,
          },
        ];
  return origin({
    title: `${which === 'low-end' ? 'Low' : 'High'} end of ‘${indication.name}’`,
    ...bounded(
      shown(end && figures.lengthMm(end.positionMm, style), style),
      end === null || end.state === 'crossed' ? '' : which === 'low-end' ? '≤' : '≥',
    ),
    formula: end === null || ya === null || yb === null ? null : endArithmetic(end, ya, yb, style),
    inputs: [...heights('last above the level', inside), ...heights('first below it', outside), ...levelInput(context)],
    capture: inside && peakCapture(inside),
    source: `${sizingFormulas.end.source}.${end === null ? '' : endStates[end.state]}`,
  });
}

/** The level at which the ends lie, in % of the screen at the gain of the echo-dynamic. */
function levelInput({ indication, style }: Context): OriginInput[] {
  const { length, along } = indication;
  if (length.endLevelDb === null) return [];
  const gain = along.gainDb === null ? '' : ` at ${figureWords(figures.levelDb(along.gainDb, style), style)}`;
  const percent = figures.amplitudePercent(power(10, length.endLevelDb / 20), style);
  return [{ name: 'level', value: `${figureWords(percent, style)}${gain}`, asked: null }];
}

function amplitudeOrigin({ indication, style, review }: Context): Origin {
  const { peak, peakIsLowerBound, along } = indication;
  const height = peak?.amplitudePercent == null ? null : figures.amplitudePercent(peak.amplitudePercent, style);
  return origin({
    title: `Height of ‘${indication.name}’ where it is highest`,
    ...bounded(shown(height, style), peakIsLowerBound && height !== null ? '≥' : ''),
    inputs: along.points
      .filter(({ captureId }) => indication.captures.includes(captureId))
      .map((point) => ({
        name: `${point.captureId} at ${figureWords(figures.lengthMm(point.positionMm, style), style)}`,
        value: figureWords(
          point.amplitudePercent === null ? null : figures.amplitudePercent(point.amplitudePercent, style),
          style,
        ),
        asked: null,
      })),
    capture: peakCapture(peak),
    source: `${heightInWords(review.conditioning)} ${conditioningInWords(review.conditioning)}.`,
  });
}

function pathOrigin(context: Context): Origin {
  const { indication, evaluation, style } = context;
  const { soundPathMm, peak } = indication;
  const calibration = evaluation.calibration?.calibration ?? null;
  const timeUs = peak?.reading.timeUs ?? null;
  const known = soundPathMm !== null && timeUs !== null && calibration !== null;
  return origin({
    title: `Sound path of ‘${indication.name}’ where it is highest`,
    ...shown(soundPathMm && figures.lengthMm(soundPathMm, style), style),
    formula: known ? pathFormula(timeUs, calibration, soundPathMm, style) : null,
    uncertaintyFormula: known ? pathUncertainty(timeUs, calibration, soundPathMm, style) : null,
    inputs: [
      input('time', timeUs && figures.timeUs(timeUs, style), context, null),
      ...calibrationInputs(calibration, style),
    ],
    capture: peakCapture(peak),
    source: 'Pulse-echo definition; uncertainty with the covariance of the fit: JCGM 100:2008 (GUM), 5.2.2 and H.3',
  });
}

const placeTitles = { depth: 'Depth', 'surface-distance': 'Surface distance', leg: 'Leg' } as const;

function placeOrigin(figure: keyof typeof placeTitles, context: Context): Origin {
  const { indication, review, style } = context;
  const beam = review.readings?.beam ?? null;
  const angle = review.part?.probe.angleDeg ?? beam?.angleDeg ?? null;
  const shape = review.part?.shape ?? null;
  const thickness =
    shape === null ? (beam?.thicknessMm ?? null) : shape.kind === 'step-block' ? null : shape.thicknessMm;
  const value = figure === 'depth' ? indication.depthMm : figure === 'leg' ? null : indication.surfaceDistanceMm;
  const words =
    figure === 'leg'
      ? { value: String(indication.leg ?? '–'), uncertainty: null }
      : shown(value && figures.lengthMm(value, style), style);
  return origin({
    title: `${placeTitles[figure]} of ‘${indication.name}’`,
    ...words,
    inputs: [
      input(
        'sound path',
        indication.soundPathMm && figures.lengthMm(indication.soundPathMm, style),
        context,
        ask(context, 'sound-path'),
      ),
      {
        name: 'beam angle',
        value: figureWords(angle === null ? null : figures.angleDeg(angle, style), style),
        asked: null,
      },
      {
        name: 'thickness',
        value: figureWords(thickness === null ? null : figures.statedMm(thickness, style), style),
        asked: null,
      },
    ],
    capture: peakCapture(indication.peak),
    source:
      shape?.kind === 'pipe'
        ? 'Cosine rule in a pipe (common practice)'
        : 'Plane geometry of a parallel plate (common practice): the path followed along its legs',
  });
}

function levelOrigin(context: Context): Origin {
  const { indication, review, evaluation, style } = context;
  const { amplitude } = indication;
  const held = amplitude.held;
  const reference =
    review.scan === null
      ? null
      : scanReferences(review.scan, evaluation.sensitivity?.curve ?? null, review.sensitivity).level;
  const level = held?.levelDb == null ? null : figures.levelDb(held.levelDb, style);
  const by = reference?.by ?? null;
  return origin({
    title: `Level of ‘${indication.name}’ above the reference`,
    ...bounded(shown(level, style), level !== null && indication.peakIsLowerBound ? '≥' : ''),
    formula:
      held === null || by?.reference == null
        ? null
        : readingLevelArithmetic(held, by.reference, by.transferDb.value, style),
    inputs: [
      input(
        'height',
        held?.amplitudePercent == null ? null : figures.amplitudePercent(held.amplitudePercent, style),
        context,
        ask(context, 'amplitude'),
      ),
      input('gain of the capture', held?.gainDb == null ? null : figures.levelDb(held.gainDb, style), context, null),
      input(
        'reference height',
        by?.reference == null ? null : figures.amplitudePercent(by.reference.percent, style),
        context,
        null,
      ),
      input(
        'reference gain',
        by?.reference?.gainDb == null ? null : figures.levelDb(by.reference.gainDb, style),
        context,
        null,
      ),
      input(
        'gain taken out',
        amplitude.takenOutDb === null ? null : figures.levelDb(amplitude.takenOutDb, style),
        context,
        null,
      ),
    ],
    capture: peakCapture(indication.peak),
    source: `${sensitivityFormulas.level.source}.${amplitude.unreferenced === null ? '' : ` ${amplitude.unreferenced}`}${remarks(amplitude.remarks)}`,
  });
}

function toCurveOrigin(context: Context): Origin {
  const { indication, style } = context;
  const held = indication.toCurve?.held ?? null;
  const toCurve = held?.toCurveDb == null ? null : figures.levelDb(held.toCurveDb, style);
  return origin({
    title: `‘${indication.name}’ to the curve`,
    ...bounded(shown(toCurve, style), toCurve !== null && indication.peakIsLowerBound ? '≥' : ''),
    formula: held && toCurveArithmetic(held, style),
    uncertaintyFormula: held && toCurveUncertainty(held, style),
    inputs: [
      input(
        'level above the curve’s reference',
        held?.levelDb == null ? null : figures.levelDb(held.levelDb, style),
        context,
        null,
      ),
      input(
        'curve at the sound path',
        held?.curveDb == null ? null : figures.levelDb(held.curveDb, style),
        context,
        null,
      ),
      ...(held?.levels ?? []).map(({ name, db, outcome }) => ({
        name,
        value: `${figureWords(figures.levelDb(db, style), style)}: ${outcome.replace('-', ' ')}`,
        asked: null,
      })),
    ],
    capture: peakCapture(indication.peak),
    source: `${sensitivityFormulas['to-curve'].source}.${remarks(held?.remarks ?? [])}`,
  });
}

function ratingOrigin(figure: 'attenuation-factor' | 'rating', context: Context): Origin {
  const { indication, style } = context;
  const { rating, withoutRating } = indication;
  const told = { title: `${figure === 'rating' ? 'Indication rating' : 'Attenuation factor'} of ‘${indication.name}’` };
  if (rating === null) return origin({ ...told, value: '–', source: withoutRating ?? 'No rating was asked for.' });
  const path = input('sound path', figures.lengthMm(rating.soundPathMm, style), context, ask(context, 'sound-path'));
  const factor = { ...figures.levelDb(rating.factor.factorDb, style), decimals: 0 };
  if (figure === 'attenuation-factor')
    return origin({
      ...told,
      ...shown(factor, style),
      formula: factorArithmetic(rating, style),
      inputs: [path],
      source: `${ratingFormulas[rating.form === 'inch' ? 'attenuation-factor-inch' : 'attenuation-factor-si'].source}.${remarks(rating.remarks)}`,
    });
  const gains =
    rating.indicationLevelDb === null
      ? []
      : [
          input('indication level', figures.levelDb(rating.indicationLevelDb, style), context, null),
          input('reference level', figures.levelDb(rating.referenceLevelDb!, style), context, null),
        ];
  return origin({
    ...told,
    ...bounded(shown(figures.levelDb(rating.ratingDb, style), style), rating.atMost ? '≤' : ''),
    formula: ratingArithmetic(rating, style),
    inputs: [
      ...gains,
      input(
        'level above the reference',
        figures.levelDb({ ...rating.aboveReferenceGainDb, value: -rating.aboveReferenceGainDb.value }, style),
        context,
        ask(context, 'level'),
      ),
      input('attenuation factor', factor, context, ask(context, 'attenuation-factor')),
    ],
    source: `${ratingFormulas.rating.source}. ${ratingClause}. ${ratingCaution}${remarks(rating.remarks)}`,
  });
}
