import { hypot } from '../elementary/hypotenuse.ts';
import { formulas, uncertaintyFormulas } from '../formula.ts';
import type { FormulaShown, Origin, OriginInput } from '../origin.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import { origin, shown } from './context.ts';
import { type Checked, ofWhole, toleranceInput } from './drift-context.ts';
import { type Figure, figures, figureWithUncertainty, figureWords } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';
import { type LinePoint, velocityFormula, zeroOffsetFormula } from './line-formula.ts';
import { calibrationInputs } from './path-formula.ts';

function linePoints({ check }: Checked): LinePoint[] {
  return check.reflectors.flatMap(({ distanceMm, seen }) =>
    seen.timeUs === null ? [] : [{ distanceMm, timeUs: seen.timeUs.value }],
  );
}

export function lineFigure(checked: Checked, of: 'velocity' | 'zero-offset'): Origin | null {
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

export function velocityChange(checked: Checked): Origin {
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
      toleranceInput(check.sameBlock),
    ],
    source: formulas['velocity-change'].source,
  });
}

export function zeroOffsetChange(checked: Checked): Origin {
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
      ? differenceUncertainty(line.zeroOffsetUs, check.heldAgainst.zeroOffsetUs, change, style)
      : null,
    inputs: [
      ...(line === null ? [] : [lineInput(checked, 'zero-offset', line.zeroOffsetUs)]),
      ...calibrationInputs(calibration, style).slice(0, 1),
      toleranceInput(check.sameBlock),
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
      (a, b) => hypot(a, b),
      (a, b) => `√((${a})² + (${b})²)`,
      { ...change, value: u },
      style,
    ),
  };
}
