import { readBlock } from '../block/block-by-name.ts';
import type { DistanceCalibration } from '../calibration/distance.ts';
import { flagTexts } from '../flag.ts';
import { formulas, methods } from '../formula.ts';
import { unreachable } from '../invariant.ts';
import type { FigureAsked, Origin, OriginInput } from '../origin.ts';
import {
  conditioningInWords,
  flagsShown,
  heightInWords,
  type OriginContext,
  origin,
  shown,
  timingInWords,
} from './context.ts';
import { type Figure, figures, figureWithUncertainty, figureWords } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';
import { velocityFormula, zeroOffsetFormula } from './line-formula.ts';
import { calibrationInputs } from './path-formula.ts';

type Asked = Extract<FigureAsked, { kind: 'calibration' }>;
type PointAsked = Extract<FigureAsked, { kind: 'calibration-point' }>;

/** Two distances are the same reflector when they differ by less. */
const sameMm = 1e-6;

export function originInCalibration(asked: Asked, context: OriginContext): Origin | null {
  const calibration = context.evaluation.calibration?.calibration ?? null;
  if (calibration === null) return null;
  const isVelocity = asked.figure === 'velocity';
  const { style } = context;
  const figure = isVelocity
    ? figures.velocityMPerS(calibration.velocityMPerS, style)
    : figures.timeUs(calibration.zeroOffsetUs, style);
  const { value, uncertainty } = shown(figure, style);
  const interval = halfWidth95(calibration, asked.figure, figure, context);
  const told = {
    title: isVelocity ? 'Velocity' : 'Zero offset',
    value,
    uncertainty: interval === null ? uncertainty : [uncertainty, interval].filter((part) => part !== null).join('; '),
    flags: calibrationFlags(context, calibration),
  };
  const decision = context.review.calibration;
  if (decision?.kind === 'given') {
    const file: OriginInput = { name: 'taken from', value: decision.file, asked: null };
    return origin({ ...told, inputs: [file], source: methods.given });
  }
  const formula = isVelocity
    ? velocityFormula(calibration.points, calibration.velocityMPerS, style)
    : zeroOffsetFormula(calibration.points, calibration, style);
  const exact = calibration.points.length === 2;
  const key = isVelocity ? (exact ? 'velocity-of-two' : 'velocity') : 'zero-offset';
  return origin({
    ...told,
    formula,
    inputs: [
      ...(isVelocity ? [] : calibrationInputs(calibration, style).slice(1)),
      ...calibration.points.map((point) => pointInput(point, context)),
      ...blockInput(context),
    ],
    source: formulas[key].source,
  });
}

function halfWidth95(
  calibration: DistanceCalibration,
  of: Asked['figure'],
  figure: Figure,
  { style }: OriginContext,
): string | null {
  const half = of === 'velocity' ? calibration.velocityHalfWidth95MPerS : calibration.zeroOffsetHalfWidth95Us;
  if (half === null) return null;
  const inUnit = of === 'velocity' ? figures.velocityMPerS(half, style) : figures.timeUs(half, style);
  return `95 % interval ± ${figureWords({ ...inUnit, decimals: figure.decimals }, style)}`;
}

/** The doubts about the fit, with their numbers; a flag without a doubt of its own by its general text. */
function calibrationFlags({ evaluation }: OriginContext, { flags }: DistanceCalibration): Origin['flags'] {
  const doubts = evaluation.calibration?.doubts ?? [];
  return flags.map((flag) => {
    const doubt = doubts.find((d) => d.flag === flag);
    return { flag, sentence: doubt?.sentence ?? flagTexts[flag].sentence, advice: flagTexts[flag].advice };
  });
}

function pointInput(point: DistanceCalibration['points'][number], { style }: OriginContext): OriginInput {
  const time = figures.echoTimeUs({ value: point.timeUs, standardUncertainty: point.uTimeUs }, style);
  return {
    name: `echo of the reflector at ${figureWords(figures.statedMm(point.distanceMm, style), style)}`,
    value: figureWithUncertainty(time, style),
    asked: { kind: 'calibration-point', distanceMm: point.distanceMm, figure: 'time' },
  };
}

function blockInput({ review }: OriginContext): OriginInput[] {
  const decision = review.calibration;
  if (decision?.kind !== 'fit' || decision.reflectors.kind !== 'block') return [];
  const block = readBlock(decision.reflectors.name);
  if (!block.ok) return [];
  return [{ name: 'block', value: `${block.value.title} (${block.value.source})`, asked: null }];
}

export function originOfPoint(asked: PointAsked, context: OriginContext): Origin | null {
  const { evaluation, review, style } = context;
  const calibration = evaluation.calibration?.calibration ?? null;
  const point = calibration?.points.find((p) => Math.abs(p.distanceMm - asked.distanceMm) < sameMm);
  if (calibration === null || point === undefined) return null;
  const distance = figureWords(figures.statedMm(point.distanceMm, style), style);
  const common = {
    capture:
      point.captureId === null ? null : { captureId: point.captureId, samples: point.from, timeUs: point.timeUs },
    flags: flagsShown(point.flags),
  };
  const timing = review.calibration?.timing ?? 'peak';
  const conditioning: OriginInput = {
    name: 'conditioning',
    value: conditioningInWords(review.conditioning),
    asked: null,
  };
  switch (asked.figure) {
    case 'time':
      return origin({
        ...common,
        title: `Time of the echo at ${distance}`,
        ...shown(figures.echoTimeUs({ value: point.timeUs, standardUncertainty: point.uTimeUs }, style), style),
        inputs: [conditioning],
        source: timingInWords(timing, review.conditioning),
      });
    case 'amplitude':
      return origin({
        ...common,
        title: `Amplitude of the echo at ${distance}`,
        ...shown(
          point.amplitudePercent === null ? null : figures.amplitudePercent(point.amplitudePercent, style),
          style,
        ),
        inputs: [conditioning],
        source: heightInWords(review.conditioning),
      });
    case 'residual': {
      const residual = figures.residualMm(point.residualMm, style);
      return origin({
        ...common,
        title: `Residual at ${distance}`,
        ...shown(residual, style),
        formula: {
          text: formulas.residual.text,
          withNumbers: withNumbers(
            [
              figures.echoTimeUs(point.timeUs, style),
              figures.timeUs(calibration.zeroOffsetUs, style),
              figures.velocityPerUs(calibration.velocityMPerS, style),
              figures.statedMm(point.distanceMm, style),
            ],
            (t, z, v, d) => ((t - z) * v) / 2 - d,
            (t, z, v, d) => `(${t} − ${z}) · ${v} / 2 − ${d}`,
            residual,
            style,
          ),
        },
        inputs: [pointInput(point, context), ...calibrationInputs(calibration, style)],
        source: formulas.residual.source,
      });
    }
    default:
      return unreachable(asked.figure);
  }
}
