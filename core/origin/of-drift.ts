import { sameReflectorMm } from '../check/same-block.ts';
import { log10 } from '../elementary/exponential.ts';
import { formulas } from '../formula.ts';
import { unreachable } from '../invariant.ts';
import type { FormulaShown, Origin } from '../origin.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import {
  conditioningInWords,
  flagsShown,
  heightInWords,
  type OriginContext,
  origin,
  shown,
  timingInWords,
} from './context.ts';
import { type AtReflector, type Checked, type DriftAsked, here, limitInputs, toleranceInput } from './drift-context.ts';
import { lineFigure, velocityChange, zeroOffsetChange } from './drift-line.ts';
import { verdictOfCheck, verdictOfReflector } from './drift-verdict.ts';
import { type Figure, figures, figureWithUncertainty, figureWords } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';
import { calibrationInputs, pathFormula, pathUncertainty } from './path-formula.ts';

export function originInDrift(asked: DriftAsked, context: OriginContext): Origin | null {
  const result = context.evaluation.drift;
  const check = result?.checks.find((c) => c.captureId === asked.captureId);
  if (result === null || check === undefined) return null;
  const checked = { ...context, asked, result, check };
  if (asked.distanceMm === null) return ofCheck(checked);
  const { distanceMm } = asked;
  const reflector = check.reflectors.find((r) => Math.abs(r.distanceMm - distanceMm) < sameReflectorMm);
  if (reflector === undefined) return null;
  const made = ofReflector({ ...checked, reflector });
  if (made === null) return null;
  return {
    ...made,
    title: `${made.title} at ${figureWords(figures.statedMm(distanceMm, context.style), context.style)}`,
    capture: {
      captureId: check.captureId,
      samples: reflector.seen.from,
      timeUs: reflector.seen.timeUs?.value ?? null,
    },
    flags: flagsShown(reflector.flags),
  };
}

function ofCheck(checked: Checked): Origin | null {
  const { asked, check } = checked;
  const made = whole(checked);
  return (
    made && {
      ...made,
      capture: { captureId: asked.captureId, samples: null, timeUs: null },
      flags: flagsShown(check.flags),
    }
  );
}

function whole(checked: Checked): Origin | null {
  const { figure } = checked.asked;
  switch (figure) {
    case 'velocity-change':
      return velocityChange(checked);
    case 'zero-offset-change':
      return zeroOffsetChange(checked);
    case 'velocity':
      return lineFigure(checked, 'velocity');
    case 'zero-offset':
      return lineFigure(checked, 'zero-offset');
    case 'verdict':
      return verdictOfCheck(checked);
    default:
      return null;
  }
}

function ofReflector(at: AtReflector): Origin | null {
  const { figure } = at.asked;
  switch (figure) {
    case 'time':
      return timeOrigin(at);
    case 'amplitude':
      return amplitudeOrigin(at);
    case 'sound-path':
      return pathOrigin(at);
    case 'distance-error':
      return distanceError(at);
    case 'amplitude-change':
      return amplitudeChange(at);
    case 'verdict':
      return verdictOfReflector(at);
    case 'velocity':
    case 'zero-offset':
    case 'velocity-change':
    case 'zero-offset-change':
      return null;
    default:
      return unreachable(figure);
  }
}

function timeOrigin({ reflector, review, style }: AtReflector): Origin {
  const { timeUs } = reflector.seen;
  return origin({
    title: 'Time of the echo',
    ...shown(timeUs && figures.echoTimeUs(timeUs, style), style),
    inputs: [{ name: 'conditioning', value: conditioningInWords(review.conditioning), asked: null }],
    source: timingInWords(review.calibration?.timing ?? 'peak', review.conditioning),
  });
}

function amplitudeOrigin({ reflector, check, review, style }: AtReflector): Origin {
  const { amplitudePercent } = reflector.seen;
  return origin({
    title: 'Amplitude',
    ...shown(amplitudePercent === null ? null : figures.amplitudePercent(amplitudePercent, style), style),
    inputs: [
      { name: 'gain of the check', value: levelWords(check.gainDb, style), asked: null },
      { name: 'conditioning', value: conditioningInWords(review.conditioning), asked: null },
    ],
    source: heightInWords(review.conditioning),
  });
}

function levelWords(levelDb: number | null, style: FigureStyle): string {
  return figureWords(levelDb === null ? null : figures.levelDb(levelDb, style), style);
}

function pathOrigin(at: AtReflector): Origin {
  const { reflector, evaluation, style } = at;
  const calibration = evaluation.calibration?.calibration ?? null;
  const { timeUs } = reflector.seen;
  const { soundPathMm } = reflector;
  const known = timeUs !== null && soundPathMm !== null && calibration !== null;
  return origin({
    title: 'Sound path by the calibration',
    ...shown(soundPathMm && figures.lengthMm(soundPathMm, style), style),
    formula: known ? pathFormula(timeUs, calibration, soundPathMm, style) : null,
    uncertaintyFormula: known ? pathUncertainty(timeUs, calibration, soundPathMm, style) : null,
    inputs: [
      {
        name: 'time',
        value: figureWithUncertainty(timeUs && figures.timeUs(timeUs, style), style),
        asked: here(at, 'time'),
      },
      ...calibrationInputs(calibration, style),
    ],
    source: formulas['sound-path'].source,
  });
}

function distanceError(at: AtReflector): Origin {
  const { reflector, style } = at;
  const { distanceErrorMm, soundPathMm, distanceMm } = reflector;
  const error = distanceErrorMm && figures.lengthMm(distanceErrorMm, style);
  const path = soundPathMm && figures.lengthMm(soundPathMm, style);
  const known = figures.statedMm(distanceMm, style);
  return origin({
    title: 'Distance error',
    ...shown(error, style),
    formula:
      error === null || path === null
        ? null
        : {
            text: formulas['distance-error'].text,
            withNumbers: withNumbers(
              [path, known],
              (p, d) => p - d,
              (p, d) => `${p} − ${d}`,
              error,
              style,
            ),
          },
    inputs: [
      { name: 'sound path', value: figureWithUncertainty(path, style), asked: here(at, 'sound-path') },
      { name: 'known distance', value: figureWords(known, style), asked: null },
      toleranceInput(reflector.sameBlock),
      ...limitInputs(at, 'mm'),
    ],
    source: formulas['distance-error'].source,
  });
}

function amplitudeChange(at: AtReflector): Origin {
  const { reflector, check, style } = at;
  const { amplitudeChangeDb, reference, seen } = reflector;
  const change = amplitudeChangeDb && figures.levelDb(amplitudeChangeDb, style);
  const height = (percent: number | null | undefined) =>
    percent == null ? null : figures.amplitudePercent(percent, style);
  const [now, before] = [height(seen.amplitudePercent), height(reference?.amplitudePercent)];
  const gains = reference?.gainDb == null || check.gainDb === null ? null : [check.gainDb, reference.gainDb];
  return origin({
    title: 'Amplitude change',
    ...shown(change, style),
    formula:
      change === null || now === null || before === null ? null : amplitudeFormula(now, before, gains, change, style),
    inputs: [
      { name: 'amplitude now', value: figureWords(now, style), asked: here(at, 'amplitude') },
      { name: 'amplitude at calibration', value: figureWords(before, style), asked: null },
      { name: 'gain now', value: levelWords(check.gainDb, style), asked: null },
      { name: 'gain at calibration', value: levelWords(reference?.gainDb ?? null, style), asked: null },
      ...limitInputs(at, 'dB'),
    ],
    source: formulas['amplitude-change'].source,
  });
}

function amplitudeFormula(
  now: Figure,
  before: Figure,
  gains: readonly number[] | null,
  change: Figure,
  style: FigureStyle,
): FormulaShown {
  const { text } = formulas['amplitude-change'];
  const ratio = (a: number, b: number) => 20 * log10(a / b);
  if (gains === null)
    return { text, withNumbers: withNumbers([now, before], ratio, (a, b) => `20 · log10(${a} / ${b})`, change, style) };
  return {
    text,
    withNumbers: withNumbers(
      [now, before, ...gains.map((gain) => figures.levelDb(gain, style))],
      (a, b, g, r) => ratio(a, b) - (g - r),
      (a, b, g, r) => `20 · log10(${a} / ${b}) − (${g} − ${r})`,
      change,
      style,
    ),
  };
}
