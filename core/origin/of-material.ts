import { spreadingInWords } from '../material/diffraction.ts';
import type { FigureAsked, Origin } from '../origin.ts';
import { decimalsFor } from '../units/format-quantity.ts';
import { conditioningInWords, type OriginContext, origin, shown } from './context.ts';
import { figures, figureWithUncertainty, figureWords } from './figure.ts';

type Asked = Extract<FigureAsked, { kind: 'material' }>;

/** Where the velocity of a material, or its attenuation at a frequency, comes from. */
export function originInMaterial(asked: Asked, { review, evaluation, style }: OriginContext): Origin | null {
  const { material: result } = evaluation;
  const { material: decision } = review;
  if (result === null || decision === null) return null;
  const conditioning = {
    name: 'conditioning',
    value: conditioningInWords({ ...review.conditioning, bandPass: null }),
    asked: null,
  };
  const thickness = {
    name: 'thickness',
    value: figureWords(figures.statedMm(decision.thicknessMm, style), style),
    asked: null,
  };
  if (asked.figure === 'velocity') {
    const known = result.velocityMPerS === null ? null : figures.velocityMPerS(result.velocityMPerS, style);
    return origin({
      title: 'Velocity in the material',
      ...shown(known, style),
      inputs: [
        thickness,
        ...result.captures.map(({ captureId, velocityMPerS }) => ({
          name: captureId,
          value: figureWithUncertainty(
            velocityMPerS === null ? null : figures.velocityMPerS(velocityMPerS, style),
            style,
          ),
          asked: null,
        })),
        conditioning,
      ],
      source:
        'Line of the echoes’ times on their distances n · thickness, each later echo timed by where it lies best on the first (cross-correlation). ASTM E494, velocity from successive back echoes (manner from memory). Mean over the captures; the uncertainty holds their spread or timing, and the thickness.',
    });
  }
  const line = result.attenuation.find(({ frequencyMHz }) => Math.abs(frequencyMHz - asked.frequencyMHz) < 1e-6);
  if (line === undefined) return null;
  const { value, standardUncertainty: u } = line.dbPerMm;
  const decimals = decimalsFor(u, 4);
  return origin({
    title: `Attenuation at ${line.frequencyMHz.toFixed(2)} MHz`,
    ...shown({ value, decimals, unit: 'dB/mm', standardUncertainty: u }, style),
    inputs: [thickness, conditioning],
    source: `[20 · log(near / far amplitude) − spreading] / extra travel, of the spectra of two back-wall echoes; by mm of travel. ${spreadingInWords(decision.spreading)} What is lost at both surfaces is in it.`,
  });
}
