import type { AmplitudeUnit, Rectification } from '../capture/waveform.ts';
import { log2, power } from '../elementary/exponential.ts';
import { type Problem, problem } from '../outcome.ts';
import { type AmplitudeDoubts, baseLineDoubts, noWaveformDoubts, unitDoubts } from './amplitude-doubts.ts';
import type { TraceColumn } from './columns.ts';
import type { Facts } from './facts.ts';
import type { ImportRecipe } from './import-recipe.ts';

/** What the samples of one trace are, and what is doubtful about it. */
export interface Amplitudes {
  readonly samples: Float64Array;
  readonly amplitudeUnit: AmplitudeUnit | null;
  readonly fullScreen: number | null;
  readonly zeroLevel: number;
  readonly rectification: Rectification;
  readonly asks: readonly Problem[];
  readonly warnings: readonly Problem[];
}

/** Rectified records may dip below zero by this share of their height: an offset of the converter, no half wave. */
const materialShare = 0.02;
/** How near mid-scale the mean of unsigned RF counts lies, as a share of mid-scale. */
const midScaleShare = 0.05;

/** Lowest, highest and mean sample, as the file has them. */
export interface Shape {
  readonly lowest: number;
  readonly highest: number;
  readonly mean: number;
}

/** `samples` are scaled in place: they are the import's own. */
export function amplitudesOf(
  file: string,
  column: TraceColumn,
  samples: Float64Array,
  asWritten: Shape,
  facts: Facts,
  recipe: ImportRecipe,
): Amplitudes {
  const asks: Problem[] = [];
  const warnings: Problem[] = [];
  if (column.unit === 'fraction') {
    warnings.push(
      problem(
        'fraction-to-percent',
        { file },
        `‘${column.name}’ is a fraction of full scale; it was multiplied by 100 to give %.`,
      ),
    );
  }
  const factor = column.unit === 'fraction' ? 100 : column.scale;
  scale(samples, factor);
  const shape = {
    lowest: asWritten.lowest * factor,
    highest: asWritten.highest * factor,
    mean: asWritten.mean * factor,
  };
  const unit = column.unit === 'fraction' ? 'percent' : column.unit;
  if (unit === null) {
    asks.push(
      problem(
        'amplitude-unit-not-stated',
        { file },
        `The file does not say the unit of ‘${column.name}’. State it (--amplitude-unit percent, volt, count or fraction).`,
      ),
    );
  }
  const stated100 = fullScreenOf(unit, column, facts, recipe);
  if (stated100 === null && unit !== null) {
    asks.push(
      problem(
        'full-screen-not-stated',
        { file },
        `‘${column.name}’ is in ${unit === 'count' ? 'counts' : 'volts'}, and the file does not say how many are 100 % of full screen. State it (--full-screen ${unit === 'count' ? '2048' : '1.0'}).`,
      ),
    );
  }
  if (column.scale !== 1 && recipe.fullScreen === null && facts.fullScreen !== null && facts.fullScreen.unit === null) {
    const sentence = `The full scale has no unit; it was taken in that of ‘${column.name}’.`;
    warnings.push(problem('full-screen-unit-assumed', { file }, sentence));
  }
  const taken = { file, column, samples, shape, recipe };
  const noWaveform = noWaveformDoubts(taken);
  const stated = column.rectification;
  const zeroStated = recipe.zeroLevel ?? facts.zeroLevel;
  const midScale =
    unit === 'count' && zeroStated === null && (stated === null || stated === 'rf') ? midScaleOf(shape) : null;
  const zeroLevel = zeroStated ?? midScale ?? 0;
  if (midScale !== null) {
    warnings.push(
      problem(
        'zero-at-mid-scale',
        { file },
        `‘${column.name}’ holds unsigned counts around mid-scale; ${midScale} was taken as its base line, and the record as RF.`,
      ),
    );
  }
  const fullScreen = deflection(file, column.name, stated100, midScale, recipe.fullScreen !== null, warnings);
  const rectification = stated ?? inferRectification(shape, zeroLevel);
  const doubts: AmplitudeDoubts[] = [noWaveform];
  // What is no waveform has no base line to ask for.
  if (noWaveform.asks.length === 0) {
    doubts.push(unitDoubts(taken, unit, fullScreen, zeroLevel));
    if (midScale === null && unit !== null) doubts.push(baseLineDoubts(taken, stated, zeroStated, fullScreen));
  }
  for (const doubt of doubts) {
    asks.push(...doubt.asks);
    warnings.push(...doubt.warnings);
  }
  if (stated === null && midScale === null && rectification === 'full') {
    warnings.push(
      problem(
        'rectification-inferred',
        { file },
        `‘${column.name}’ never goes below its base line; it was taken as full-wave rectified. If it is of another kind, state it (--rectification positive, for one).`,
      ),
    );
  }
  if (stated !== null && stated !== 'rf' && inferRectification(shape, zeroLevel) === 'rf') {
    warnings.push(
      problem(
        'rectification-contradicts',
        { file },
        `‘${column.name}’ is said to be rectified (${stated}), but it goes to both sides of its base line. Check which is right.`,
      ),
    );
  }
  return { samples, amplitudeUnit: unit, fullScreen, zeroLevel, rectification, asks, warnings };
}

/** A division where the factor is a decimal fraction: 250 mV is then exactly 0.25 V. */
function scale(samples: Float64Array, factor: number): void {
  if (factor === 1) return;
  if (factor < 1) {
    const divisor = Math.round(1 / factor);
    for (let i = 0; i < samples.length; i++) samples[i] /= divisor;
  } else {
    for (let i = 0; i < samples.length; i++) samples[i] *= factor;
  }
}

function fullScreenOf(
  unit: AmplitudeUnit | null,
  column: TraceColumn,
  facts: Facts,
  recipe: ImportRecipe,
): number | null {
  if (unit === 'percent') return 100;
  if (recipe.fullScreen !== null) return recipe.fullScreen;
  if (facts.fullScreen === null || unit === null) return null;
  if (facts.fullScreen.unit === null) return facts.fullScreen.value * column.scale;
  return facts.fullScreen.unit === unit ? facts.fullScreen.value : null;
}

/**
 * Full screen is the deflection from the base line. A file that states the range of its converter (4096 for counts around 2048)
 * means both half waves, so that its upper half is the deflection; what a person states is taken as it is.
 */
function deflection(
  file: string,
  name: string,
  fullScreen: number | null,
  midScale: number | null,
  isTold: boolean,
  warnings: Problem[],
): number | null {
  if (fullScreen === null || midScale === null || fullScreen <= 1.5 * midScale) return fullScreen;
  if (isTold) {
    const sentence = `Full screen of ‘${name}’ was told to be ${fullScreen} counts from the base line at ${midScale}, farther than its converter reaches. Check that it is not the whole range.`;
    warnings.push(problem('full-screen-out-of-range', { file }, sentence));
    return fullScreen;
  }
  const half = fullScreen - midScale;
  const sentence = `The full scale of ‘${name}’, ${fullScreen}, was taken as the range of its converter: full screen is ${half} counts from the base line at ${midScale}.`;
  warnings.push(problem('full-scale-of-converter', { file }, sentence));
  return half;
}

function inferRectification({ lowest, highest }: Shape, zeroLevel: number): Rectification {
  const below = zeroLevel - lowest;
  const above = highest - zeroLevel;
  return below > 0 && below > materialShare * above ? 'rf' : 'full';
}

/** Half of the smallest power of two that holds all counts, where the mean lies near it and samples lie on both sides. */
function midScaleOf({ lowest, highest, mean }: Shape): number | null {
  if (lowest < 0 || highest < 4 || lowest === highest) return null;
  const middle = power(2, Math.floor(log2(highest)));
  const isNear = Math.abs(mean - middle) <= midScaleShare * middle;
  return isNear && lowest < middle && highest > middle ? middle : null;
}
