import { levelsInDb } from '../../../sensitivity/evaluation-levels.ts';
import type { CurveResult } from '../../../steps/sensitivity.ts';
import type { FigureStyle } from '../../../units/figure-style.ts';
import { toShown, unitSign } from '../../../units/figure-style.ts';
import type { Markup } from '../markup.ts';
import { plot, signed } from './frame.ts';
import { mark, pathThrough, reachOf, uncertaintyBar } from './marks.ts';

/** The curve over distance in dB to the reference level, its points, the levels below it, and the readings of the review. `null` without a curve. */
export function curvePlot(result: CurveResult, style: FigureStyle): Markup | null {
  const { curve, timeCorrectedGain, levels, readings, points } = result;
  if (curve === null) return null;
  const x = (mm: number) => toShown(mm, 'length', style);
  const along = timeCorrectedGain.map(({ distanceMm, curveLevelDb }) => ({ x: x(distanceMm), y: curveLevelDb.value }));
  const held = readings.flatMap(({ soundPathMm, levelDb, atLeast }) =>
    soundPathMm === null || levelDb === null ? [] : [{ x: x(soundPathMm.value), level: levelDb, atLeast }],
  );
  const below = levels === null ? [] : levelsInDb(levels);
  const heights = [...points.map(({ levelDb }) => levelDb), ...held.map(({ level }) => level)];
  const lowest = Math.min(...along.map(({ y }) => y)) + Math.min(0, ...below.map(({ db }) => db));
  const reach = reachOf(heights);
  const unit = unitSign('length', style);
  const ends = [...points.map(({ distanceMm }) => x(distanceMm)), ...held.map((one) => one.x)];
  return plot({
    title: 'Distance-amplitude curve',
    description: `Level above the reference over the sound path: full discs and the solid line are the curve${below.length > 0 ? `, broken lines the levels ${below.map(({ name, db }) => `${name} (${signed(db, 1)} dB)`).join(', ')}` : ''}; squares are readings, rings readings that are lower bounds. Bars: expanded uncertainty, k = 2.`,
    x: { title: `sound path (${unit})`, from: Math.min(0, ...ends), to: Math.max(...ends) },
    y: { title: 'level (dB)', from: Math.min(reach.from, lowest), to: reach.to },
    levels: [{ at: 0, label: 'reference', kind: 'zero' }],
    marks: (scales) => [
      pathThrough('line', along, scales),
      ...below.map(({ db }, i) =>
        pathThrough(
          i % 2 === 0 ? 'line-dashed' : 'line-dotted',
          along.map((point) => ({ x: point.x, y: point.y + db })),
          scales,
        ),
      ),
      ...points.flatMap(({ distanceMm, levelDb }) => [
        uncertaintyBar(x(distanceMm), levelDb, scales),
        mark('plain', scales.x(x(distanceMm)), scales.y(levelDb.value)),
      ]),
      ...held.flatMap((one) => [
        uncertaintyBar(one.x, one.level, scales),
        mark(one.atLeast ? 'open' : 'square', scales.x(one.x), scales.y(one.level.value)),
      ]),
    ],
  });
}
