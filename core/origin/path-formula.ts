import type { DistanceCalibration } from '../calibration/distance.ts';
import { formulas, uncertaintyFormulas } from '../formula.ts';
import type { FormulaShown, OriginInput } from '../origin.ts';
import { type FigureStyle, fromShown } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import { figures, figureWithUncertainty } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';

type Line = Pick<DistanceCalibration, 'velocityMPerS' | 'zeroOffsetUs' | 'covarianceUsUsPerMm'>;

/** sound path = (time − zero offset) · velocity / 2, with its numbers. */
export function pathFormula(
  timeUs: Quantity,
  { velocityMPerS, zeroOffsetUs }: Line,
  pathMm: Quantity,
  style: FigureStyle,
): FormulaShown {
  return {
    text: formulas['sound-path'].text,
    withNumbers: withNumbers(
      [figures.timeUs(timeUs, style), figures.timeUs(zeroOffsetUs, style), figures.velocityPerUs(velocityMPerS, style)],
      (t, z, v) => ((t - z) * v) / 2,
      (t, z, v) => `(${t} − ${z}) · ${v} / 2`,
      figures.lengthMm(pathMm, style),
      style,
    ),
  };
}

/** The uncertainty of a path from those of time, zero offset and velocity, as in `pathFromTime`; `null` where one of them is not known. */
export function pathUncertainty(
  timeUs: Quantity,
  { velocityMPerS, zeroOffsetUs, covarianceUsUsPerMm }: Line,
  pathMm: Quantity,
  style: FigureStyle,
): FormulaShown | null {
  const path = figures.lengthMm(pathMm, style);
  const velocity = figures.velocityPerUs(velocityMPerS, style);
  const [uTime, uOffset] = [timeUs.standardUncertainty, zeroOffsetUs.standardUncertainty];
  if (uTime === null || uOffset === null || velocity.standardUncertainty === null || path.standardUncertainty === null)
    return null;
  const time = figures.timeUs(timeUs, style);
  const offset = figures.timeUs(zeroOffsetUs, style);
  const covariance = covarianceUsUsPerMm === null ? null : fromShown(covarianceUsUsPerMm, 'length', style);
  return {
    text: uncertaintyFormulas['sound-path'].text,
    withNumbers: withNumbers(
      [
        velocity,
        { ...time, value: uTime },
        { ...offset, value: uOffset },
        path,
        { ...velocity, value: velocity.standardUncertainty },
        { value: covariance ?? 0, decimals: 6, unit: `µs²/${path.unit}` },
      ],
      (v, ut, uz, p, uv, c) =>
        Math.sqrt((v / 2) ** 2 * (ut ** 2 + uz ** 2) + ((p * uv) / v) ** 2 + 2 * p * (v / 2) ** 2 * c),
      (v, ut, uz, p, uv, c) =>
        `√([${v} / 2]² · [(${ut})² + (${uz})²] + [${p} · ${uv} / ${v}]²${covariance === null ? '' : ` + 2 · ${p} · [${v} / 2]² · ${c}`})`,
      { ...path, value: path.standardUncertainty },
      style,
    ),
  };
}

/** Zero offset and velocity of the calibration in force, as inputs. */
export function calibrationInputs(calibration: DistanceCalibration | null, style: FigureStyle): OriginInput[] {
  if (calibration === null) return [{ name: 'calibration', value: 'none', asked: null }];
  return [
    {
      name: 'zero offset',
      value: figureWithUncertainty(figures.timeUs(calibration.zeroOffsetUs, style), style),
      asked: { kind: 'calibration', figure: 'zero-offset' },
    },
    {
      name: 'velocity',
      value: figureWithUncertainty(figures.velocityMPerS(calibration.velocityMPerS, style), style),
      asked: { kind: 'calibration', figure: 'velocity' },
    },
  ];
}
