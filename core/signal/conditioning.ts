import type { Rectification, SampleRange, Waveform } from '../capture/waveform.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import { type BandPass, bandPass, bandPassOf } from './band-pass.ts';
import { type Baseline, baselineOf } from './baseline.ts';
import { carrierOf } from './carrier.ts';
import { deadZoneEndUs } from './dead-zone.ts';
import { detectedNoise } from './detected-noise.ts';
import { envelopeOf, extend } from './envelope.ts';
import { envelopeIn, transformSize } from './fft.ts';
import { conditionInBlocks, longestWhole } from './long-record.ts';
import { envelopeNoise, noiseOf, noiseTrend, quietRuns } from './noise.ts';
import { resolutionOf, saturatedRuns } from './saturation.ts';
import { WorkSpace } from './work-space.ts';

/** How a capture becomes a trace: data, so that it can be saved, shown and repeated. */
export interface ConditioningRecipe {
  /** What is taken out as base line before anything else. A rectified record keeps its base line, which is its zero level. */
  readonly baseline: 'none' | 'mean' | 'linear';
  /** Zero-phase Butterworth band-pass; `order` is that of one pass, forward and backward double it. */
  readonly bandPass: { readonly lowMHz: number; readonly highMHz: number; readonly order: number } | null;
  /**
   * `extend`: the record is extended by odd reflection before filter and envelope and cropped after, so that the main bang does not wrap round.
   * `none`: padded with zeros to the next power of two only (what a plain script does).
   */
  readonly padding: 'extend' | 'none';
  /** How the time of a peak is found between samples. */
  readonly peak: 'log-parabola' | 'three-point';
}

export { defaultRecipe } from './default-recipe.ts';

/**
 * A conditioned trace, in % of full screen height. `samples` is what a screen would draw (RF, or rectified where the record is);
 * `envelope` is what echoes are found and timed on.
 */
export interface Trace {
  readonly startUs: number;
  readonly stepUs: number;
  readonly samples: Float64Array;
  readonly envelope: Float64Array;
  readonly rectification: Rectification;
  /** Standard deviation of the noise in %, from the quiet part of the record; `null` where there is none. */
  readonly noisePercent: number | null;
  /** The quiet part: main bang and echoes left out. Empty where there is none. */
  readonly quiet: readonly SampleRange[];
  /** One count of the converter in %, from the raw record; `null` where all samples are equal. */
  readonly resolutionPercent: number | null;
  /** Runs of samples cut off by screen or converter, in the raw record. */
  readonly saturated: readonly SampleRange[];
  /** Until when the main bang rings; `null` where the record has no main bang. */
  readonly deadZoneEndUs: number | null;
  /** The record before its band-pass; `null` where it went through none. */
  readonly unfiltered: Unfiltered | null;
  /** What was done. */
  readonly recipe: ConditioningRecipe;
}

/** A raw record, and what brings a sample of it to % FSH about its base line. */
export interface Unfiltered {
  readonly raw: Waveform;
  readonly percentPerUnit: number;
  readonly base: Baseline;
}

/** Fewer samples than this are no record to condition. */
export const fewestSamples = 8;

/** Highest order of one pass: beyond it the sections' rounding is no longer small. */
const highestOrder = 10;

/**
 * A waveform and a recipe give a trace. In order: zero level and unit, base line, band-pass, envelope; then what must
 * be known to trust it: saturation (on the raw samples), noise, dead zone.
 *
 * @param waveform finite samples on a uniform axis (import sees to both)
 * @returns a trace of as many samples, or problems: `full-screen-unknown`, `too-few-samples`, `band-outside-range`,
 * `order-outside-range`, `rectified-band-pass`. Their place has no file: the caller knows it.
 */
export function condition(waveform: Waveform, recipe: ConditioningRecipe): Outcome<Trace> {
  const problems = problemsOf(waveform, recipe);
  if (problems.length > 0) return failure(...problems);
  const { samples: raw, startUs, stepUs, rectification } = waveform;
  const percentPerUnit = 100 / (waveform.fullScreen as number);
  const resolution = resolutionOf(raw);
  const saturated = saturatedRuns(waveform, resolution);
  const resolutionPercent = resolution === null ? null : resolution * percentPerUnit;
  const done = rectification === 'rf' ? recipe : { ...recipe, baseline: 'none' as const };
  const band = done.bandPass;
  const filter = band && bandPassOf(band.lowMHz, band.highMHz, band.order, 1 / stepUs);

  const { samples, carrier, envelope, base } =
    raw.length > longestWhole && rectification === 'rf'
      ? conditionLong(waveform, percentPerUnit, done, filter)
      : conditionWhole(waveform, percentPerUnit, done, filter);

  // Of the converter's rounding, which is white, the filter passes its band's part.
  const passed = band ? Math.sqrt((band.highMHz - band.lowMHz) * 2 * stepUs) : 1;
  const rounding = (resolutionPercent ?? 0) * passed;
  const level = envelopeNoise(envelope, rounding);
  const deadZone = deadZoneEndUs(envelope, startUs, stepUs, level);
  const afterBang = deadZone === null ? 0 : Math.max(0, Math.ceil((deadZone - startUs) / stepUs));
  const quiet = level === null ? [] : quietRuns(envelope, afterBang, noiseTrend(envelope, afterBang, level));
  return success({
    startUs,
    stepUs,
    samples,
    envelope,
    rectification,
    noisePercent:
      rectification === 'envelope' ? detectedNoise(envelope, quiet, rounding) : noiseOf(carrier, quiet, rounding),
    quiet,
    resolutionPercent,
    saturated,
    deadZoneEndUs: deadZone,
    unfiltered: filter && { raw: waveform, percentPerUnit, base },
    recipe: done,
  });
}

interface Conditioned {
  readonly samples: Float64Array;
  /** The RF that the envelope belongs to; the samples themselves where those are RF. */
  readonly carrier: Float64Array;
  readonly envelope: Float64Array;
  /** What was taken out, in %. */
  readonly base: Baseline;
}

const passing = new WorkSpace();

function conditionWhole(
  waveform: Waveform,
  percentPerUnit: number,
  recipe: ConditioningRecipe,
  filter: BandPass | null,
): Conditioned {
  const { rectification } = waveform;
  const isFinal = rectification !== 'rf' || (recipe.padding === 'none' && filter === null);
  const count = waveform.samples.length;
  const percent = isFinal ? new Float64Array(count) : passing.take(count);
  toPercentInto(percent, waveform, percentPerUnit);
  const base = baselineOf(percent, rectification === 'envelope' ? 'none' : recipe.baseline);
  if (rectification === 'envelope') return { samples: percent, carrier: percent, envelope: percent, base };
  takeOutInto(percent, base);
  if (recipe.padding === 'none') {
    const samples = filter ? bandPass(percent, filter) : percent;
    const carrier = carrierOf(samples, rectification);
    return { samples, carrier, envelope: envelopeOf(carrier), base };
  }
  const extended = extend(carrierOf(percent, rectification));
  const filtered = filter ? bandPass(extended.samples, filter) : extended.samples;
  const carrier = filtered.slice(extended.before, extended.before + percent.length);
  const envelope = envelopeIn(filtered, extended.before, percent.length, transformSize(filtered.length));
  return { samples: rectification === 'rf' ? carrier : percent, carrier, envelope, base };
}

function conditionLong(
  waveform: Waveform,
  percentPerUnit: number,
  recipe: ConditioningRecipe,
  filter: BandPass | null,
): Conditioned {
  const inUnit = baselineOf(waveform.samples, recipe.baseline);
  const base: Baseline =
    recipe.baseline === 'none'
      ? inUnit
      : {
          origin: inUnit.origin,
          level: (inUnit.level - waveform.zeroLevel) * percentPerUnit,
          slope: inUnit.slope * percentPerUnit,
        };
  const { samples, envelope } = conditionInBlocks(waveform, percentPerUnit, base, filter);
  return { samples, carrier: samples, envelope, base };
}

function toPercentInto(percent: Float64Array, waveform: Waveform, percentPerUnit: number): void {
  const { samples, zeroLevel } = waveform;
  for (let i = 0; i < percent.length; i++) percent[i] = (samples[i] - zeroLevel) * percentPerUnit;
}

function takeOutInto(samples: Float64Array, { origin, level, slope }: Baseline): void {
  if (level === 0 && slope === 0) return;
  for (let i = 0; i < samples.length; i++) samples[i] -= level + slope * (i - origin);
}

function problemsOf(waveform: Waveform, recipe: ConditioningRecipe): Problem[] {
  const { samples, fullScreen, stepUs, rectification } = waveform;
  const band = recipe.bandPass;
  const problems: Problem[] = [];
  const report = (code: string, sentence: string) => problems.push(problem(code, { file: '' }, sentence));
  if (fullScreen === null || !(fullScreen > 0)) {
    report(
      'full-screen-unknown',
      'The amplitude that fills the screen is not known, so nothing can be given in % of full screen height: state it with --amplitude-unit and --full-screen.',
    );
  }
  if (samples.length < fewestSamples) {
    report(
      'too-few-samples',
      `The trace has ${samples.length} ${samples.length === 1 ? 'sample' : 'samples'}, and at least ${fewestSamples} are needed: capture a longer range.`,
    );
  }
  if (!band) return problems;
  const nyquistMHz = 0.5 / stepUs;
  if (!(band.lowMHz > 0 && band.lowMHz < band.highMHz && band.highMHz < nyquistMHz)) {
    report(
      'band-outside-range',
      `The band-pass from ${band.lowMHz} to ${band.highMHz} MHz does not lie between 0 and ${Number(nyquistMHz.toPrecision(6))} MHz, half this trace's sampling rate: choose edges inside, the lower one first.`,
    );
  }
  if (!(Number.isInteger(band.order) && band.order >= 1 && band.order <= highestOrder)) {
    report(
      'order-outside-range',
      `The band-pass has the order ${band.order}: use a whole number from 1 to ${highestOrder}.`,
    );
  } else if (samples.length <= 3 * (2 * band.order + 1) && samples.length >= fewestSamples) {
    report(
      'too-few-samples',
      `The trace has ${samples.length} samples, and a band-pass of order ${band.order} needs more than ${3 * (2 * band.order + 1)}: capture a longer range, or take the band-pass out.`,
    );
  }
  if (rectification !== 'rf') {
    report(
      'rectified-band-pass',
      'A band-pass needs the carrier, and this trace is rectified: take the band-pass out, or export the trace as RF.',
    );
  }
  return problems;
}
