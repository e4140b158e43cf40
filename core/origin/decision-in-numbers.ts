import { coverageFactor, type Limits, type Verdict } from '../check/verdict.ts';
import { formulas } from '../formula.ts';
import type { FormulaShown } from '../origin.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import { type Figure, figures, figureWords } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';
import { verdictWords } from './verdict-words.ts';

type Unit = Verdict['unit'];

/** What a verdict is about, as it is written; `null` where nothing was measured. */
export function verdictFigure(
  { measured, unit }: Pick<Verdict, 'measured' | 'unit'>,
  style: FigureStyle,
): Figure | null {
  if (measured === null) return null;
  if (unit === 'mm') return figures.lengthMm(measured, style);
  if (unit === '°') return figures.measuredAngleDeg(measured, style);
  return unit === 'dB' ? figures.levelDb(measured, style) : figures.deviationPercent(measured, style);
}

/** `-5.00 mm to 5.00 mm`; `at least -2.00 %` where the other end is open. */
export function limitsShown({ lower, upper }: Limits, unit: Unit, style: FigureStyle): string {
  const side = (value: number) => {
    if (unit === 'mm') return figureWords(figures.lengthMm(value, style), style);
    if (unit === '°') return figureWords(figures.measuredAngleDeg(value, style), style);
    const figure = unit === 'dB' ? figures.levelDb(value, style) : figures.deviationPercent(value, style);
    return figureWords({ ...figure, decimals: value !== 0 && Math.abs(value) < 0.01 ? 4 : 2 }, style);
  };
  if (!Number.isFinite(lower)) return Number.isFinite(upper) ? `at most ${side(upper)}` : 'anything';
  if (!Number.isFinite(upper)) return `at least ${side(lower)}`;
  return `${side(lower)} to ${side(upper)}`;
}

/**
 * How a deviation, widened by its expanded uncertainty, lies to its limits; each bound worked out from the numbers shown.
 * @param name of what was measured: `distance error`
 */
export function decisionInNumbers(
  name: string,
  verdict: Verdict,
  limits: Limits | null,
  style: FigureStyle,
): FormulaShown {
  return {
    text: formulas[verdict.decision === 'simple-acceptance' ? 'verdict-simple' : 'verdict'].text,
    withNumbers: decided(name, verdict, limits, style),
  };
}

function decided(name: string, verdict: Verdict, limits: Limits | null, style: FigureStyle): string {
  const deviation = verdictFigure(verdict, style);
  const allowed = limits === null ? '' : `; allowed ${limitsShown(limits, verdict.unit, style)}`;
  const outcome = `: ${verdictWords[verdict.outcome]}`;
  if (deviation === null) return `${name} not measured${allowed}${outcome}`;
  const u = deviation.standardUncertainty;
  if (verdict.decision === 'simple-acceptance' || u === null)
    return `${name} ${figureWords(deviation, style)}${allowed}${outcome}`;
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
