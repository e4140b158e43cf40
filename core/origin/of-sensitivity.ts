import { unreachable } from '../invariant.ts';
import type { FigureAsked, Origin } from '../origin.ts';
import {
  apparentAttenuationArithmetic,
  attenuationFigure,
  lawArithmetic,
  nearFieldArithmetic,
} from '../sensitivity/attenuation-arithmetic.ts';
import { curveArithmetic, gainArithmetic } from '../sensitivity/curve-arithmetic.ts';
import { type CurvePoint, curveAt } from '../sensitivity/distance-amplitude-curve.ts';
import { sensitivityFormulas } from '../sensitivity/formulas.ts';
import {
  highestPoint,
  pointHeightArithmetic,
  pointLevelArithmetic,
  referenceGainArithmetic,
} from '../sensitivity/level-arithmetic.ts';
import { spreadingOf } from '../sensitivity/reflector-kind.ts';
import { highestDistanceMm } from '../sensitivity/time-corrected-gain.ts';
import type { CurveResult, SensitivityResult } from '../steps/sensitivity.ts';
import { conditioningInWords, flagsShown, heightInWords, type OriginContext, origin, shown } from './context.ts';
import { figures, figureWords } from './figure.ts';
import { originOfHeldReading } from './of-held-reading.ts';
import { heightFigure, input, levelFigure, lineInputs, readAt, referenceInputs } from './sensitivity-inputs.ts';

type Asked = Extract<FigureAsked, { kind: 'sensitivity' }>;
type AskedAtDistance = Extract<Asked, { distanceMm: number }>;

/** Two distances are the same when they differ by less. */
const sameMm = 1e-6;

interface Context extends OriginContext {
  readonly result: SensitivityResult;
}

export function originInSensitivity(asked: Asked, context: OriginContext): Origin | null {
  const result = context.evaluation.sensitivity;
  if (result === null) return null;
  const known = { ...context, result };
  if ('gate' in asked) return originOfHeldReading(asked, known, result.curve);
  if ('distanceMm' in asked) return atDistance(asked, known);
  switch (asked.figure) {
    case 'reference-gain':
      return referenceGain(known);
    case 'attenuation':
      return attenuationOfLaw(known);
    case 'apparent-attenuation':
      return apparent(known);
    case 'near-field':
      return nearFieldOrigin(known);
    default:
      return unreachable(asked);
  }
}

function referenceGain({ result, style }: Context): Origin | null {
  const curve = result.curve;
  const reference = curve?.reference ?? null;
  if (curve === null || reference === null) return null;
  const highest = highestPoint(curve.points);
  const given = reference.by === 'stated';
  return origin({
    title: 'Reference gain',
    ...shown(levelFigure(reference.gainDb, style), style),
    formula: referenceGainArithmetic(reference, curve.points, style),
    inputs: [
      input('reference height', heightFigure(reference.percent, style), style, null),
      ...(highest === null || given
        ? []
        : [
            input('height of the highest echo', heightFigure(highest.amplitudePercent, style), style, {
              kind: 'sensitivity',
              figure: 'point-amplitude',
              distanceMm: highest.distanceMm,
            }),
            input('gain of the highest echo', levelFigure(highest.gainDb, style), style, null),
          ]),
    ],
    source: given ? 'Stated by the person.' : sensitivityFormulas['reference-gain'].source,
  });
}

function atDistance(asked: AskedAtDistance, context: Context): Origin | null {
  if (asked.figure === 'back-wall-amplitude') return backWallAmplitude(asked.distanceMm, context);
  const { curve } = context.result;
  if (curve === null) return null;
  if (asked.figure === 'curve') return curveThere(asked.distanceMm, curve, context);
  if (asked.figure === 'added-gain') return addedGain(asked.distanceMm, curve, context);
  const point = curve.points.find(({ distanceMm }) => Math.abs(distanceMm - asked.distanceMm) < sameMm);
  if (point === undefined || curve.reference === null) return null;
  const made = ofPoint(asked.figure, point, curve, context);
  const at = figureWords(figures.statedMm(point.distanceMm, context.style), context.style);
  return {
    ...made,
    title: `${made.title} of the reflector at ${at}`,
    capture: readAt(point),
    flags: flagsShown(point.flags),
  };
}

function ofPoint(
  figure: 'point-amplitude' | 'point-level' | 'point-height',
  point: CurvePoint,
  curve: CurveResult,
  { review, style }: Context,
): Origin {
  const { distanceMm } = point;
  const reference = curve.reference!;
  switch (figure) {
    case 'point-amplitude':
      return origin({
        title: 'Height',
        ...shown(heightFigure(point.amplitudePercent, style), style),
        inputs: [
          input('gain of the capture', levelFigure(point.gainDb, style), style, null),
          { name: 'conditioning', value: conditioningInWords(review.conditioning), asked: null },
          ...point.others.map(({ captureId, belowDb }) => ({
            name: `${captureId}, dB below`,
            value: figureWords(figures.levelDb(belowDb, style), style),
            asked: null,
          })),
        ],
        source: `${heightInWords(review.conditioning)} Of several captures the one in which the echo stands highest serves, gain taken out.`,
      });
    case 'point-level':
      return origin({
        title: 'Level',
        ...shown(levelFigure(point.levelDb, style), style),
        formula: pointLevelArithmetic(point, reference, style),
        inputs: [
          input('height', heightFigure(point.amplitudePercent, style), style, {
            kind: 'sensitivity',
            figure: 'point-amplitude',
            distanceMm,
          }),
          ...referenceInputs(curve, point.gainDb, style),
        ],
        source: sensitivityFormulas.level.source,
      });
    case 'point-height':
      return origin({
        title: 'Height at the reference gain',
        ...shown(heightFigure(point.heightPercent, style), style),
        formula: pointHeightArithmetic(point, reference, style),
        inputs: [
          input('level', levelFigure(point.levelDb, style), style, {
            kind: 'sensitivity',
            figure: 'point-level',
            distanceMm,
          }),
          input('reference height', heightFigure(reference.percent, style), style, null),
        ],
        source: sensitivityFormulas['height-at-reference'].source,
      });
    default:
      return unreachable(figure);
  }
}

function curveThere(distanceMm: number, curve: CurveResult, { style }: Context): Origin | null {
  const drawn = curve.curve;
  const there = drawn === null ? null : curveAt(drawn, distanceMm);
  if (drawn === null || there === null) return null;
  const key = drawn.straightIn === 'db' ? 'curve-straight-in-db' : 'curve-straight-in-percent';
  return origin({
    title: `Curve at ${figureWords(figures.lengthMm(distanceMm, style), style)}`,
    ...shown(levelFigure(there.levelDb, style), style),
    formula: curveArithmetic(drawn, distanceMm, there.levelDb, style),
    inputs: lineInputs(curve, distanceMm, style),
    source: sensitivityFormulas[key].source,
  });
}

function addedGain(distanceMm: number, curve: CurveResult, { style }: Context): Origin | null {
  const row = curve.timeCorrectedGain.find((entry) => Math.abs(entry.distanceMm - distanceMm) < sameMm);
  if (curve.curve === null || row === undefined) return null;
  const referenceMm = highestDistanceMm(curve.curve);
  const atReference = curveAt(curve.curve, referenceMm);
  if (atReference === null) return null;
  const at = (mm: number) => figureWords(figures.lengthMm(mm, style), style);
  const asked = (mm: number) => ({ kind: 'sensitivity', figure: 'curve', distanceMm: mm }) as const;
  return origin({
    title: `Gain to be added at ${at(row.distanceMm)}`,
    ...shown(levelFigure(row.addedGainDb, style), style),
    formula: gainArithmetic(atReference.levelDb, row, style),
    inputs: [
      input(
        `curve at its highest point, ${at(referenceMm)}`,
        levelFigure(atReference.levelDb, style),
        style,
        asked(referenceMm),
      ),
      input(`curve at ${at(row.distanceMm)}`, levelFigure(row.curveLevelDb, style), style, asked(row.distanceMm)),
    ],
    source: sensitivityFormulas['time-corrected-gain'].source,
  });
}

function attenuationOfLaw({ result, style }: Context): Origin | null {
  const { curve } = result;
  if (curve === null) return null;
  const { law, withoutLaw } = curve;
  if (law === null) return origin({ title: 'Attenuation', value: '–', source: withoutLaw ?? '' });
  const half = law.attenuationHalfWidth95DbPerMm;
  const attenuation = attenuationFigure(law.attenuationDbPerMm, style);
  const told = shown(attenuation, style);
  const interval =
    half === null
      ? ''
      : `; 95 % interval ± ${figureWords({ ...attenuation, value: attenuationFigure(half, style).value }, style)}`;
  return origin({
    title: 'Attenuation by the fitted law, along the way that the sound travels',
    value: told.value,
    uncertainty: told.uncertainty === null ? null : `${told.uncertainty}${interval}`,
    formula: lawArithmetic(law, style),
    inputs: [
      { name: 'exponent of spreading', value: `${law.exponent}, ${spreadingOf[curve.kind].title}`, asked: null },
      ...law.points.map(({ distanceMm }) => {
        const at = figureWords(figures.statedMm(distanceMm, style), style);
        const point = curve.points.find((candidate) => candidate.distanceMm === distanceMm);
        return input(`level of the reflector at ${at}`, levelFigure(point?.levelDb ?? null, style), style, {
          kind: 'sensitivity',
          figure: 'point-level',
          distanceMm,
        });
      }),
    ],
    source: sensitivityFormulas['attenuation-law'].source,
    flags: curve.doubts.map(({ flag, sentence }) => ({ flag, sentence, advice: '' })),
  });
}

function apparent({ result, style }: Context): Origin | null {
  const { attenuation } = result;
  if (attenuation === null) return null;
  const echoes = [
    { name: 'near echo', echo: attenuation.near },
    { name: 'far echo', echo: attenuation.far },
  ];
  return origin({
    title: 'Apparent attenuation, along the way that the sound travels',
    ...shown(attenuationFigure(attenuation.attenuationDbPerMm, style), style),
    formula: apparentAttenuationArithmetic(attenuation, style),
    inputs: echoes.flatMap(({ name, echo }) => [
      input(`height of the ${name}`, heightFigure(echo.amplitudePercent, style), style, {
        kind: 'sensitivity',
        figure: 'back-wall-amplitude',
        distanceMm: echo.distanceMm,
      }),
      input(`distance of the ${name}`, figures.statedMm(echo.distanceMm, style), style, null),
      input(`gain of the ${name}`, levelFigure(echo.gainDb, style), style, null),
    ]),
    source: sensitivityFormulas['apparent-attenuation'].source,
    flags: attenuation.doubts.map(({ flag, sentence }) => ({ flag, sentence, advice: '' })),
  });
}

function backWallAmplitude(distanceMm: number, { result, review, style }: Context): Origin | null {
  const { attenuation } = result;
  const echo = [attenuation?.near, attenuation?.far].find(
    (candidate) => candidate !== undefined && Math.abs(candidate.distanceMm - distanceMm) < sameMm,
  );
  if (echo === undefined) return null;
  return origin({
    title: `Height of the back-wall echo at ${figureWords(figures.statedMm(echo.distanceMm, style), style)}`,
    ...shown(heightFigure(echo.amplitudePercent, style), style),
    inputs: [{ name: 'conditioning', value: conditioningInWords(review.conditioning), asked: null }],
    source: heightInWords(review.conditioning),
    capture: readAt(echo),
    flags: flagsShown(echo.flags),
  });
}

function nearFieldOrigin({ result, evaluation, style }: Context): Origin | null {
  const { nearField, probe } = result;
  if (nearField === null || probe === null) return null;
  const stated = probe.velocityMPerS;
  const velocity = stated ?? evaluation.calibration?.calibration?.velocityMPerS ?? null;
  return origin({
    title: 'Length of the near field',
    ...shown(figures.lengthMm(nearField.lengthMm, style), style),
    formula: nearFieldArithmetic(nearField, probe.elementMm, style),
    inputs: [
      input('diameter of the element', figures.statedMm(probe.elementMm, style), style, null),
      { name: 'frequency', value: `${probe.frequencyMHz} MHz`, asked: null },
      input('wavelength', figures.residualMm(nearField.wavelengthMm, style), style, null),
      input(
        'velocity',
        velocity === null ? null : figures.velocityMPerS(velocity, style),
        style,
        stated === null ? { kind: 'calibration', figure: 'velocity' } : null,
      ),
    ],
    source: sensitivityFormulas['near-field'].source,
  });
}
