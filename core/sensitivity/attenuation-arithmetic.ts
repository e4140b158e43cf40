import type { Arithmetic } from '../check/assessed-step.ts';
import { figures } from '../origin/figure.ts';
import { withNumbers } from '../origin/formula-numbers.ts';
import { dbFromRatio } from '../units/decibel.ts';
import { type FigureStyle, toShown } from '../units/figure-style.ts';
import { decimalsFor } from '../units/format-quantity.ts';
import type { Quantity } from '../units/quantity.ts';
import type { ApparentAttenuation } from './apparent-attenuation.ts';
import type { AttenuationLaw } from './attenuation-law.ts';
import { sensitivityFormulas } from './formulas.ts';
import type { NearField } from './near-field.ts';
import { height, length, level } from './written-figures.ts';

/** dB per metre of the way travelled; per inch where lengths are in inches. */
export function attenuationFigure(dbPerMm: Quantity | number, style: FigureStyle) {
  const quantity = typeof dbPerMm === 'number' ? { value: dbPerMm, standardUncertainty: null } : dbPerMm;
  const size = style.units === 'inch' ? 1 / toShown(1, 'length', style) : 1000;
  const u = quantity.standardUncertainty === null ? null : quantity.standardUncertainty * size;
  return {
    value: quantity.value * size,
    decimals: decimalsFor(u, style.units === 'inch' ? 3 : 1),
    unit: style.units === 'inch' ? 'dB/in' : 'dB/m',
    standardUncertainty: u,
  };
}

/** Attenuation from two back-wall echoes. */
export function apparentAttenuationArithmetic(
  result: ApparentAttenuation & { readonly near: EchoOfBackWall; readonly far: EchoOfBackWall },
  style: FigureStyle,
): Arithmetic {
  const { near, far } = result;
  const factor = style.units === 'inch' ? 1 : 1000;
  const before = factor === 1 ? '' : `${factor} · `;
  const gains = near.gainDb !== null && far.gainDb !== null && near.gainDb !== far.gainDb;
  return {
    text: sensitivityFormulas[gains ? 'apparent-attenuation' : 'apparent-attenuation-at-one-gain'].text,
    withNumbers: withNumbers(
      [
        height(near.amplitudePercent, style),
        height(far.amplitudePercent, style),
        length(near.distanceMm, style),
        length(far.distanceMm, style),
        ...(gains ? [level(far.gainDb as number, style), level(near.gainDb as number, style)] : []),
      ],
      (h1, h2, d1, d2, g2 = 0, g1 = 0) =>
        (factor * (dbFromRatio(h1 / h2) + g2 - g1 - dbFromRatio(d2 / d1))) / (2 * (d2 - d1)),
      (h1, h2, d1, d2, ...g) =>
        `${before}[20 · log10(${h1} / ${h2})${g.length === 0 ? '' : ` + ${g[0]} − ${g[1]}`} − 20 · log10(${d2} / ${d1})] / [2 · (${d2} − ${d1})]`,
      attenuationFigure(result.attenuationDbPerMm, style),
      style,
    ),
  };
}

interface EchoOfBackWall {
  readonly distanceMm: number;
  readonly amplitudePercent: number;
  readonly gainDb: number | null;
}

/** The fitted attenuation, by the sums of the line. */
export function lawArithmetic(law: AttenuationLaw, style: FigureStyle): Arithmetic {
  const travelled = law.points.map(({ distanceMm }) => toShown(2 * (distanceMm - law.fromMm), 'length', style));
  const rest = law.points.map(
    ({ distanceMm, levelDb }) => levelDb + law.exponent * dbFromRatio(distanceMm / law.fromMm),
  );
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [meanWay, meanRest] = [mean(travelled), mean(rest)];
  const { unit } = figures.lengthMm(0, style);
  const squares = travelled.reduce((sum, x) => sum + (x - meanWay) ** 2, 0);
  const products = travelled.reduce((sum, x, i) => sum + (x - meanWay) * (rest[i] - meanRest), 0);
  const factor = style.units === 'inch' ? 1 : 1000;
  return {
    text: sensitivityFormulas['attenuation-law'].text,
    withNumbers: withNumbers(
      [
        { value: -products, decimals: 2, unit: `${unit} dB` },
        { value: squares, decimals: 2, unit: `${unit}²` },
      ],
      (p, s) => (factor * p) / s,
      (p, s) => `${factor === 1 ? '' : `${factor} · `}${p} / ${s}`,
      attenuationFigure(law.attenuationDbPerMm, style),
      style,
    ),
  };
}

/** Length of the near field. */
export function nearFieldArithmetic(field: NearField, elementMm: number, style: FigureStyle): Arithmetic {
  return {
    text: sensitivityFormulas['near-field'].text,
    withNumbers: withNumbers(
      [length(elementMm, style), figures.residualMm(field.wavelengthMm, style)],
      (d, l) => d ** 2 / (4 * l),
      (d, l) => `(${d})² / (4 · ${l})`,
      figures.lengthMm(field.lengthMm, style),
      style,
    ),
  };
}
