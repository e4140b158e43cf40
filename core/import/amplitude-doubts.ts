import type { AmplitudeUnit, Rectification } from '../capture/waveform.ts';
import { type Problem, problem } from '../outcome.ts';
import type { Shape } from './amplitudes.ts';
import type { TraceColumn } from './columns.ts';
import type { ImportRecipe } from './import-recipe.ts';

/**
 * Amplitudes that are not what they are said to be, or of which the file does not say enough. What a person has stated is taken, and mentioned; what
 * only the file states is asked about. Where the bounds lie is a judgement of our own, common practice at its best: they stand in the README.
 */
export interface AmplitudeDoubts {
  readonly asks: readonly Problem[];
  readonly warnings: readonly Problem[];
}

/** One column as it was taken: samples and shape in the unit it is kept in. */
interface Taken {
  readonly file: string;
  readonly column: TraceColumn;
  readonly samples: Float64Array;
  readonly shape: Shape;
  readonly recipe: ImportRecipe;
}

/** Fewer samples tell nothing of a base line, nor of a waveform. */
const fewestSamples = 16;

const nothing: AmplitudeDoubts = { asks: [], warnings: [] };

function doubt(isAsked: boolean, code: string, { file }: Taken, sentence: string, answer: string): AmplitudeDoubts {
  return isAsked
    ? { asks: [problem(code, { file }, `${sentence} ${answer}`)], warnings: [] }
    : { asks: [], warnings: [problem(code, { file }, sentence)] };
}

/** A gain, a position, a time: one value throughout, or values that only ever rise or fall. Sound swings. */
export function noWaveformDoubts(taken: Taken): AmplitudeDoubts {
  const { column, samples, shape, recipe } = taken;
  const { lowest, highest } = shape;
  if (samples.length < fewestSamples) return nothing;
  const isAsked = !column.isStated && recipe.columns.amplitudes === null && lowest !== 0;
  const answer = 'Name the columns that are amplitudes (--amplitude-columns).';
  if (lowest === highest) {
    const sentence = `‘${column.name}’ is ${short(lowest)} on every row: a setting such as a gain, or a trace without signal.`;
    return doubt(isAsked, 'flat-column', taken, sentence, answer);
  }
  if (!movesOneWay(samples)) return nothing;
  const sentence = `‘${column.name}’ only ever ${samples[0] < samples[samples.length - 1] ? 'rises' : 'falls'}, from ${short(samples[0])} to ${short(samples[samples.length - 1])}: a gain, a position or a time, and no waveform.`;
  return doubt(!column.isStated && recipe.columns.amplitudes === null, 'one-way-column', taken, sentence, answer);
}

function movesOneWay(samples: Float64Array): boolean {
  let rises = false;
  let falls = false;
  for (let i = 1; i < samples.length; i++) {
    if (samples[i] > samples[i - 1]) rises = true;
    else if (samples[i] < samples[i - 1]) falls = true;
    if (rises && falls) return false;
  }
  return true;
}

/** Instruments keep some heights beyond the screen, but not such. */
const mostPercentUsual = 200;
const mostPercent = 1000;
/** The highest against the root mean square: noise alone stays below (4.4 for 10⁵ samples of normal noise), a record with echoes above. */
const crestOfEchoes = 6;

/** Heights that fit another unit better: fractions under %, counts under % or volts, % under fractions. */
export function unitDoubts(
  taken: Taken,
  unit: AmplitudeUnit | null,
  fullScreen: number | null,
  zeroLevel: number,
): AmplitudeDoubts {
  const { column, samples, shape, recipe } = taken;
  if (unit === null || samples.length < fewestSamples) return nothing;
  const highest = Math.max(shape.highest - zeroLevel, zeroLevel - shape.lowest);
  const isPercent = unit === 'percent';
  const isAsked = isPercent ? recipe.amplitudeUnit === null : recipe.fullScreen === null;
  const answer = isPercent
    ? `State its unit (--amplitude-unit ${column.unit === 'fraction' ? 'fraction' : 'percent'} takes it as it stands; or volt, count, ${column.unit === 'fraction' ? 'percent' : 'fraction'}).`
    : 'State what 100 % of full screen is (--full-screen).';
  const height = fullScreen === null || !(fullScreen > 0) ? 0 : (highest / fullScreen) * 100;
  if (height > mostPercent || (column.unit === 'fraction' && height > mostPercentUsual)) {
    const stated = column.unit === 'fraction' ? 'a fraction of full scale' : isPercent ? 'in %' : `in ${unit}s`;
    const sentence = `‘${column.name}’ is said to be ${stated}, but would reach ${short(height)} % of full screen.`;
    return doubt(isAsked, 'implausible-amplitude', taken, sentence, answer);
  }
  if (height > mostPercentUsual) {
    const sentence = `‘${column.name}’ reaches ${short(height)} % of full screen. Check its unit.`;
    return doubt(false, 'unusual-amplitude', taken, sentence, '');
  }
  if (column.unit !== 'percent' || highest === 0 || highest > 1) return nothing;
  const sentence = `‘${column.name}’ is said to be in %, but never goes beyond ${short(highest)} %: it may be a fraction of full scale (1 = 100 %).`;
  const hasEchoes = highest / rootMeanSquare(samples, zeroLevel) > crestOfEchoes;
  return doubt(isAsked && hasEchoes, 'fraction-under-percent', taken, sentence, answer);
}

function rootMeanSquare(samples: Float64Array, zeroLevel: number): number {
  let sum = 0;
  for (let i = 0; i < samples.length; i++) sum += (samples[i] - zeroLevel) ** 2;
  return Math.sqrt(sum / samples.length);
}

/** A record on one side of zero that stays this share of its height away from it, or whose mean lies so high, has an offset. */
const clearOfZero = 0.1;
const meanOfOffset = 0.35;
/** An offset smaller than this share of full screen is no matter: the noise of a rectified record lies as high. */
const leastOffset = 0.03;
/** One side of a record is an offset of the converter below the first share of the other, and a half wave above the second. */
const materialShare = 0.02;
const halfWaveShare = 0.15;

/** Where the base line lies, and whether the record is rectified, where neither the file nor a person says so and the samples leave it open. */
export function baseLineDoubts(
  taken: Taken,
  stated: Rectification | null,
  zeroStated: number | null,
  fullScreen: number | null,
): AmplitudeDoubts {
  const { column, samples, shape } = taken;
  const { lowest, highest, mean } = shape;
  if (samples.length < fewestSamples || lowest === highest) return nothing;
  if (zeroStated === null) {
    const isBelow = highest <= 0;
    const [near, far, middle] = isBelow ? [-highest, -lowest, -mean] : [lowest, highest, mean];
    const isOneSided = near >= 0;
    const isHigh = near > clearOfZero * far || (middle - near) / (far - near) > meanOfOffset;
    const isAway = isHigh && (fullScreen === null || middle > leastOffset * fullScreen);
    if (isOneSided && stated === 'rf' && !isAway) {
      const sentence = `‘${column.name}’ is said to be RF, but never goes ${isBelow ? 'above' : 'below'} its base line. Check which is right.`;
      return doubt(false, 'rectification-contradicts', taken, sentence, '');
    }
    if (isOneSided && isAway && (stated === 'rf' || stated === null)) {
      const sentence = `‘${column.name}’ stays ${isBelow ? 'below' : 'above'} zero, between ${short(lowest)} and ${short(highest)} with a mean of ${short(mean)}, as RF with an offset does.`;
      return doubt(
        true,
        'base-line-not-stated',
        taken,
        sentence,
        `State its base line (--zero-level ${short(mean)} if it is RF about its mean), or how it is rectified (--rectification full).`,
      );
    }
  }
  if (stated !== null) return nothing;
  const zero = zeroStated ?? 0;
  const below = zero - lowest;
  const above = highest - zero;
  const isUpward = above > below;
  const share = (isUpward ? below : above) / Math.max(below, above);
  if (share > halfWaveShare || (share <= 0 && isUpward)) return nothing;
  const swings = swingsAbout(samples, zero, isUpward ? -below : above);
  // What is taken where nothing is asked: RF above the material share and below it on the far side, rectified else.
  if (share > materialShare || !isUpward ? swings : !swings) return nothing;
  const sentence =
    share <= 0
      ? `‘${column.name}’ never goes above its base line: negative half waves, or a rectified record upside down.`
      : `‘${column.name}’ goes ${short(above)} above its base line and ${short(below)} below: RF, or rectified with an offset.`;
  // Volts come from oscilloscopes, which record what there is: that is RF unless something says otherwise.
  const isVolt = column.unit === 'volt';
  const answer = 'State which (--rectification rf, full, positive or negative).';
  return doubt(
    !isVolt,
    'rectification-doubtful',
    taken,
    isVolt ? `${sentence} It was taken as ${share > materialShare || !isUpward ? 'RF' : 'rectified'}.` : sentence,
    answer,
  );
}

/**
 * Does a record swing about zero on its small side? RF does, with many samples on either side and few near the extreme; one that is
 * rectified, with an offset, rests there.
 * @param extreme the farthest on the small side, from zero
 */
function swingsAbout(samples: Float64Array, zero: number, extreme: number): boolean {
  let onSide = 0;
  let farOut = 0;
  const sign = Math.sign(extreme);
  for (let i = 0; i < samples.length; i++) {
    const out = (samples[i] - zero) * sign;
    if (out > 0) onSide++;
    if (out > Math.abs(extreme) / 2) farOut++;
  }
  return extreme !== 0 && onSide > samples.length / 8 && farOut < onSide / 2;
}

function short(value: number): string {
  return String(Number(value.toPrecision(4)));
}
