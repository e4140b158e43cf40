import { tan } from '../elementary/trigonometric.ts';
import { unreachable } from '../invariant.ts';
import type { Origin } from '../origin.ts';
import { locationFormulas } from '../part/formulas.ts';
import { refersTo } from '../steps/calibration-points.ts';
import type { LocatedReading } from '../steps/locate.ts';
import type { Quantity } from '../units/quantity.ts';
import { flagsShown, type OriginContext, origin, shown } from './context.ts';
import { figures, figureWords } from './figure.ts';
import { cosDeg } from './flat-depth.ts';
import { withNumbers } from './formula-numbers.ts';
import {
  type AskedOfReading,
  type LocationAsked,
  type LocationContext,
  length,
  type Placed,
  plain,
  shapeInputs,
  stated,
  sumOfSquares,
  surfaceInput,
} from './location-inputs.ts';
import { depthOrigin, surfaceOrigin } from './of-place.ts';
import { angleOrigin, elsewhereOrigin, indexOrigin } from './of-probe-check.ts';

export function originInLocation(asked: LocationAsked, context: OriginContext): Origin | null {
  const { part } = context.review;
  const result = context.evaluation.location;
  if (part === null || result === null) return null;
  const known = { ...context, part, result };
  if (!('gate' in asked)) return ofBeam(asked.figure, known);
  const located = result.readings.find((one) => one.captureId === asked.captureId && one.gate === asked.gate);
  if (located === undefined) return null;
  const made = ofReading({ ...known, asked, located, thicknessMm: thicknessUnder(known, located) });
  const timeUs = context.evaluation.readings?.readings.find(
    (one) => one.captureId === asked.captureId && one.gate === asked.gate,
  );
  return {
    ...made,
    title: `${made.title} at gate ‘${asked.gate}’`,
    capture: {
      captureId: located.captureId,
      samples: timeUs?.from ?? null,
      timeUs: timeUs?.timeUs?.value ?? null,
    },
    flags: flagsShown(located.flags),
  };
}

function thicknessUnder({ part, evaluation }: LocationContext, { captureId }: LocatedReading): Quantity {
  const { shape } = part;
  const capture = evaluation.captures.find((one) => one.captureId === captureId);
  const step =
    shape.kind === 'step-block'
      ? shape.steps.find(({ captures }) => capture !== undefined && captures.some((name) => refersTo(name, capture)))
      : shape;
  return { value: step?.thicknessMm ?? 0, standardUncertainty: step?.uThicknessMm ?? null };
}

function ofReading(placed: Placed): Origin {
  switch (placed.asked.figure) {
    case 'depth':
      return depthOrigin(placed);
    case 'surface-distance':
      return surfaceOrigin(placed);
    case 'from-front':
      return fromFrontOrigin(placed);
    case 'across':
      return acrossOrigin(placed);
    case 'leg':
      return legOrigin(placed);
    default:
      return unreachable(placed.asked.figure);
  }
}

function fromFrontOrigin(placed: Placed): Origin {
  const { part, located, style } = placed;
  const { indexToFrontMm, uIndexMm } = part.probe;
  const result = length(located.place?.fromFrontMm, placed);
  const surface = length(located.place?.surfaceDistanceMm, placed);
  const known = result !== null && surface !== null && indexToFrontMm !== null;
  return origin({
    title: 'From the front of the wedge',
    ...shown(result, style),
    formula: known
      ? {
          text: locationFormulas['from-front'].text,
          withNumbers: withNumbers(
            [surface, figures.statedMm(indexToFrontMm, style)],
            (s, x) => s - x,
            (s, x) => `${s} − ${x}`,
            result,
            style,
          ),
        }
      : null,
    uncertaintyFormula: known ? sumOfSquares('from-front', surface, [uIndexMm], result, placed) : null,
    inputs: [
      surfaceInput(placed),
      plain('index point to front', indexToFrontMm === null ? null : stated(indexToFrontMm, uIndexMm, placed), placed),
    ],
    source: locationFormulas['from-front'].source,
  });
}

function acrossOrigin(placed: Placed): Origin {
  const { part, located, style } = placed;
  const { probe, place } = located;
  const result = length(place?.acrossMm, placed);
  const surface = length(place?.surfaceDistanceMm, placed);
  const known = result !== null && surface !== null && probe !== null;
  const right = probe?.side === 'right';
  return origin({
    title: 'Across the weld',
    ...shown(result, style),
    formula: known
      ? {
          text: locationFormulas.across.text,
          withNumbers: withNumbers(
            [surface, figures.statedMm(probe.offsetMm, style)],
            (s, o) => (right ? o - s : s - o),
            (s, o) => (right ? `${o} − ${s}` : `${s} − ${o}`),
            result,
            style,
          ),
        }
      : null,
    uncertaintyFormula: known
      ? sumOfSquares('across', surface, [probe.uOffsetMm, part.probe.uIndexMm], result, placed)
      : null,
    inputs: [
      surfaceInput(placed),
      plain('offset of the index point', probe && stated(probe.offsetMm, probe.uOffsetMm, placed), placed),
      { name: 'side of the probe', value: probe?.side ?? 'not known', asked: null },
    ],
    source: locationFormulas.across.source,
  });
}

function legOrigin(placed: Placed): Origin {
  const { located } = placed;
  return origin({
    title: 'Leg',
    value: String(located.place?.leg ?? '–'),
    inputs: shapeInputs(placed),
    source: `${locationFormulas.leg.text}. ${locationFormulas.leg.source}.`,
  });
}

function ofBeam(figure: Exclude<LocationAsked, AskedOfReading>['figure'], context: LocationContext): Origin | null {
  switch (figure) {
    case 'leg-length':
    case 'half-skip':
    case 'skip':
    case 'v-path':
      return skipOrigin(figure, context);
    case 'index-point':
      return indexOrigin(context);
    case 'probe-angle':
      return angleOrigin(context);
    case 'expected-angle':
      return elsewhereOrigin(context);
    default:
      return unreachable(figure);
  }
}

const skipTitles = { 'leg-length': 'Leg', 'half-skip': 'Half skip', skip: 'Skip', 'v-path': 'V-path' } as const;

function skipOrigin(figure: keyof typeof skipTitles, { part, result, style }: LocationContext): Origin | null {
  const skips = result.beam?.skips ?? null;
  const { shape, probe } = part;
  if (skips === null || shape.kind === 'step-block') return null;
  const value = {
    'leg-length': skips.legMm,
    'half-skip': skips.halfSkipMm,
    skip: skips.skipMm,
    'v-path': skips.vPathMm,
  };
  const shownLength = figures.lengthMm(value[figure], style);
  const twice = figure === 'skip' || figure === 'v-path';
  const alongSurface = figure === 'skip' || figure === 'half-skip';
  const flat = shape.kind === 'plate';
  return origin({
    title: skipTitles[figure],
    ...shown(shownLength, style),
    formula: flat
      ? {
          text: locationFormulas[figure].text,
          withNumbers: withNumbers(
            [figures.statedMm(shape.thicknessMm, style), figures.angleDeg(probe.angleDeg, style)],
            (t, a) => (twice ? 2 : 1) * (alongSurface ? t * tan((a * Math.PI) / 180) : t / cosDeg(a)),
            (t, a) => `${twice ? '2 · ' : ''}${t} ${alongSurface ? `· tan ${a}` : `/ cos ${a}`}`,
            shownLength,
            style,
          ),
        }
      : null,
    inputs: [
      { name: 'thickness', value: figureWords(figures.statedMm(shape.thicknessMm, style), style), asked: null },
      { name: 'beam angle', value: figureWords(figures.angleDeg(probe.angleDeg, style), style), asked: null },
    ],
    source: flat ? locationFormulas[figure].source : 'Cosine rule in a pipe (common practice)',
  });
}
