import { hypot } from '../elementary/hypotenuse.ts';
import { formulas, uncertaintyFormulas } from '../formula.ts';
import type { FormulaShown, Origin, OriginInput } from '../origin.ts';
import { origin, shown } from './context.ts';
import { type Figure, figures, figureWords } from './figure.ts';
import { cosDeg, flatDepthWithNumbers, sinDeg } from './flat-depth.ts';
import { withNumbers } from './formula-numbers.ts';
import { input, type Read } from './reading-context.ts';

function beamInputs({ review, style }: Read): OriginInput[] {
  const { beam = null, uAngleDeg = null } = review.readings ?? {};
  if (beam === null) return [];
  const angle = figures.angleDeg(beam.angleDeg, style);
  const value = uAngleDeg === null ? figureWords(angle, style) : `${figureWords(angle, style)} ± ${uAngleDeg}°`;
  const angleInput: OriginInput = { name: 'beam angle', value, asked: null };
  if (beam.thicknessMm === null) return [angleInput];
  return [
    angleInput,
    { name: 'thickness', value: figureWords(figures.statedMm(beam.thicknessMm, style), style), asked: null },
  ];
}

export function depthOrigin(read: Read): Origin {
  const { reading, review, style } = read;
  const { soundPathMm, depthMm, leg } = reading;
  const beam = review.readings?.beam ?? null;
  const path = soundPathMm && figures.lengthMm(soundPathMm, style);
  const depth = depthMm && figures.lengthMm(depthMm, style);
  return origin({
    title: 'Depth',
    ...shown(depth, style),
    formula:
      path === null || depth === null || leg === null || beam === null ? null : depthFormula(read, path, depth, leg),
    uncertaintyFormula: path === null || depth === null ? null : beamUncertainty(read, 'depth', path, depth),
    inputs: [input(read, 'sound path', path, 'sound-path'), ...beamInputs(read), legInput(read)],
    source: formulas.depth.source,
  });
}

function legInput(read: Read): OriginInput {
  return {
    name: 'leg',
    value: String(read.reading.leg ?? '–'),
    asked: read.reading.leg === null ? null : { ...read.asked, figure: 'leg' },
  };
}

function depthFormula({ review, style }: Read, path: Figure, depth: Figure, leg: number): FormulaShown {
  const beam = review.readings!.beam!;
  const angle = figures.angleDeg(beam.angleDeg, style);
  const { text } = formulas.depth;
  if (leg === 1) {
    const numbers = withNumbers(
      [path, angle],
      (p, a) => p * cosDeg(a),
      (p, a) => `${p} · cos ${a}`,
      depth,
      style,
    );
    return { text, withNumbers: numbers };
  }
  const thickness = figures.statedMm(beam.thicknessMm!, style);
  return { text, withNumbers: flatDepthWithNumbers(path, angle, leg, thickness, depth, style) };
}

export function surfaceOrigin(read: Read): Origin {
  const { reading, review, style } = read;
  const beam = review.readings?.beam ?? null;
  const path = reading.soundPathMm && figures.lengthMm(reading.soundPathMm, style);
  const surface = reading.surfaceDistanceMm && figures.lengthMm(reading.surfaceDistanceMm, style);
  const known = path !== null && surface !== null && beam !== null;
  return origin({
    title: 'Surface distance',
    ...shown(surface, style),
    formula: known
      ? {
          text: formulas['surface-distance'].text,
          withNumbers: withNumbers(
            [path, figures.angleDeg(beam.angleDeg, style)],
            (p, a) => p * sinDeg(a),
            (p, a) => `${p} · sin ${a}`,
            surface,
            style,
          ),
        }
      : null,
    uncertaintyFormula: known ? beamUncertainty(read, 'surface-distance', path, surface) : null,
    inputs: [input(read, 'sound path', path, 'sound-path'), ...beamInputs(read).slice(0, 1)],
    source: formulas['surface-distance'].source,
  });
}

/** The path's share and the angle's share, as in `locate`. */
function beamUncertainty(
  { review, style }: Read,
  kind: 'depth' | 'surface-distance',
  path: Figure,
  result: Figure,
): FormulaShown | null {
  const { beam = null, uAngleDeg = null } = review.readings ?? {};
  if (beam === null || uAngleDeg === null || path.standardUncertainty === null || result.standardUncertainty === null)
    return null;
  const [own, other] = kind === 'depth' ? (['cos', 'sin'] as const) : (['sin', 'cos'] as const);
  const by = { cos: cosDeg, sin: sinDeg };
  return {
    text: uncertaintyFormulas[kind].text,
    withNumbers: withNumbers(
      [
        { ...path, value: path.standardUncertainty },
        path,
        figures.angleDeg(beam.angleDeg, style),
        { value: (uAngleDeg * Math.PI) / 180, decimals: 4, unit: '' },
      ],
      (u, p, a, ua) => hypot(by[own](a) * u, p * by[other](a) * ua),
      (u, p, a, ua) => `√([${own} ${a} · ${u}]² + [${p} · ${other} ${a} · ${ua}]²)`,
      { ...result, value: result.standardUncertainty },
      style,
    ),
  };
}

export function legOrigin(read: Read): Origin {
  const { reading, review, style } = read;
  const beam = review.readings?.beam ?? null;
  const path = reading.soundPathMm && figures.lengthMm(reading.soundPathMm, style);
  const { leg } = reading;
  const thickness = beam === null || beam.thicknessMm === null ? null : figures.statedMm(beam.thicknessMm, style);
  const known = beam !== null && path !== null && leg !== null && thickness !== null;
  return origin({
    title: 'Leg',
    value: String(leg ?? '–'),
    formula: known
      ? {
          text: formulas.leg.text,
          withNumbers: `${withNumbers(
            [path, figures.angleDeg(beam.angleDeg, style), thickness],
            (p, a, t) => (p * cosDeg(a)) / t,
            (p, a, t) => `${p} · cos ${a} / ${t}`,
            {
              value: (path.value * cosDeg(beam.angleDeg)) / thickness.value,
              decimals: 3,
              unit: '',
            },
            style,
          )}, so it ends in leg ${leg}`,
        }
      : null,
    inputs: [input(read, 'sound path', path, 'sound-path'), ...beamInputs(read)],
    source: thickness === null ? 'No back wall is known: everything counts as the first leg.' : formulas.leg.source,
  });
}
