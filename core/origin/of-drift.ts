import type { DriftCheck, DriftedReflector, DriftResult } from '../check/drift.ts';
import { limitsInWords } from '../check/limits-in-words.ts';
import { coverageFactor, type Limits, type Verdict, worstOf } from '../check/verdict.ts';
import { formulas, uncertaintyFormulas } from '../formula.ts';
import { unreachable } from '../invariant.ts';
import type { DriftFigure, FigureAsked, FormulaShown, Origin, OriginInput } from '../origin.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
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
import { type LinePoint, velocityFormula, zeroOffsetFormula } from './line-formula.ts';
import { calibrationInputs, pathFormula, pathUncertainty } from './path-formula.ts';
import { verdictWords } from './verdict-words.ts';

type Asked = Extract<FigureAsked, { kind: 'drift' }>;

interface Checked extends OriginContext {
  readonly asked: Asked;
  readonly result: DriftResult;
  readonly check: DriftCheck;
}

interface AtReflector extends Checked {
  readonly reflector: DriftedReflector;
}

const sameMm = 1e-6;

export function originInDrift(asked: Asked, context: OriginContext): Origin | null {
  const result = context.evaluation.drift;
  const check = result?.checks.find((c) => c.captureId === asked.captureId);
  if (result === null || check === undefined) return null;
  const checked = { ...context, asked, result, check };
  if (asked.distanceMm === null) return ofCheck(checked);
  const { distanceMm } = asked;
  const reflector = check.reflectors.find((r) => Math.abs(r.distanceMm - distanceMm) < sameMm);
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

const ofWhole = (checked: Checked, figure: DriftFigure): Asked => ({ ...checked.asked, distanceMm: null, figure });
const here = (at: AtReflector, figure: DriftFigure): Asked => ({
  ...at.asked,
  distanceMm: at.reflector.distanceMm,
  figure,
});

// ── one reflector ───────────────────────────────────────────────────────────

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
  const ratio = (a: number, b: number) => 20 * Math.log10(a / b);
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

function limitInputs({ reflector, result, style }: AtReflector, unit: 'mm' | 'dB'): OriginInput[] {
  const { rule } = result;
  const limits = unit === 'mm' ? reflector.distanceLimitsMm : reflector.amplitudeLimitsDb;
  if (rule === null || limits === null) return [];
  const words = limitsInWords(
    rule,
    unit,
    result.rangeMm === null ? null : figureWords(figures.statedMm(result.rangeMm, style), style),
  );
  return [{ name: 'allowed', value: `${limitsShown(limits, unit, style)}: ${words}`, asked: null }];
}

function limitsShown(limits: Limits, unit: 'mm' | 'dB', style: FigureStyle): string {
  const side = (value: number) =>
    unit === 'mm' ? figures.lengthMm(value, style) : { ...figures.levelDb(value, style), decimals: 2 };
  return `${figureWords(side(limits.lower), style)} to ${figureWords(side(limits.upper), style)}`;
}

// ── verdicts ────────────────────────────────────────────────────────────────

function verdictFigure(verdict: Verdict, style: FigureStyle): Figure | null {
  if (verdict.measured === null) return null;
  return verdict.unit === 'mm' ? figures.lengthMm(verdict.measured, style) : figures.levelDb(verdict.measured, style);
}

const verdictName = (verdict: Verdict) => (verdict.unit === 'mm' ? 'distance error' : 'amplitude change');

/** How a deviation, widened by its expanded uncertainty, lies to its limits; each bound worked out from the numbers shown. */
function decisionInNumbers(verdict: Verdict, at: AtReflector): string {
  const { style, reflector } = at;
  const unit = verdict.unit === 'mm' ? 'mm' : 'dB';
  const limits = unit === 'mm' ? reflector.distanceLimitsMm : reflector.amplitudeLimitsDb;
  const deviation = verdictFigure(verdict, style);
  const allowed = limits === null ? '' : `; allowed ${limitsShown(limits, unit, style)}`;
  const outcome = `: ${verdictWords[verdict.outcome]}`;
  if (deviation === null) return `${verdictName(verdict)} not measured${allowed}${outcome}`;
  const u = deviation.standardUncertainty;
  if (verdict.decision === 'simple-acceptance' || u === null)
    return `${verdictName(verdict)} ${figureWords(deviation, style)}${allowed}${outcome}`;
  const bound = (side: 1 | -1) =>
    withNumbers(
      [deviation, { value: coverageFactor, decimals: 0, unit: '' }, { ...deviation, value: u }],
      (x, k, s) => x + side * k * s,
      (x, k, s) => `${x} ${side === 1 ? '+' : '−'} ${k} · ${s}`,
      { ...deviation, value: deviation.value + side * coverageFactor * u },
      style,
    );
  return `${bound(-1)}; ${bound(1)}${allowed}${outcome}`;
}

function verdictSource({ result }: Checked): string {
  const { rule } = result;
  if (rule === null) return 'No rule was chosen: there is no verdict.';
  return `${rule.title}, ${rule.edition}, ${rule.clause}. ${rule.source}`;
}

function verdictText({ result }: Checked): string {
  return formulas[result.decision === 'simple-acceptance' ? 'verdict-simple' : 'verdict'].text;
}

function verdictOfReflector(at: AtReflector): Origin {
  const { reflector, style } = at;
  return origin({
    title: 'Verdict',
    value:
      reflector.verdicts.length === 0
        ? 'none'
        : verdictWords[worstOf(reflector.verdicts.map((verdict) => verdict.outcome))],
    formula:
      reflector.verdicts.length === 0
        ? null
        : {
            text: verdictText(at),
            withNumbers: reflector.verdicts.map((verdict) => decisionInNumbers(verdict, at)).join('\n'),
          },
    inputs: reflector.verdicts.flatMap((verdict): OriginInput[] => [
      {
        name: verdictName(verdict),
        value: figureWithUncertainty(verdictFigure(verdict, style), style),
        asked: here(at, verdict.unit === 'mm' ? 'distance-error' : 'amplitude-change'),
      },
      ...limitInputs(at, verdict.unit === 'mm' ? 'mm' : 'dB'),
    ]),
    source: verdictSource(at),
  });
}

function verdictOfCheck(checked: Checked): Origin {
  const { check, asked, style } = checked;
  const judged = check.reflectors.filter(({ verdicts }) => verdicts.length > 0);
  const outcomes = judged.map(({ verdicts }) => verdictWords[worstOf(verdicts.map((verdict) => verdict.outcome))]);
  return origin({
    title: 'Verdict of the check',
    value: check.verdict === null ? 'none' : verdictWords[check.verdict],
    formula:
      check.verdict === null
        ? null
        : {
            text: formulas['verdict-of-check'].text,
            withNumbers: `the worst of ${outcomes.join(', ')}: ${verdictWords[check.verdict]}`,
          },
    inputs: judged.map(
      ({ distanceMm }, i): OriginInput => ({
        name: `reflector at ${figureWords(figures.statedMm(distanceMm, style), style)}`,
        value: outcomes[i],
        asked: { ...asked, distanceMm, figure: 'verdict' },
      }),
    ),
    source: verdictSource(checked),
  });
}

// ── the check's own line ────────────────────────────────────────────────────

function linePoints({ check }: Checked): LinePoint[] {
  return check.reflectors.flatMap(({ distanceMm, seen }) =>
    seen.timeUs === null ? [] : [{ distanceMm, timeUs: seen.timeUs.value }],
  );
}

function lineFigure(checked: Checked, of: 'velocity' | 'zero-offset'): Origin | null {
  const { check, style } = checked;
  const { line } = check;
  if (line === null) return null;
  const points = linePoints(checked);
  const isVelocity = of === 'velocity';
  return origin({
    title: isVelocity ? 'Velocity by the check' : 'Zero offset by the check',
    ...shown(
      isVelocity ? figures.velocityMPerS(line.velocityMPerS, style) : figures.timeUs(line.zeroOffsetUs, style),
      style,
    ),
    formula: isVelocity ? velocityFormula(points, line.velocityMPerS, style) : zeroOffsetFormula(points, line, style),
    inputs: [
      ...(isVelocity ? [] : [lineInput(checked, 'velocity', line.velocityMPerS)]),
      ...check.reflectors.map((reflector): OriginInput => {
        const at = figureWords(figures.statedMm(reflector.distanceMm, style), style);
        const { timeUs } = reflector.seen;
        return {
          name: `echo of the reflector at ${at}`,
          value: figureWithUncertainty(timeUs && figures.echoTimeUs(timeUs, style), style),
          asked: { ...checked.asked, distanceMm: reflector.distanceMm, figure: 'time' },
        };
      }),
    ],
    source: formulas[isVelocity ? (points.length === 2 ? 'velocity-of-two' : 'velocity') : 'zero-offset'].source,
  });
}

function lineInput(checked: Checked, of: 'velocity' | 'zero-offset', quantity: Quantity): OriginInput {
  const { style } = checked;
  const figure = of === 'velocity' ? figures.velocityMPerS(quantity, style) : figures.timeUs(quantity, style);
  return {
    name: of === 'velocity' ? 'velocity by the check' : 'zero offset by the check',
    value: figureWithUncertainty(figure, style),
    asked: ofWhole(checked, of),
  };
}

function velocityChange(checked: Checked): Origin {
  const { check, evaluation, style } = checked;
  const calibration = evaluation.calibration?.calibration ?? null;
  const change = check.velocityChangePercent && figures.changePercent(check.velocityChangePercent, style);
  const { line } = check;
  return origin({
    title: 'Velocity change',
    ...shown(change, style),
    formula:
      change === null || line === null || calibration === null
        ? null
        : {
            text: formulas['velocity-change'].text,
            withNumbers: withNumbers(
              [
                figures.velocityMPerS(line.velocityMPerS, style),
                figures.velocityMPerS(calibration.velocityMPerS, style),
              ],
              (now, before) => 100 * (now / before - 1),
              (now, before) => `100 % · (${now} / ${before} − 1)`,
              change,
              style,
            ),
          },
    inputs: [
      ...(line === null ? [] : [lineInput(checked, 'velocity', line.velocityMPerS)]),
      ...calibrationInputs(calibration, style).slice(-1),
    ],
    source: formulas['velocity-change'].source,
  });
}

function zeroOffsetChange(checked: Checked): Origin {
  const { check, evaluation, style } = checked;
  const calibration = evaluation.calibration?.calibration ?? null;
  const change = check.zeroOffsetChangeUs && figures.timeUs(check.zeroOffsetChangeUs, style);
  const { line } = check;
  const known = change !== null && line !== null && calibration !== null;
  return origin({
    title: 'Zero offset change',
    ...shown(change, style),
    formula: known
      ? {
          text: formulas['zero-offset-change'].text,
          withNumbers: withNumbers(
            [figures.timeUs(line.zeroOffsetUs, style), figures.timeUs(calibration.zeroOffsetUs, style)],
            (now, before) => now - before,
            (now, before) => `${now} − ${before}`,
            change,
            style,
          ),
        }
      : null,
    uncertaintyFormula: known
      ? differenceUncertainty(line.zeroOffsetUs, calibration.zeroOffsetUs, change, style)
      : null,
    inputs: [
      ...(line === null ? [] : [lineInput(checked, 'zero-offset', line.zeroOffsetUs)]),
      ...calibrationInputs(calibration, style).slice(0, 1),
    ],
    source: formulas['zero-offset-change'].source,
  });
}

function differenceUncertainty(
  now: Quantity,
  before: Quantity,
  change: Figure,
  style: FigureStyle,
): FormulaShown | null {
  const [uNow, uBefore, u] = [now.standardUncertainty, before.standardUncertainty, change.standardUncertainty];
  if (uNow === null || uBefore === null || u === null) return null;
  return {
    text: uncertaintyFormulas.difference.text,
    withNumbers: withNumbers(
      [
        { ...figures.timeUs(now, style), value: uNow },
        { ...figures.timeUs(before, style), value: uBefore },
      ],
      (a, b) => Math.hypot(a, b),
      (a, b) => `√((${a})² + (${b})²)`,
      { ...change, value: u },
      style,
    ),
  };
}
