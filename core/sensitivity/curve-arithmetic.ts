import type { Arithmetic } from '../check/assessed-step.ts';
import { log10, power } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { figures } from '../origin/figure.ts';
import { type WrittenNumber, withNumbers } from '../origin/formula-numbers.ts';
import { type FigureStyle, toShown } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import type { DistanceAmplitudeCurve } from './distance-amplitude-curve.ts';
import { sensitivityFormulas, sensitivityUncertainties } from './formulas.ts';
import type { HeldReading } from './hold-against-curve.ts';
import { length, level } from './written-figures.ts';

/** The curve at a distance, from the two points on either side; `null` outside the curve. */
export function curveArithmetic(
  curve: DistanceAmplitudeCurve,
  atMm: number,
  result: Quantity,
  style: FigureStyle,
): Arithmetic | null {
  const next = curve.points.findIndex((point) => point.distanceMm >= atMm);
  if (next < 0 || (next === 0 && curve.points[0].distanceMm !== atMm)) return null;
  const [a, b] = [curve.points[Math.max(1, next) - 1], curve.points[Math.max(1, next)]];
  const numbers = [
    level(a.levelDb, style),
    level(b.levelDb, style),
    figures.lengthMm(atMm, style),
    length(a.distanceMm, style),
    length(b.distanceMm, style),
  ];
  const share = (d: number, from: number, to: number) => (d - from) / (to - from);
  if (curve.straightIn === 'db') {
    return {
      text: sensitivityFormulas['curve-straight-in-db'].text,
      withNumbers: withNumbers(
        numbers,
        (la, lb, d, da, db) => la + share(d, da, db) * (lb - la),
        (la, lb, d, da, db) => `${la} + (${d} − ${da}) / (${db} − ${da}) · (${lb} − ${la})`,
        level(result, style),
        style,
      ),
    };
  }
  const ratio = (db: number) => power(10, db / 20);
  return {
    text: sensitivityFormulas['curve-straight-in-percent'].text,
    withNumbers: withNumbers(
      numbers,
      (la, lb, d, da, db) => 20 * log10(ratio(la) + share(d, da, db) * (ratio(lb) - ratio(la))),
      (la, lb, d, da, db) =>
        `20 · log10[10^(${la} / 20) + (${d} − ${da}) / (${db} − ${da}) · (10^(${lb} / 20) − 10^(${la} / 20))]`,
      level(result, style),
      style,
    ),
  };
}

/** dB to the curve; `null` where the reading has none. */
export function toCurveArithmetic({ levelDb, curveDb, toCurveDb }: HeldReading, style: FigureStyle): Arithmetic | null {
  if (levelDb === null || curveDb === null || toCurveDb === null) return null;
  return {
    text: sensitivityFormulas['to-curve'].text,
    withNumbers: withNumbers(
      [level(levelDb, style), level(curveDb, style)],
      (l, c) => l - c,
      (l, c) => `${l} − ${c}`,
      level(toCurveDb, style),
      style,
    ),
  };
}

/** Its uncertainty; `null` where one of its shares is not known. */
export function toCurveUncertainty(reading: HeldReading, style: FigureStyle): Arithmetic | null {
  const { levelDb, curveDb, toCurveDb, soundPathMm, curveSlopeDbPerMm, uBetweenPointsDb } = reading;
  const [uLevel, uCurve, uPath] = [levelDb, curveDb, soundPathMm].map((q) => q?.standardUncertainty ?? null);
  const u = toCurveDb?.standardUncertainty ?? null;
  if (uLevel === null || uCurve === null || uPath === null || u === null || curveSlopeDbPerMm === null) return null;
  const path = figures.residualMm(uPath, style);
  const slope = { value: curveSlopeDbPerMm / toShown(1, 'length', style), decimals: 3, unit: `dB/${path.unit}` };
  const small = (db: number): WrittenNumber => ({ value: db, decimals: 3, unit: 'dB' });
  return {
    text: sensitivityUncertainties['to-curve'].text,
    withNumbers: withNumbers(
      [small(uLevel), small(uCurve), small(uBetweenPointsDb ?? 0), slope, path],
      (ul, uc, ub, s, up) => hypot(ul, uc, ub, s * up),
      (ul, uc, ub, s, up) => `√([${ul}]² + [${uc}]² + [${ub}]² + [${s} · ${up}]²)`,
      { ...level(toCurveDb as Quantity, style), value: u },
      style,
    ),
  };
}

export function percentOfCurveArithmetic(
  { toCurveDb, percentOfCurve }: HeldReading,
  style: FigureStyle,
): Arithmetic | null {
  if (toCurveDb === null || percentOfCurve === null) return null;
  return {
    text: sensitivityFormulas['percent-of-curve'].text,
    withNumbers: withNumbers(
      [level(toCurveDb, style)],
      (db) => 100 * power(10, db / 20),
      (db) => `100 · 10^(${db} / 20)`,
      figures.amplitudePercent(percentOfCurve, style),
      style,
    ),
  };
}

/** The gain to be added at one distance. */
export function gainArithmetic(
  atReferenceDb: Quantity,
  there: { readonly curveLevelDb: Quantity; readonly addedGainDb: Quantity },
  style: FigureStyle,
): Arithmetic {
  return {
    text: sensitivityFormulas['time-corrected-gain'].text,
    withNumbers: withNumbers(
      [level(atReferenceDb, style), level(there.curveLevelDb, style)],
      (r, l) => r - l,
      (r, l) => `${r} − ${l}`,
      level(there.addedGainDb, style),
      style,
    ),
  };
}
