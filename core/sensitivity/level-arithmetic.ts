import type { Arithmetic } from '../check/assessed-step.ts';
import { log10, power } from '../elementary/exponential.ts';
import { figures } from '../origin/figure.ts';
import { withNumbers } from '../origin/formula-numbers.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import type { CurvePoint } from './distance-amplitude-curve.ts';
import { sensitivityFormulas } from './formulas.ts';
import type { HeldReading } from './hold-against-curve.ts';
import type { ReferenceLevel } from './reference-level.ts';
import { height, level } from './written-figures.ts';

/** The gain at which the highest point of the curve stands at the reference height; `null` where it was stated, and where no gain is known. */
export function referenceGainArithmetic(
  reference: ReferenceLevel,
  points: readonly CurvePoint[],
  style: FigureStyle,
): Arithmetic | null {
  if (reference.by === 'stated' || reference.gainDb === null) return null;
  const highest = highestPoint(points);
  if (highest === null || highest.gainDb === null) return null;
  return {
    text: sensitivityFormulas['reference-gain'].text,
    withNumbers: withNumbers(
      [level(highest.gainDb, style), height(reference.percent, style), height(highest.amplitudePercent, style)],
      (g, r, h) => g + 20 * log10(r / h),
      (g, r, h) => `${g} + 20 · log10(${r} / ${h})`,
      level(reference.gainDb, style),
      style,
    ),
  };
}

export function highestPoint(points: readonly CurvePoint[]): CurvePoint | null {
  return points.reduce<CurvePoint | null>(
    (best, point) => (best === null || point.levelDb.value > best.levelDb.value ? point : best),
    null,
  );
}

type LevelRead = Pick<CurvePoint, 'amplitudePercent' | 'gainDb'>;

/** The level of an echo above the reference level, the transfer correction added where there is one. */
function levelArithmetic(
  { amplitudePercent, gainDb }: LevelRead,
  reference: ReferenceLevel,
  transferDb: number,
  result: Quantity,
  style: FigureStyle,
): Arithmetic {
  const numbers = [height(amplitudePercent, style), height(reference.percent, style)];
  const terms: { readonly db: number; readonly sign: 1 | -1 }[] = [];
  const referred = reference.gainDb !== null && gainDb !== null;
  if (referred) terms.push({ db: reference.gainDb, sign: 1 }, { db: gainDb, sign: -1 });
  else if (reference.raisedDb !== 0) terms.push({ db: reference.raisedDb, sign: 1 });
  if (transferDb !== 0) terms.push({ db: transferDb, sign: 1 });
  const key = referred ? ('level' as const) : ('level-at-one-gain' as const);
  const { text } = sensitivityFormulas[transferDb === 0 ? key : (`${key}-with-transfer` as const)];
  return {
    text,
    withNumbers: withNumbers(
      [...numbers, ...terms.map(({ db }) => level(db, style))],
      (h, r, ...levels) => levels.reduce((sum, db, i) => sum + terms[i].sign * db, 20 * log10(h / r)),
      (h, r, ...levels) =>
        levels.reduce(
          (written, text, i) => (terms[i].sign === 1 ? `${written} + ${text}` : `${written} − ${text}`),
          `20 · log10(${h} / ${r})`,
        ),
      level(result, style),
      style,
    ),
  };
}

export function pointLevelArithmetic(point: CurvePoint, reference: ReferenceLevel, style: FigureStyle): Arithmetic {
  return levelArithmetic(point, reference, 0, point.levelDb, style);
}

/** `null` for a reading without a level. */
export function readingLevelArithmetic(
  { amplitudePercent, gainDb, levelDb }: HeldReading,
  reference: ReferenceLevel,
  transferDb: number,
  style: FigureStyle,
): Arithmetic | null {
  if (amplitudePercent === null || levelDb === null) return null;
  return levelArithmetic({ amplitudePercent, gainDb }, reference, transferDb, levelDb, style);
}

/** The height of a point on the screen at the reference gain. */
export function pointHeightArithmetic(point: CurvePoint, reference: ReferenceLevel, style: FigureStyle): Arithmetic {
  return {
    text: sensitivityFormulas['height-at-reference'].text,
    withNumbers: withNumbers(
      [height(reference.percent, style), level(point.levelDb, style)],
      (r, l) => r * power(10, l / 20),
      (r, l) => `${r} · 10^(${l} / 20)`,
      figures.amplitudePercent(point.heightPercent, style),
      style,
    ),
  };
}
