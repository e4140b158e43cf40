import type { Arithmetic } from '../check/assessed-step.ts';
import { log10, power } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { figures, figureWords } from '../origin/figure.ts';
import { type WrittenNumber, withNumbers } from '../origin/formula-numbers.ts';
import { dbFromRatio } from '../units/decibel.ts';
import { type FigureStyle, toShown } from '../units/figure-style.ts';
import { decimalsFor } from '../units/format-quantity.ts';
import type { Quantity } from '../units/quantity.ts';
import type { ApparentAttenuation } from './apparent-attenuation.ts';
import type { AttenuationLaw } from './attenuation-law.ts';
import type { CurvePoint, DistanceAmplitudeCurve } from './distance-amplitude-curve.ts';
import { sensitivityFormulas, sensitivityUncertainties } from './formulas.ts';
import type { HeldReading } from './hold-against-curve.ts';
import type { NearField } from './near-field.ts';
import type { ReferenceLevel } from './reference-level.ts';

const height = (percent: number, style: FigureStyle): WrittenNumber => figures.amplitudePercent(percent, style);
const level = (db: Quantity | number, style: FigureStyle) => figures.levelDb(db, style);
const length = (mm: number, style: FigureStyle): WrittenNumber => figures.statedMm(mm, style);

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

/** One figure of the result with its arithmetic. */
export interface ArithmeticLine {
  /** What the figure is, and of what. */
  readonly of: string;
  readonly arithmetic: Arithmetic;
}

/** All arithmetic behind a result, in its order: reference, points, law, readings, attenuation. */
export function arithmeticLines(
  result: {
    readonly nearField: NearField | null;
    readonly curve: CurveFigures | null;
    readonly attenuation: Parameters<typeof apparentAttenuationArithmetic>[0] | null;
  },
  elementMm: number | null,
  style: FigureStyle,
): ArithmeticLine[] {
  const { nearField, curve, attenuation } = result;
  const lines: ArithmeticLine[] = [];
  const add = (of: string, arithmetic: Arithmetic | null) => {
    if (arithmetic !== null) lines.push({ of, arithmetic });
  };
  if (nearField !== null && elementMm !== null)
    add('near-field length', nearFieldArithmetic(nearField, elementMm, style));
  if (curve !== null) addCurve(curve, add, style);
  if (attenuation !== null) add('apparent attenuation', apparentAttenuationArithmetic(attenuation, style));
  return lines;
}

interface CurveFigures {
  readonly reference: ReferenceLevel | null;
  readonly points: readonly CurvePoint[];
  readonly curve: DistanceAmplitudeCurve | null;
  readonly law: AttenuationLaw | null;
  readonly transferDb: Quantity;
  readonly readings: readonly HeldReading[];
}

function addCurve(
  { reference, points, curve, law, transferDb, readings }: CurveFigures,
  add: (of: string, arithmetic: Arithmetic | null) => void,
  style: FigureStyle,
): void {
  if (reference === null) return;
  add('reference gain', referenceGainArithmetic(reference, points, style));
  for (const point of points) {
    const at = figureWords(figures.statedMm(point.distanceMm, style), style);
    add(`level at ${at}`, pointLevelArithmetic(point, reference, style));
  }
  if (law !== null) add('attenuation', lawArithmetic(law, style));
  for (const reading of readings) {
    const of = `${reading.captureId}, gate ${reading.gate}`;
    const { curveDb, curveAtMm } = reading;
    add(`level of ${of}`, readingLevelArithmetic(reading, reference, transferDb.value, style));
    if (curve !== null && curveDb !== null && curveAtMm !== null)
      add(`curve at ${of}`, curveArithmetic(curve, curveAtMm, curveDb, style));
    add(`dB to the curve of ${of}`, toCurveArithmetic(reading, style));
    add(`% of the curve of ${of}`, percentOfCurveArithmetic(reading, style));
  }
}
